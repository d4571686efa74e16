import { expect, it } from 'vitest';
import { inSpan, isQuiet, minuteOfDay, type ToldHours, weekdayOf, withheldAt } from './told-hours.js';

const ZONE = 'Europe/Lisbon';
const everyDay = [1, 2, 3, 4, 5, 6, 7];
const workdays = [1, 2, 3, 4, 5];
const always: ToldHours = { shift: null, shifts: [], days: everyDay, quiet: null };
const at = (rules: Partial<ToldHours>, moment: string, shifts: Parameters<typeof withheldAt>[1] = []) => withheldAt({ ...always, ...rules }, shifts, new Date(moment), ZONE);
const span = (from: string, until: string) => { const minute = (text: string) => Number(text.slice(0, 2)) * 60 + Number(text.slice(3)); return { from: minute(from), until: minute(until) }; };

it('reads minutes and days off the plant’s clock, in summer and in winter', () => {
  expect(minuteOfDay(new Date('2026-07-01T21:30:00Z'), ZONE)).toBe(22 * 60 + 30);
  expect(minuteOfDay(new Date('2026-01-01T00:05:00Z'), ZONE)).toBe(5);
  expect(inSpan(480, { from: 480, until: 960 }) && !inSpan(960, { from: 480, until: 960 })).toBe(true);
  // 2026-03-02 is a Monday.
  expect(weekdayOf(new Date('2026-03-02T04:30:00Z'), 'America/New_York')).toBe(7);
  expect(weekdayOf(new Date('2026-03-02T05:00:00Z'), 'America/New_York')).toBe(1);
});

it('tells on the chosen days, and of hours over midnight by the day on which they begin', () => {
  expect([at({ days: workdays }, '2026-03-06T11:40:00Z'), at({ days: workdays }, '2026-03-07T11:40:00Z'), at({ days: workdays }, '2026-03-09T00:00:00Z')]).toEqual([null, 'off-day', null]);
  const night = { shift: span('22:00', '06:00'), days: workdays };
  const said = ['06T23:00', '07T05:00', '07T23:00', '08T01:00', '09T01:00', '10T01:00', '10T12:00', '09T22:00', '10T06:00'].map((time) => at(night, `2026-03-${time}:00Z`));
  expect(said).toEqual([null, null, 'off-day', 'off-day', 'off-day', null, 'off-hours', null, 'off-hours']);
});

it('is quiet inside the hours only, over midnight too', () => {
  const rules = { shift: span('20:00', '08:00'), quiet: span('22:00', '06:00') };
  expect(['19:59', '20:00', '21:59', '22:00', '23:59'].map((time) => at(rules, `2026-03-03T${time}:00Z`))).toEqual(['off-hours', null, null, 'quiet', 'quiet']);
  expect(['00:00', '05:59', '06:00', '08:00'].map((time) => at(rules, `2026-03-04T${time}:00Z`))).toEqual(['quiet', 'quiet', null, 'off-hours']);
});

it('follows the shifts of the plant: their hours and days as they stand, together with the chosen days', () => {
  const early = { name: 'Early', beginMinute: 6 * 60, endMinute: 14 * 60, days: workdays };
  const night = { name: 'Night', beginMinute: 22 * 60, endMinute: 6 * 60, days: [7, 1, 2, 3, 4] };
  const both = { shifts: ['Early', 'Night'] };
  expect(['02T05:59', '02T06:00', '02T14:00', '02T22:00', '03T05:00', '06T23:00', '07T08:00', '08T23:00'].map((time) => at(both, `2026-03-${time}:00Z`, [early, night]))).toEqual([null, null, 'off-hours', null, null, 'off-day', 'off-day', null]);
  expect(at({ shifts: ['Early'] }, '2026-03-02T05:30:00Z', [early, night])).toBe('off-hours');
  expect(at({ shifts: ['Early'] }, '2026-03-02T05:30:00Z', [{ ...early, beginMinute: 5 * 60 }, night])).toBeNull();
  expect(at({ ...both, days: [2] }, '2026-03-03T05:00:00Z', [early, night]), 'the night of Monday').toBe('off-day');
  // A shift that is not set up any more must not make anybody unreachable.
  expect(at({ shifts: ['Early', 'Late'] }, '2026-03-02T23:00:00Z', [early, night])).toBeNull();
  expect(at({ shifts: ['Early', 'Late'], days: [2], quiet: span('22:00', '06:00') }, '2026-03-02T23:00:00Z', [early, night])).toBe('off-day');
});

it('goes by the clock where it is changed: an hour that is left out is not quiet, and one that comes twice is quiet twice', () => {
  // Lisbon 2026: on 29 March 01:00 becomes 02:00 (01:00 UTC); on 25 October 02:00 becomes 01:00 (01:00 UTC).
  const short = span('00:30', '01:30');
  const spring = ['2026-03-29T00:29:00Z', '2026-03-29T00:30:00Z', '2026-03-29T00:59:00Z', '2026-03-29T01:00:00Z', '2026-03-29T01:30:00Z'];
  expect(spring.map((moment) => isQuiet(short, new Date(moment), ZONE))).toEqual([false, true, true, false, false]);
  const autumn = ['2026-10-24T23:30:00Z', '2026-10-25T00:29:00Z', '2026-10-25T00:30:00Z', '2026-10-25T01:00:00Z', '2026-10-25T01:29:00Z', '2026-10-25T01:30:00Z'];
  expect(autumn.map((moment) => isQuiet(short, new Date(moment), ZONE))).toEqual([true, true, false, true, true, false]);
  // A night over the change: 22:00 to 06:00 is seven hours in spring and nine in autumn.
  const hours = (from: string, count: number) => Array.from({ length: count }, (_, index) => at({ shift: span('22:00', '06:00') }, new Date(Date.parse(from) + index * 3_600_000).toISOString())).filter((why) => why === null).length;
  expect([hours('2026-03-28T12:00:00Z', 24), hours('2026-10-24T12:00:00Z', 24), hours('2026-06-10T12:00:00Z', 24)]).toEqual([7, 9, 8]);
});
