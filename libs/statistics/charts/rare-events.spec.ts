import fc from 'fast-check';
import { expect, it } from 'vitest';
import { agrees, agreesExactly } from '../../../test/published/agrees.js';
import published from '../../../test/published/special-charts.json' with { type: 'json' };
import { expectWithin } from '../../../test/published/within.js';
import { pChart, uChart } from './attribute.js';
import { gapChart } from './gap-chart.js';
import { timeChart } from './time-chart.js';

const { counts, gaps, times } = published;

it('defects in rolls of unequal size (Montgomery, table 7.11)', () => {
  const { cloth } = counts;
  const check = { method: 'u chart', source: 'Montgomery, Introduction to SQC, table 7.11 (from memory, recomputed)' };
  const { centre, panel } = uChart(Object.freeze([...cloth.counts]), Object.freeze([...cloth.sizes]));
  agrees(check, centre, cloth.centre, { rel: 1e-14 }, 'ubar');
  agrees(check, centre, cloth.printed.centre, cloth.printed.tolerance, 'printed ubar');
  cloth.lower.forEach((limit, i) => { agrees(check, panel.lower[i], limit, { rel: 1e-12 }, `lower ${i + 1}`); });
  cloth.printed.lower.forEach((limit, i) => { agrees(check, panel.lower[i], limit, cloth.printed.tolerance, `printed lower ${i + 1}`); });
  cloth.printed.upper.forEach((limit, i) => { agrees(check, panel.upper[i], limit, cloth.printed.tolerance, `printed upper ${i + 1}`); });
  agreesExactly(check, panel.out, [], 'no signal');
});

it('proportions of samples of unequal size (Montgomery, table 7.4)', () => {
  const { orders } = counts;
  const check = { method: 'p chart', source: 'Montgomery, Introduction to SQC, table 7.4 (from memory, recomputed)' };
  const { centre, panel } = pChart(Object.freeze([...orders.defectives]), Object.freeze([...orders.sizes]));
  agrees(check, centre, orders.centre, { rel: 1e-14 }, 'pbar');
  agrees(check, centre, orders.printed.centre, orders.printed.tolerance, 'printed pbar');
  agreesExactly(check, panel.out.map(({ index }) => index + 1), orders.above, 'signals');
});

it('very large samples: limits widened by what the samples really vary (Laney 2002)', () => {
  const { large } = counts;
  const source = 'Laney 2002, recomputed with NumPy';
  const p = pChart(Object.freeze([...large.defectives]), Object.freeze([...large.sizes]), 'laney');
  const u = uChart(Object.freeze([...large.defectives]), Object.freeze([...large.sizes]), 'laney');
  agrees({ method: "p' chart", source }, p.sigmaZ, large.p.sigmaZ, { rel: 1e-11 }, 'sigma_z of large samples');
  agrees({ method: "p' chart", source }, p.panel.upper[0], large.p.upper, { rel: 1e-11 }, 'upper of large samples');
  agrees({ method: "u' chart", source }, u.sigmaZ, large.u.sigmaZ, { rel: 1e-11 }, 'sigma_z of large samples');
  agrees({ method: "u' chart", source }, u.panel.upper[0], large.u.upper, { rel: 1e-11 }, 'upper of large samples');
});

it.each(gaps.cases)('limits of gaps for p = $p and alpha = $alpha are those of the geometric distribution', ({ p, alpha, lower, centre, upper, below, above }) => {
  const check = { method: 'g chart', source: 'SciPy 1.17 geom' };
  const chart = gapChart(Object.freeze([3, null, 5]), alpha, p);
  agreesExactly(check, [chart.panel.lower[0], chart.panel.centre[0], chart.panel.upper[0]], [lower === 0 ? null : lower, centre, upper], `limits p ${p}`);
  agrees(check, chart.falseAlarm.below, below, { rel: 1e-9, abs: 1e-15 }, `false alarm below, p ${p}`);
  agrees(check, chart.falseAlarm.above, above, { rel: 1e-9 }, `false alarm above, p ${p}`);
  expect(chart.shortGapSignals).toBe(lower > 0);
});

it('gaps by the closed form of the cumulative count of conforming (Xie & Goh 1992)', () => {
  const { p, alpha, lower, centre, upper } = gaps.closedForm;
  const check = { method: 'g chart', source: 'Xie & Goh 1992, closed form (from memory, recomputed)' };
  const chart = gapChart(Object.freeze([1]), alpha, p);
  // They count the nonconforming unit as well, so a gap is one less; the lower limit is a quotient of whole cans here.
  agreesExactly(check, [chart.panel.lower[0], (chart.panel.centre[0] ?? 0) + 1, (chart.panel.upper[0] ?? 0) + 1], [Math.floor(lower), Math.ceil(centre), Math.ceil(upper)], 'limits of 500 ppm');
});

it('the proportion is estimated without bias (Haldane 1945)', () => {
  const chart = gapChart(Object.freeze([10, null, 0, 29]));
  expect([chart.proportion, chart.proportionMle, chart.meanGap]).toEqual([2 / 41, 3 / 42, 13]);
  // Two gaps: the expectation of 1/(1 + y1 + y2) is p, whatever p is; y1 + y2 = s in s + 1 ways.
  for (const p of [0.05, 0.3, 0.8]) {
    let expected = 0;
    for (let s = 0; s < 3000; s += 1) {
      const estimate = s === 0 ? 1 : gapChart([s, 0]).proportion;
      expected += estimate * (s + 1) * p * p * (1 - p) ** s;
    }
    agrees({ method: 'proportion from gaps', source: 'Haldane 1945, unbiasedness summed over the distribution' }, expected, p, { rel: 1e-10 }, `expectation at ${p}`);
  }
});

