/**
 * The code that the invented plant prints on its cans: line, two digits of the year with the day of the year, the time by
 * the plant's clock, and the half of a double-high body where there is one: `L1 25307 1432 A`.
 * @param at epoch milliseconds
 */
export function canCode(lineCode: string, laneCode: string | null, at: number, timeZone: string): string {
  const parts = new Map(new Intl.DateTimeFormat('en-GB', {
    timeZone, year: 'numeric', month: '2-digit', day: '2-digit', hour: '2-digit', minute: '2-digit', hourCycle: 'h23',
  }).formatToParts(at).map(({ type, value }) => [type, value]));
  const part = (type: Intl.DateTimeFormatPartTypes) => parts.get(type) ?? '';
  const year = Number(part('year'));
  const dayOfYear = (Date.UTC(year, Number(part('month')) - 1, Number(part('day'))) - Date.UTC(year, 0, 0)) / 86_400_000;
  const date = `${String(year % 100).padStart(2, '0')}${String(dayOfYear).padStart(3, '0')}`;
  return [lineCode, date, `${part('hour')}${part('minute')}`, ...(laneCode === null ? [] : [laneCode])].join(' ');
}
