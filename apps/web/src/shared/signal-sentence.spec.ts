import { expect, it } from 'vitest';
import type { SignalRow } from '#contract/signals';
import { signalSentence } from './signal-sentence.js';

const say = (value: number) => `${value.toFixed(3)} mm`;
const limits = { mean: { lower: 1.712, centre: 1.75, upper: 1.788, sigma: 0.0126667 }, spread: { lower: 0, centre: 0.03, upper: 0.06 } };
const point = (mean: number | null, z: number | null, more: object = {}) => ({ at: '2026-03-01T08:00:00Z', mean, z, range: 0.07, sd: 0.02, n: 3, ...more });
const signal = (change: Partial<Pick<SignalRow, 'chart' | 'rule' | 'side' | 'seen'>> & { chartKind?: string }) => ({
  chart: 'mean' as const, rule: 'eight-in-a-row' as const, side: 'above' as const, seen: { limits, points: [...Array.from({ length: 7 }, () => point(1.76, 0.8)), point(1.781, 2.4)] }, stream: { chartKind: change.chartKind ?? 'xbar-r' }, ...change,
});

it('says a run: how many, which side, of which centre line, and the last mean with its limits', () => {
  expect(signalSentence(signal({}), say)).toEqual({ head: 'sentence.run.above', tail: 'sentence.lastMean', values: { count: 8, centre: '1.750 mm', last: '1.781 mm', lower: '1.712 mm', upper: '1.788 mm', line: '1.750 mm' } });
});

it('counts only the points that lie beyond the zone, on the side of the signal', () => {
  const points = [point(1.78, 2.3), point(1.72, -2.4), point(1.781, 2.4)];
  expect(signalSentence(signal({ rule: 'two-of-three', seen: { limits, points } }), say)).toMatchObject({ head: 'sentence.two.above', values: { count: 2, line: '1.775 mm' } });
  const low = [-1.5, -1.2, 0.4, -1.1, -1.3].map((z) => point(1.73, z));
  expect(signalSentence(signal({ rule: 'four-of-five', side: 'below', seen: { limits, points: low } }), say)).toMatchObject({ head: 'sentence.four.below', values: { count: 4, line: '1.737 mm' } });
});

it('calls a single reading a value, not a mean', () => {
  expect(signalSentence(signal({ rule: 'beyond-limits', seen: { limits, points: [point(1.9, 11, { n: 1 })] } }), say)).toMatchObject({ head: 'sentence.beyond.above', tail: 'sentence.lastValue' });
});

it('names the spread by its chart: range, standard deviation, or the step between two values', () => {
  const two = { limits, points: [point(1.7, null), point(1.78, null)] };
  expect(signalSentence(signal({ chart: 'spread', rule: 'beyond-limits', seen: two }), say)).toMatchObject({ head: 'sentence.range.above', tail: null, values: { last: '0.070 mm', upper: '0.060 mm', centre: '0.030 mm' } });
  expect(signalSentence(signal({ chart: 'spread', rule: 'beyond-limits', seen: two, chartKind: 'xbar-s' }), say)).toMatchObject({ head: 'sentence.sd.above', values: { last: '0.020 mm' } });
  expect(signalSentence(signal({ chart: 'spread', rule: 'beyond-limits', seen: two, chartKind: 'i-mr' }), say)).toMatchObject({ head: 'sentence.moving.above', values: { last: '0.080 mm' } });
});

it('says that numbers are missing rather than making any up', () => {
  for (const seen of [{ limits: null, points: [point(1.9, null)] }, { limits, points: [] }, { limits, points: [point(null, null)] }]) expect(signalSentence(signal({ seen }), say).head).toBe('sentence.noNumbers.above');
  expect(signalSentence(signal({ chart: 'spread', seen: { limits: { ...limits, spread: null }, points: [point(1.9, 1)] } }), say).head).toBe('sentence.noNumbers.above');
});

it('says patterns without a side as a whole, and which way a trend goes', () => {
  const points = Array.from({ length: 6 }, (_, i) => point(1.74 + i / 100, i / 3));
  expect(signalSentence(signal({ rule: 'six-in-a-trend', seen: { limits, points } }), say)).toMatchObject({ head: 'sentence.trend.above', tail: 'sentence.lastMean', values: { count: 6, last: '1.790 mm', line: '' } });
  expect(signalSentence(signal({ rule: 'fifteen-inside', side: 'both', seen: { limits, points: Array.from({ length: 15 }, () => point(1.751, 0.1)) } }), say)).toMatchObject({ head: 'sentence.inside.both', values: { count: 15, centre: '1.750 mm' } });
  expect(signalSentence(signal({ rule: 'eight-outside', side: 'both', seen: { limits, points } }), say).head).toBe('sentence.outside.both');
  expect(signalSentence(signal({ rule: 'nine-in-a-row', side: 'below', seen: { limits, points: Array.from({ length: 9 }, () => point(1.74, -0.5)) } }), say)).toMatchObject({ head: 'sentence.run.below', values: { count: 9 } });
});
