import { expect, it } from 'vitest';
import reference from '../../../test/published/capability-reference.json' with { type: 'json' };
import { agrees } from '../../../test/published/agrees.js';
import { expectWithin } from '../../../test/published/within.js';
import { probabilityPlot } from './probability-plot.js';

const valuesOf = (name: string): readonly number[] => Object.freeze([...(reference.sets.find((set) => set.name === name)?.values ?? [])]);

it.each(reference.plots)('$family plot of $set, $position (SciPy 1.17)', (expected) => {
  const family = expected.family === 'weibull' ? 'weibull' : 'normal';
  const position = expected.position === 'blom' ? 'blom' : 'median-rank';
  const { points } = probabilityPlot(valuesOf(expected.set), family, { position, confidence: expected.confidence });
  const check = { method: 'Probability plot', source: 'SciPy 1.17 beta.ppf and quantiles of the fit' };
  points.forEach((point, i) => {
    agrees({ ...check, method: `Probability plot, positions (${position})` }, point.p, expected.p[i] ?? Number.NaN, { rel: 1e-10 }, `point ${i + 1}`);
    agrees({ ...check, method: `Probability plot, band (${family})` }, point.low, expected.low[i] ?? Number.NaN, { rel: 1e-7 }, `low ${i + 1}`);
    agrees({ ...check, method: `Probability plot, band (${family})` }, point.high, expected.high[i] ?? Number.NaN, { rel: 1e-7 }, `high ${i + 1}`);
    expectWithin(point.line, expected.line[i] ?? Number.NaN, { rel: 1e-7 }, `line ${i + 1}`);
  });
});

it('median ranks of five as in print: 0.1294, 0.3138, 0.5, 0.6862, 0.8706', () => {
  const { points } = probabilityPlot(Object.freeze([3, 1, 2, 5, 4]), 'normal');
  [0.1294, 0.3138, 0.5, 0.6862, 0.8706].forEach((p, i) => { agrees({ method: 'Probability plot, positions (median-rank)', source: 'Kapur & Lamberson, Reliability in Engineering Design, table of median ranks (from memory)' }, points[i]?.p, p, { abs: 6e-5 }, `rank ${i + 1}`); });
  expect(points.map(({ value, order }) => [order, value])).toEqual([[1, 1], [2, 2], [3, 3], [4, 4], [5, 5]]);
});

it('the line is straight against the score in the family that was fitted', () => {
  for (const [family, straighten] of [['normal', (x: number) => x], ['lognormal', Math.log], ['weibull', Math.log], ['gamma', (x: number) => x]] as const) {
    const { points } = probabilityPlot(valuesOf('ball bearings'), family);
    const [first, second] = [points[2], points[17]];
    const slope = (straighten(second?.line ?? 1) - straighten(first?.line ?? 1)) / ((second?.score ?? 1) - (first?.score ?? 0));
    for (const { line, score } of points) expectWithin(straighten(line), straighten(first?.line ?? 1) + slope * (score - (first?.score ?? 0)), { rel: 1e-8, abs: 1e-9 }, family);
  }
});

it('says how many lie outside the band: few where the family fits, many where it does not', () => {
  expect(probabilityPlot(valuesOf('ball bearings'), 'gamma').outside).toBe(0);
  expect(probabilityPlot(valuesOf('fibres'), 'lognormal').outside).toBeGreaterThan(15);
});

it('draws both ends whole and a part of very many', () => {
  const values = Float64Array.from({ length: 10_000 }, (_, i) => Math.sin(i) + 3);
  const { points, leftOut } = probabilityPlot(values, 'normal');
  expect([points.length, leftOut]).toEqual([500, 9500]);
  expect(points.map(({ order }) => order).every((order, i, all) => i === 0 || order > (all[i - 1] ?? 0))).toBe(true);
  expect([points[49]?.order, points[50]?.order, points[449]?.order, points[450]?.order, points[499]?.order]).toEqual([50, 51, 9950, 9951, 10_000]);
});

it('takes a known threshold and refuses values below it', () => {
  const values = valuesOf('ball bearings').map((value) => value + 100);
  const moved = probabilityPlot(values, 'weibull', { threshold: 100 });
  const plain = probabilityPlot(valuesOf('ball bearings'), 'weibull');
  moved.points.forEach((point, i) => { expectWithin(point.low - 100, plain.points[i]?.low ?? Number.NaN, { rel: 1e-8 }, 'band'); });
  expect(() => probabilityPlot([1, 2, -3, 4], 'weibull')).toThrow('value 3 of 4 is -3');
  expect(() => probabilityPlot([1, 2, 3], 'normal', { confidence: 0 })).toThrow('probabilityPlot: needs a confidence strictly between 0 and 1, 0 given');
  expect(() => probabilityPlot([1, 1, 1], 'normal')).toThrow('needs values that vary');
});
