import { expect, it } from 'vitest';
import flow from '../../../test/published/flow-width.json' with { type: 'json' };
import oxide from '../../../test/published/oxide-thickness.json' with { type: 'json' };
import { recommendChart } from './recommend-chart.js';

const even = flow.subgroups;

it('means with ranges for small even subgroups that agree with each other', () => {
  // Flow width (Montgomery, table 6.1) is charted by means and ranges there.
  expect(recommendChart({ subgroups: even, members: 'pieces' })).toMatchObject({ chart: 'xbar-r', reason: 'small-even-subgroups', sizes: { least: 5, most: 5 } });
});

it('means with sds once subgroups are uneven or large', () => {
  expect(recommendChart({ subgroups: [even[0]?.slice(1) ?? [], ...even.slice(1)], members: 'pieces' })).toMatchObject({ chart: 'xbar-s', reason: 'large-or-uneven-subgroups', sizes: { least: 4, most: 5 } });
  const large = Array.from({ length: 12 }, (_, check) => [...(even[2 * check] ?? []), ...(even[2 * check + 1] ?? []), 1.5]);
  expect(recommendChart({ subgroups: large, members: 'pieces' })).toMatchObject({ chart: 'xbar-s', sizes: { least: 11, most: 11 } });
});

it('single readings are individuals, whatever they were called', () => {
  for (const members of ['pieces', 'positions'] as const) {
    expect(recommendChart({ subgroups: [[1], [null, 2], [3], []], members })).toEqual({ chart: 'i-mr', reason: 'single-readings', sizes: { least: 1, most: 1 }, between: null });
  }
});

it('places on one piece are no rational subgroup', () => {
  expect(recommendChart({ subgroups: even, members: 'positions' })).toMatchObject({ chart: 'between-within', reason: 'positions-of-one-piece' });
});

it('checks that differ by far more than their spread are charted between and within', () => {
  // Runs of the oxide furnace (NIST e-Handbook 3.5.1.4): the run component is the largest.
  const { between, ...said } = recommendChart({ subgroups: oxide.readings.map((zones) => zones.flat()), members: 'pieces' });
  expect(said).toMatchObject({ chart: 'between-within', reason: 'checks-differ-by-more-than-their-spread' });
  expect(between?.share).toBeGreaterThan(0.45);
  expect(between?.p).toBeLessThan(1e-10);
});

it('several products are charted from their nominals before anything else', () => {
  expect(recommendChart({ subgroups: even, members: 'positions', products: 2 })).toMatchObject({ chart: 'deviation-from-nominal', reason: 'several-products' });
});

it('refuses checks without readings and numbers that are none', () => {
  expect(() => recommendChart({ subgroups: [[], [null]], members: 'pieces' })).toThrow('recommendChart: needs at least 1 check with a reading, 0 given');
  expect(() => recommendChart({ subgroups: [[1, Number.NaN]], members: 'pieces' })).toThrow('NaN given at 2');
  expect(() => recommendChart({ subgroups: [[1]], members: 'pieces', products: 0 })).toThrow('whole number of products');
});