it('a short gap is out below, a long one above, a gap on the limit is in', () => {
  const { panel } = gapChart(Object.freeze([249, 250, 264_913, 264_914, null]), 0.005, 0.00002);
  expect(panel.out).toEqual([{ index: 0, side: 'below' }, { index: 3, side: 'above' }]);
  expect(panel.sigma).toEqual([null, null, null, null, null]);
});

it('gap limits are the furthest whole numbers that keep the false alarm', () => {
  fc.assert(fc.property(fc.double({ min: 1e-7, max: 0.9, noNaN: true }), fc.double({ min: 1e-5, max: 0.2, noNaN: true }), (p, alpha) => {
    const { panel, falseAlarm } = gapChart([1], alpha, p);
    const lower = panel.lower[0] ?? 0;
    const upper = panel.upper[0] ?? Number.NaN;
    const rest = Math.log1p(-p);
    expect(falseAlarm.below).toBeLessThanOrEqual(alpha);
    expect(falseAlarm.above).toBeLessThanOrEqual(alpha);
    expect(-Math.expm1((lower + 1) * rest)).toBeGreaterThan(alpha);
    if (upper > 0) expect(Math.exp(upper * rest)).toBeGreaterThan(alpha);
  }));
});

it.each(times.exponential)('limits of times at alpha = $alpha are those of the exponential distribution', ({ alpha, lower, centre, upper }) => {
  const check = { method: 't chart', source: 'SciPy 1.17 expon' };
  const { panel, meanTime } = timeChart(Object.freeze([...times.hours]), alpha);
  agrees(check, meanTime, times.mean, { rel: 1e-14 }, 'mean');
  agrees(check, panel.lower[0], lower, { rel: 1e-12 }, `lower at ${alpha}`);
  agrees(check, panel.centre[0], centre, { rel: 1e-12 }, `median at ${alpha}`);
  agrees(check, panel.upper[0], upper, { rel: 1e-12 }, `upper at ${alpha}`);
  expect(panel.out.filter(({ side }) => side === 'below').map(({ index }) => times.hours[index])).toEqual(times.hours.filter((hour) => hour < lower));
});

it('times to the power 1/3.6 (Nelson 1994; Montgomery, table 7.14, printed with the exponent 0.2777)', () => {
  const check = { method: 't chart, power', source: 'Montgomery, Introduction to SQC, table 7.14 (from memory, recomputed)' };
  const { panel, transformed } = timeChart(Object.freeze([...times.hours]), 0.00135, 'power');
  times.printedTransformed.forEach((value, i) => { agrees(check, transformed?.values[i], value, times.printedTolerance, `hours ${i + 1}`); });
  agrees({ ...check, source: 'NumPy' }, transformed?.centre, times.power.centre, { rel: 1e-12 }, 'centre');
  agrees({ ...check, source: 'NumPy' }, transformed?.sigma, times.power.sigma, { rel: 1e-9 }, 'sigma');
  agrees({ ...check, source: 'NumPy' }, panel.upper[0], times.power.upper, { rel: 1e-9 }, 'upper');
  agreesExactly({ ...check, source: 'NumPy' }, panel.lower[0], times.power.lower, 'no lower limit');
  agreesExactly(check, panel.out, [], 'no signal');
});

it('times in another unit give the same points, and the order does not matter', () => {
  fc.assert(fc.property(fc.array(fc.double({ min: 0.01, max: 1e4, noNaN: true }), { minLength: 2, maxLength: 30 }), (values) => {
    const plain = timeChart(Object.freeze(values)).panel;
    const minutes = timeChart(Object.freeze(values.map((value) => value * 64))).panel;
    expect(minutes.out).toEqual(plain.out);
    const reversed = timeChart(Object.freeze([...values].reverse())).panel;
    expectWithin(reversed.upper[0], plain.upper[0] ?? Number.NaN, { rel: 1e-12 }, 'upper of the reversed series');
  }));
});

it('refuses what is no gap or no time', () => {
  for (const alpha of [0, 0.5, -1, Number.NaN]) {
    expect(() => gapChart([1, 2], alpha)).toThrow(`above 0 and below 0.5, ${alpha} given`);
    expect(() => timeChart([1, 2], alpha)).toThrow(`above 0 and below 0.5, ${alpha} given`);
  }
  expect(() => gapChart([1, 1.5])).toThrow('gap 2 is 1.5');
  expect(() => gapChart([-1])).toThrow('gap 1 is -1');
  expect(() => gapChart([null])).toThrow('at least 1 gap, 0 given');
  expect(() => gapChart([7])).toThrow('at least 2 gaps to estimate the proportion, 1 given');
  expect(() => gapChart([0, 0])).toThrow('1 given by gaps that are all 0');
  for (const p of [0, 1, Number.NaN]) expect(() => gapChart([1], 0.001, p)).toThrow('proportion strictly between 0 and 1');
  expect(() => timeChart([1, -2])).toThrow('time 2 is -2');
  expect(() => timeChart([Number.POSITIVE_INFINITY])).toThrow('time 1 is Infinity');
  expect(() => timeChart([0, null])).toThrow('at least 1 time above 0');
  expect(() => timeChart([5], 0.00135, 'power')).toThrow(RangeError);
  expect(() => timeChart([5, 6], 0.01, 'power')).toThrow('whose limits are three sigma, 0.01 given');
  for (const p of [1e-300, 1e-17]) expect(() => gapChart([1], 0.001, p)).toThrow('whose limits can be counted');
  expect(() => timeChart([1e308, 1e308])).toThrow('within the range of numbers');
});
