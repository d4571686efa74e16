import { expect, it } from 'vitest';
import published from '../../../test/published/attribute-charts.json' with { type: 'json' };
import { agrees, agreesExactly } from '../../../test/published/agrees.js';
import { expectWithin } from '../../../test/published/within.js';
import { type AttributeChart, cChart, npChart, pChart, uChart } from './attribute.js';

const { wafers, defects } = published;
const positions = ({ panel }: AttributeChart, side: 'above' | 'below') => panel.out.filter((point) => point.side === side).map(({ index }) => index + 1);
const NIST_P = { method: 'p chart', source: 'NIST/SEMATECH e-Handbook 6.3.3.2' } as const;
const NIST_C = { method: 'c chart', source: 'NIST/SEMATECH e-Handbook 6.3.3.1' } as const;

it('proportions of defective chips (NIST/SEMATECH e-Handbook 6.3.3.2)', () => {
  const chart = pChart(Object.freeze([...wafers.defectives]), wafers.size);
  agrees(NIST_P, chart.centre, wafers.p.centre, wafers.tolerance, 'pbar');
  agrees(NIST_P, chart.panel.lower[0], wafers.p.lower, wafers.tolerance, 'lower');
  agrees(NIST_P, chart.panel.upper[0], wafers.p.upper, wafers.tolerance, 'upper');
  agreesExactly(NIST_P, positions(chart, 'above'), wafers.p.above, 'points above');
  expect(positions(chart, 'below')).toEqual([]);
});

it('numbers of defective chips give the same points', () => {
  const chart = npChart(Object.freeze([...wafers.defectives]), wafers.size);
  const check = { ...NIST_P, method: 'np chart' };
  agrees(check, chart.centre, wafers.np.centre, wafers.tolerance, 'centre');
  agrees(check, chart.panel.lower[0], wafers.np.lower, wafers.tolerance, 'lower');
  agrees(check, chart.panel.upper[0], wafers.np.upper, wafers.tolerance, 'upper');
  agreesExactly(check, positions(chart, 'above'), wafers.np.above, 'points above');
});

it('limits widened for overdispersion (Laney 2002) leave no point out', () => {
  const chart = pChart(Object.freeze([...wafers.defectives]), wafers.size, 'laney');
  const check = { method: "p' chart", source: 'Laney 2002 on the data of NIST/SEMATECH e-Handbook 6.3.3.2, recomputed' };
  agrees(check, chart.sigmaZ, wafers.laney.sigmaZ, wafers.tolerance, 'sigma_z');
  agrees(check, chart.panel.upper[0], wafers.laney.upper, wafers.tolerance, 'upper');
  agreesExactly(check, chart.panel.lower[0], wafers.laney.lower, 'lower');
  agreesExactly(check, positions(chart, 'above'), wafers.laney.above, 'points above');
});

it('defects on wafers: exact limits, and a point on the limit is no signal (NIST/SEMATECH e-Handbook 6.3.3.1)', () => {
  const chart = cChart(Object.freeze([...defects.counts]));
  agreesExactly(NIST_C, [chart.centre, chart.panel.lower[0], chart.panel.upper[0]], [defects.centre, defects.lower, defects.upper], 'centre and limits');
  expect(defects.counts[2]).toBe(defects.upper);
  agreesExactly(NIST_C, positions(chart, 'above'), defects.above, 'points above');
});

it('defects a unit of one size are the count chart divided by the size', () => {
  const counted = cChart(Object.freeze([...defects.counts]));
  const rated = uChart(Object.freeze([...defects.counts]), 0.5);
  expectWithin(rated.centre, 2 * counted.centre, { rel: 1e-15 }, 'ubar');
  expectWithin(rated.panel.upper[0], 2 * defects.upper, { rel: 1e-15 }, 'upper');
  expect(rated.panel.out).toEqual(counted.panel.out);
});

it('each area inspected has limits of its own, cut at 0', () => {
  const chart = uChart(Object.freeze([4, 9, null, 1]), Object.freeze([2.5, 1.5, 3, 6]));
  expect([chart.centre, chart.panel.points]).toEqual([1.4, [1.6, 6, null, 1 / 6]]);
  expectWithin(chart.panel.upper[1], 1.4 + 3 * Math.sqrt(1.4 / 1.5), { rel: 1e-14 }, 'upper of 1.5');
  expect(chart.panel.lower).toEqual([0, 0, null, 0]);
  expect(chart.panel.out).toEqual([{ index: 1, side: 'above' }]);
});

it('a missing sample has no point and changes no other', () => {
  const chart = pChart(Object.freeze([1, null, 3]), Object.freeze([10, 10, 30]));
  expect(chart.centre).toBe(0.1);
  expect(chart.panel.points[1]).toBeNull();
  expect(chart.panel.upper[1]).toBeNull();
});

it('each sample has the limits of its own size, cut at 0 and 1', () => {
  const { panel } = pChart(Object.freeze([95, 9]), Object.freeze([100, 10]));
  const p = 104 / 110;
  expectWithin(panel.lower[0], p - 3 * Math.sqrt((p * (1 - p)) / 100), { rel: 1e-12 }, 'lower of 100');
  expectWithin(panel.lower[1], p - 3 * Math.sqrt((p * (1 - p)) / 10), { rel: 1e-12 }, 'lower of 10');
  expect(panel.upper).toEqual([1, 1]);
});

it('no defective at all leaves limits undefined, and says so by null', () => {
  const nothing = [null, null, null];
  expect(pChart(Object.freeze([0, 0, 0]), 50, 'laney')).toEqual({
    centre: 0, sigmaZ: null, panel: { statistic: 'p', points: [0, 0, 0], centre: [0, 0, 0], lower: nothing, upper: nothing, sigma: nothing, out: [] },
  });
  expect(cChart(Object.freeze([0])).panel).toMatchObject({ points: [0], lower: [null], upper: [null] });
  expect(uChart(Object.freeze([0, 0]), 2.5, 'laney')).toMatchObject({ centre: 0, sigmaZ: null, panel: { upper: [null, null] } });
});

it('sigma_z needs two neighbouring samples', () => {
  expect(pChart(Object.freeze([1, null, 2]), 50, 'laney').sigmaZ).toBeNull();
});

it('refuses counts and sizes that do not fit together', () => {
  expect(() => pChart([1, 2], [10])).toThrow('1 sizes for 2 samples given');
  expect(() => pChart([11], 10)).toThrow('sample 1 has 11 defectives among 10');
  expect(() => pChart([1], 10.5)).toThrow('size of sample 1 is 10.5, a whole number');
  expect(() => pChart([1.5], 10)).toThrow('count 1 is 1.5');
  expect(() => npChart([1], 0)).toThrow('size of sample 1 is 0');
  expect(() => npChart([null], 10)).toThrow('needs at least 1 sample, 0 given');
  expect(() => cChart([1, -1])).toThrow('count 2 is -1');
  expect(() => cChart([])).toThrow('needs at least 1 sample, 0 given');
  for (const size of [0, -1, Number.NaN, Number.POSITIVE_INFINITY]) expect(() => uChart([1, 2], [1, size])).toThrow(`the size of sample 2 is ${size}`);
  expect(() => uChart([1], 1e-310)).toThrow('within the range of numbers');
});
