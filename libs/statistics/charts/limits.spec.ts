import fc from 'fast-check';
import { expect, it } from 'vitest';
import flowWidth from '../../../test/published/flow-width.json' with { type: 'json' };
import individuals from '../../../test/published/individuals.json' with { type: 'json' };
import { agrees, agreesExactly } from '../../../test/published/agrees.js';
import { expectWithin } from '../../../test/published/within.js';
import { chartConstants } from './constants.js';
import { movingRanges } from './individuals.js';
import { baselineLimits, type ChartKind, limitsForSize } from './limits.js';
import { subgroupStatistics } from './subgroup.js';

const KINDS: readonly ChartKind[] = ['xbar-r', 'xbar-s', 'i-mr'];
const statistics = (rows: readonly (readonly (number | null)[])[]) => Object.freeze(rows.map((row) => subgroupStatistics(Object.freeze([...row]))));
const single = (values: readonly (number | null)[]) => statistics(values.map((value) => [value]));

it('means and ranges of the flow widths (Montgomery, table 6.1)', () => {
  const check = { method: 'X-bar and R chart', source: 'Montgomery, Introduction to SQC, table 6.1' };
  const basis = baselineLimits('xbar-r', statistics(flowWidth.subgroups));
  const { mean, spread } = limitsForSize(basis, 5);
  const { xbarR, printed, tolerance } = flowWidth;
  agreesExactly(check, [basis.subgroups, basis.readings], [25, 125], 'subgroups and readings');
  agrees(check, basis.centre, xbarR.centre, tolerance, 'centre');
  agrees(check, basis.spreadCentre, xbarR.rbar, tolerance, 'Rbar');
  agrees(check, basis.sigma, xbarR.sigma, tolerance, 'sigma');
  agrees(check, mean.lower, xbarR.lower, tolerance, 'lower');
  agrees(check, mean.upper, xbarR.upper, tolerance, 'upper');
  agrees(check, spread?.centre, xbarR.rbar, tolerance, 'range centre');
  agrees(check, spread?.upper, xbarR.rangeUpper, tolerance, 'range upper');
  agreesExactly(check, spread?.lower, 0, 'spread lower');
  for (const [got, print] of [[mean.lower, printed.lower], [mean.upper, printed.upper], [spread?.upper, printed.rangeUpper], [basis.sigma, printed.sigma]] as const) {
    agrees(check, got, print, printed.tolerance, 'printed');
  }
});

it('means and standard deviations of the flow widths (Montgomery, table 6.1)', () => {
  const check = { method: 'X-bar and S chart', source: 'Montgomery, Introduction to SQC, table 6.1' };
  const basis = baselineLimits('xbar-s', statistics(flowWidth.subgroups));
  const { mean, spread } = limitsForSize(basis, 5);
  const { xbarS, tolerance } = flowWidth;
  agrees(check, basis.spreadCentre, xbarS.sbar, tolerance, 'sbar');
  agrees(check, basis.sigma, xbarS.sigma, tolerance, 'sigma');
  agrees(check, mean.lower, xbarS.lower, tolerance, 'lower');
  agrees(check, mean.upper, xbarS.upper, tolerance, 'upper');
  agrees(check, spread?.upper, xbarS.sdUpper, tolerance, 'sd upper');
  agreesExactly(check, spread?.lower, 0, 'spread lower');
});

it('individuals and moving ranges of the chemical (Montgomery & Runger, table 16-3)', () => {
  const check = { method: 'individuals chart', source: 'Montgomery & Runger, 3rd ed., table 16-3' };
  const { values, expected, tolerance, printed } = individuals.chemical;
  const basis = baselineLimits('i-mr', single(values));
  const { mean, spread } = limitsForSize(basis, 1);
  agrees(check, basis.centre, expected.mean, tolerance, 'mean');
  agrees(check, basis.spreadCentre, expected.mrbar, tolerance, 'MRbar');
  agrees(check, basis.sigma, expected.sigma, tolerance, 'sigma');
  agrees(check, mean.lower, expected.lower, tolerance, 'lower');
  agrees(check, mean.upper, expected.upper, tolerance, 'upper');
  agrees(check, spread?.upper, expected.mrUpper, tolerance, 'MR upper');
  agreesExactly(check, (movingRanges(values).filter((range) => range !== null)).length, expected.ranges, 'number of moving ranges');
  agrees(check, mean.lower, printed.lower, printed.tolerance, 'printed lower');
  agrees(check, mean.upper, printed.upper, printed.tolerance, 'printed upper');
});

