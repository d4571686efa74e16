import type { PlanTakeOver } from '#contract/planner';

/** Where the interval of a check plan comes from, in one line of at most 200 characters: the figures that were seen when it was taken over. */
export function sourceOfInterval({ falseAlarmDays, shift, cansUntilSeen, hoursUntilSeen, tornDownPerDay }: PlanTakeOver['figures'], { unit, decimals }: { unit: string; decimals: number }, now: Date): string {
  const figure = (value: number | null, word: string) => (value === null ? `more ${word} than can be counted` : `${short(value)} ${word}`);
  return [
    `Planner ${now.toISOString().slice(0, 10)}: a shift of ${Number(shift.toFixed(decimals + 2))} ${unit} is seen after ${figure(cansUntilSeen, 'cans')} (${figure(hoursUntilSeen, 'h')}) on average`,
    `false alarm once in ${figure(falseAlarmDays, 'days')}`, `${short(tornDownPerDay)} cans torn down a day`,
  ].join('; ');
}

const short = (value: number) => String(Number(value.toPrecision(3)));
