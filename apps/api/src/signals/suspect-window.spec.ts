import { expect, it } from 'vitest';
import { suspectWindow, windowSpan } from './suspect-window.js';

const at = (minutes: number) => new Date(Date.UTC(2026, 2, 1, 9, minutes));
const facts = { lastGoodAt: at(30), nextGoodAt: at(90), stoppedAt: null, units: 1, lanes: 1 };
const perMinute = (from: number, to: number, good: number) => Array.from({ length: to - from }, (_, index) => ({ at: at(from + index).getTime(), minutes: 1, good }));

it('counts from the last good check to the next good one: 60 minutes of 960 a minute are 57,600 cans, 7,200 of one of eight heads', () => {
  const span = windowSpan(facts, at(60), at(60), at(600));
  expect(suspectWindow(span, perMinute(0, 120, 960), facts)).toMatchObject({ from: at(30).toISOString(), until: at(90).toISOString(), untilBasis: 'next-good-subgroup', cans: { counted: 57_600, atRisk: 57_600, atLeast: false, uncoveredMinutes: 0 } });
  expect(suspectWindow(span, perMinute(0, 120, 960), { ...facts, units: 8 }).cans).toMatchObject({ counted: 57_600, atRisk: 7_200, shareOf: 8 });
});

it('takes the next good check before the stop, the stop before now', () => {
  expect(windowSpan({ ...facts, stoppedAt: at(70) }, at(60), at(60), at(600)).untilBasis).toBe('next-good-subgroup');
  expect(windowSpan({ ...facts, nextGoodAt: null, stoppedAt: at(70) }, at(60), at(60), at(600))).toMatchObject({ untilBasis: 'stop', until: at(70) });
  expect(windowSpan({ ...facts, nextGoodAt: null }, at(60), at(60), at(600))).toMatchObject({ untilBasis: 'now', until: at(600) });
});

it('says "at least" where no good subgroup is known, and counts from the first point of the pattern', () => {
  const unknown = { ...facts, lastGoodAt: null };
  expect(suspectWindow(windowSpan(unknown, at(60), at(60), at(600)), perMinute(0, 120, 10), unknown)).toMatchObject({ from: null, cans: { counted: 300, atLeast: true } });
});

it('gives no number where nothing was counted, and says how long nothing was counted', () => {
  const span = windowSpan(facts, at(60), at(60), at(600));
  expect(suspectWindow(span, [], facts)).toMatchObject({ cans: null, noCans: 'no-counts' });
  expect(suspectWindow(span, perMinute(30, 50, 10), { ...facts, lanes: 3 }).cans).toEqual({ counted: 200, atRisk: 67, shareOf: 3, units: 1, lanes: 3, atLeast: false, uncoveredMinutes: 40 });
});

it('never ends before the signal did', () => {
  expect(windowSpan({ ...facts, nextGoodAt: null }, at(60), at(61), at(50)).until).toEqual(at(61));
});