it('individuals of the flow rate (NIST/SEMATECH e-Handbook 6.3.2.2)', () => {
  const check = { method: 'individuals chart', source: 'NIST/SEMATECH e-Handbook 6.3.2.2' };
  const { values, expected, tolerance, printed } = individuals.flowRate;
  const { mean } = limitsForSize(baselineLimits('i-mr', single(values)), 1);
  agrees(check, mean.lower, expected.lower, tolerance, 'lower');
  agrees(check, mean.upper, expected.upper, tolerance, 'upper');
  agrees(check, mean.lower, printed.lower, printed.tolerance, 'printed lower');
  agrees(check, mean.upper, printed.upper, printed.tolerance, 'printed upper');
});

it('subgroups of unequal size: centre by readings, sigma from R_i/d2(n_i), or pooled from the sds', () => {
  const rows = [[1, 3], [2, 6, 4], [5, 5, 7, 3], [9]];
  const byRange = baselineLimits('xbar-r', statistics(rows));
  expectWithin(byRange.centre, 45 / 10, { rel: 1e-12 }, 'centre');
  expectWithin(byRange.sigma, (2 / 1.128379 + 4 / 1.692569 + 4 / 2.058751) / 3, { rel: 1e-5 }, 'sigma from ranges');
  expect([byRange.subgroups, byRange.readings]).toEqual([4, 10]);
  const bySd = baselineLimits('xbar-s', statistics(rows));
  expectWithin(bySd.sigma, Math.sqrt((2 + 8 + 8) / (1 + 2 + 3)), { rel: 1e-12 }, 'pooled sigma');
});

it('a subgroup gets the limits of its own size', () => {
  const basis = baselineLimits('xbar-r', statistics(flowWidth.subgroups));
  const four = limitsForSize(basis, 4);
  expectWithin(four.mean.sigma, basis.sigma / 2, { rel: 1e-14 }, 'sigma of a mean of four');
  expectWithin(four.spread?.upper, chartConstants(4).D4 * chartConstants(4).d2 * basis.sigma, { rel: 1e-14 }, 'range of four');
  expect(limitsForSize(basis, 9).spread?.lower).toBeGreaterThan(0);
  expect(limitsForSize(baselineLimits('xbar-s', statistics(flowWidth.subgroups)), 9).spread?.lower).toBeGreaterThan(0);
});

it('a single reading on a chart of means has limits for itself and none for a spread', () => {
  const basis = baselineLimits('xbar-r', statistics(flowWidth.subgroups));
  expect(limitsForSize(basis, 1)).toEqual({ mean: { centre: basis.centre, lower: basis.centre - 3 * basis.sigma, upper: basis.centre + 3 * basis.sigma, sigma: basis.sigma }, spread: null });
});

it('a subgroup without spread stays in the average', () => {
  const basis = baselineLimits('xbar-r', statistics([[5, 5], [4, 6], [5, 5], [5, 7]]));
  expect(basis.spreadCentre).toBe(1);
});

it('a moving range is never taken across a gap', () => {
  expect(movingRanges(Object.freeze([5, 6, null, 9, 9, null]))).toEqual([null, 1, null, null, 0, null]);
  expect(baselineLimits('i-mr', single([5, 6, null, 90, 91])).spreadCentre).toBe(1);
});

it('a subgroup without a reading is left out of charts of means', () => {
  const rows: (number | null)[][] = [[1, 3], [null, null], [2, 6]];
  expect(baselineLimits('xbar-r', statistics(rows))).toEqual(baselineLimits('xbar-r', statistics([[1, 3], [2, 6]])));
});

