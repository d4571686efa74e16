import { expect, it } from 'vitest';
import published from '../../../test/published/attribute-charts.json' with { type: 'json' };
import { expectWithin } from '../../../test/published/within.js';
import { type AttributeChart, cChart, npChart, pChart } from './attribute.js';

const { wafers, defects } = published;
const positions = (chart: AttributeChart, side: 'above' | 'below') => chart.points.flatMap((point, i) => (point?.beyond === side ? [i + 1] : []));

it('proportions of defective chips (NIST/SEMATECH e-Handbook 6.3.3.2)', () => {
  const chart = pChart(Object.freeze([...wafers.defectives]), wafers.size);
  expectWithin(chart.centre, wafers.p.centre, wafers.tolerance, 'pbar');
  expectWithin(chart.points[0]?.lower, wafers.p.lower, wafers.tolerance, 'lower');
  expectWithin(chart.points[0]?.upper, wafers.p.upper, wafers.tolerance, 'upper');
  expect(positions(chart, 'above')).toEqual(wafers.p.above);
  expect(positions(chart, 'below')).toEqual([]);
});

it('numbers of defective chips give the same points', () => {
  const chart = npChart(Object.freeze([...wafers.defectives]), wafers.size);
  expectWithin(chart.centre, wafers.np.centre, wafers.tolerance, 'centre');
  expectWithin(chart.points[0]?.lower, wafers.np.lower, wafers.tolerance, 'lower');
  expectWithin(chart.points[0]?.upper, wafers.np.upper, wafers.tolerance, 'upper');
  expect(positions(chart, 'above')).toEqual(wafers.np.above);
});

it('limits widened for overdispersion (Laney 2002) leave no point out', () => {
  const chart = pChart(Object.freeze([...wafers.defectives]), wafers.size, 'laney');
  expectWithin(chart.sigmaZ, wafers.laney.sigmaZ, wafers.tolerance, 'sigma_z');
  expectWithin(chart.points[0]?.upper, wafers.laney.upper, wafers.tolerance, 'upper');
  expect(chart.points[0]?.lower).toBe(wafers.laney.lower);
  expect(positions(chart, 'above')).toEqual(wafers.laney.above);
});

it('defects on wafers: exact limits, and a point on the limit is no signal (NIST/SEMATECH e-Handbook 6.3.3.1)', () => {
  const chart = cChart(Object.freeze([...defects.counts]));
  expect([chart.centre, chart.points[0]?.lower, chart.points[0]?.upper]).toEqual([defects.centre, defects.lower, defects.upper]);
  expect(defects.counts[2]).toBe(defects.upper);
  expect(positions(chart, 'above')).toEqual(defects.above);
});

it('a missing sample has no point and changes no other', () => {
  const chart = pChart(Object.freeze([1, null, 3]), Object.freeze([10, 10, 30]));
  expect(chart.centre).toBe(0.1);
  expect(chart.points[1]).toBeNull();
});

it('each sample has the limits of its own size, cut at 0 and 1', () => {
  const chart = pChart(Object.freeze([95, 9]), Object.freeze([100, 10]));
  const p = 104 / 110;
  expectWithin(chart.points[0]?.lower, p - 3 * Math.sqrt((p * (1 - p)) / 100), { rel: 1e-12 }, 'lower of 100');
  expectWithin(chart.points[1]?.lower, p - 3 * Math.sqrt((p * (1 - p)) / 10), { rel: 1e-12 }, 'lower of 10');
  expect(chart.points.map((point) => point?.upper)).toEqual([1, 1]);
});

it('no defective at all leaves limits undefined, and says so by null', () => {
  const chart = pChart(Object.freeze([0, 0, 0]), 50, 'laney');
  expect(chart).toEqual({ centre: 0, sigmaZ: null, points: Array.from({ length: 3 }, () => ({ value: 0, lower: null, upper: null, beyond: null })) });
  expect(cChart(Object.freeze([0])).points[0]).toEqual({ value: 0, lower: null, upper: null, beyond: null });
});

it('sigma_z needs two neighbouring samples', () => {
  expect(pChart(Object.freeze([1, null, 2]), 50, 'laney').sigmaZ).toBeNull();
});

it('refuses counts and sizes that do not fit together', () => {
  expect(() => pChart([1, 2], [10])).toThrow('1 sizes for 2 samples given');
  expect(() => pChart([11], 10)).toThrow('sample 1 has 11 defectives among 10');
  expect(() => pChart([1.5], 10)).toThrow('count 1 is 1.5');
  expect(() => npChart([1], 0)).toThrow('size of sample 1 is 0');
  expect(() => npChart([null], 10)).toThrow('needs at least 1 sample, 0 given');
  expect(() => cChart([1, -1])).toThrow('count 2 is -1');
  expect(() => cChart([])).toThrow('needs at least 1 count, 0 given');
});