it('refuses a baseline that is too short and says what it needs', () => {
  expect(() => baselineLimits('xbar-r', statistics([[1, 2], [3]]))).toThrow(new RangeError('baselineLimits (xbar-r): needs at least 2 subgroups of 2 or more readings, 1 given'));
  expect(() => baselineLimits('xbar-s', statistics([]))).toThrow('needs at least 2 subgroups of 2 or more readings, 0 given');
  expect(() => baselineLimits('i-mr', single([1]))).toThrow('needs at least 2 subgroups with a reading, 1 given');
  expect(() => baselineLimits('i-mr', single([1, null, 2, null, 3]))).toThrow('every one given stands alone between gaps');
});

it.each(KINDS)('%s refuses a baseline without variation instead of giving limits of no width', (kind) => {
  const flat = kind === 'i-mr' ? single([0.3, 0.3, 0.3]) : statistics([[0.1, 0.1, 0.1], [0.3, 0.3, 0.3]]);
  expect(() => baselineLimits(kind, flat)).toThrow(`baselineLimits (${kind}): the baseline has no variation at the resolution of the gauge`);
});

it('refuses readings whose sums or limits are beyond the range of numbers', () => {
  expect(() => baselineLimits('i-mr', single([1.7e308, -1.7e308]))).toThrow('values 1 and 2 are 1.7e+308 and -1.7e+308');
  expect(() => baselineLimits('i-mr', single([9e307, -8e307, 9e307]))).not.toThrow();
  expect(() => baselineLimits('xbar-s', statistics([[0, 1.2e154], [0, 1.2e154, 2], [0, 1.2e154]]))).toThrow('sums are within the range');
  expect(() => limitsForSize(baselineLimits('i-mr', single([9e307, -8e307, 9e307])), 1)).toThrow('limits within the range of numbers');
});

it('refuses NaN in a baseline and unusable frozen limits', () => {
  const bad = { n: 2, mean: Number.NaN, range: 1, sd: 1, low: 0, high: 1 };
  expect(() => baselineLimits('xbar-r', [...statistics([[1, 2], [2, 4]]), bad])).toThrow('subgroup 3 holds NaN');
  const basis = baselineLimits('xbar-r', statistics([[1, 2], [2, 4]]));
  expect(() => limitsForSize({ ...basis, sigma: 0 }, 2)).toThrow('positive sigma');
  expect(() => limitsForSize({ ...basis, centre: Number.NaN }, 2)).toThrow('finite centre');
  for (const n of [0, -1, 1.5, Number.NaN]) expect(() => limitsForSize(basis, n)).toThrow(`whole number of readings, 1 or more, ${n} given`);
});

const rowsOf = fc.array(fc.array(fc.option(fc.integer({ min: 0, max: 60 }), { freq: 8 }), { minLength: 2, maxLength: 6 }), { minLength: 3, maxLength: 15 });

it('limits move with the data: shift, scale and mirror', () => {
  fc.assert(fc.property(rowsOf, fc.constantFrom(0.5, 3, 0.0254), fc.integer({ min: -1000, max: 1000 }), fc.constantFrom(...KINDS), (rows, a, b, kind) => {
    const kept = rows.filter((row) => row.filter((value) => value !== null).length >= 2);
    fc.pre(kept.length >= 2);
    const plain = statistics(kept);
    fc.pre(kind === 'i-mr' ? new Set(plain.map((s) => s.mean)).size > 1 : plain.some((s) => s.range !== 0));
    const moved = (factor: number, offset: number) => baselineLimits(kind, statistics(kept.map((row) => row.map((value) => (value === null ? null : factor * value + offset)))));
    const basis = baselineLimits(kind, plain);
    const close = { rel: 1e-9, abs: 1e-9 };
    expectWithin(moved(a, b).centre, a * basis.centre + b, close, 'centre');
    expectWithin(moved(a, b).sigma, a * basis.sigma, close, 'sigma');
    expectWithin(moved(-1, 0).centre, -basis.centre, close, 'mirrored centre');
    expectWithin(moved(-1, 0).sigma, basis.sigma, close, 'mirrored sigma');
    const reversed = baselineLimits(kind, Object.freeze([...plain].reverse()));
    expectWithin(reversed.centre, basis.centre, close, 'centre of the reversed series');
    expectWithin(reversed.sigma, basis.sigma, close, 'sigma of the reversed series');
  }));
});
