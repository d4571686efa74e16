import fc from 'fast-check';
import { expect, it } from 'vitest';
import { agrees, agreesExactly } from '../../../test/published/agrees.js';
import published from '../../../test/published/gauges.json' with { type: 'json' };
import { expectWithin } from '../../../test/published/within.js';
import { shewhartChart } from '../charts/shewhart.js';
import { subgroupStatistics } from '../charts/subgroup.js';
import { biasLinearity } from './bias-linearity.js';
import { repeatability } from './repeatability.js';
import { gaugeStability } from './stability.js';
import { sdInterval, straightLine } from './straight-line.js';

const { linearity, norris, master } = published;

it('the linearity study of the reference manual', () => {
  const check = { method: 'Bias and linearity', source: 'automotive industry reference manual, linearity example (from memory, recomputed)' };
  const scipy = { method: 'Bias and linearity', source: published.programs };
  const { line, masters, ...study } = biasLinearity(linearity.masters, 6);
  const { printed } = linearity;
  agrees(check, line.slope.estimate, printed.slope, { abs: 5e-6 }, 'slope, printed');
  agrees(check, line.intercept.estimate, printed.intercept, { abs: 5e-6 }, 'intercept, printed');
  agrees(check, line.residualSd, printed.residualSd, { abs: 5e-6 }, 'residual sd, printed');
  agrees(check, line.rSquared, printed.rSquared, { abs: 5e-4 }, 'R squared, printed');
  agrees(check, line.slope.t, printed.slopeT, { abs: 1e-3 }, 't of the slope, printed');
  agrees(check, line.intercept.t, printed.interceptT, { abs: 1e-3 }, 't of the intercept, printed');
  agrees(scipy, line.slope.se, linearity.slopeSe, { rel: 1e-10 }, 'error of the slope');
  agrees(scipy, line.intercept.se, linearity.interceptSe, { rel: 1e-10 }, 'error of the intercept');
  agrees(scipy, line.slope.p, linearity.slopeP, { rel: 1e-7 }, 'p of the slope');
  agrees(scipy, line.slope.low, linearity.slopeInterval[0] ?? Number.NaN, { rel: 1e-9 }, 'slope, low');
  agrees(scipy, line.slope.high, linearity.slopeInterval[1] ?? Number.NaN, { rel: 1e-9 }, 'slope, high');
  masters.forEach(({ test, low, high }, i) => {
    agrees(scipy, test?.t, linearity.t[i] ?? Number.NaN, { rel: 1e-9 }, `t of master ${i + 1}`);
    agrees(scipy, test?.p, linearity.p[i] ?? Number.NaN, { rel: 1e-8 }, `p of master ${i + 1}`);
    agrees(scipy, low, linearity.low[i] ?? Number.NaN, { rel: 1e-9 }, `band at master ${i + 1}, low`);
    agrees(scipy, high, linearity.high[i] ?? Number.NaN, { rel: 1e-9 }, `band at master ${i + 1}, high`);
  });
  agreesExactly(scipy, masters.map(({ zeroInside }) => zeroInside), linearity.low.map((low, i) => low <= 0 && (linearity.high[i] ?? -1) >= 0), 'where no bias is inside the band');
  expectWithin(study.linearity, 0.79, { abs: 1e-10 }, '6 times the slope');
  expectWithin(study.biasOfProcess, Math.abs(study.averageBias) / 6, { rel: 1e-14 }, 'share of the process');
});

it('the certified line of Norris', () => {
  const check = { method: 'Straight line', source: 'NIST Statistical Reference Datasets, Norris' };
  const { slope, intercept, residualSd, rSquared } = straightLine(norris.x, norris.y);
  const { certified } = norris;
  agrees(check, slope.estimate, certified.slope, { rel: 1e-12 }, 'slope');
  agrees(check, slope.se, certified.slopeSe, { rel: 1e-10 }, 'error of the slope');
  agrees(check, intercept.estimate, certified.intercept, { rel: 1e-11 }, 'intercept');
  agrees(check, intercept.se, certified.interceptSe, { rel: 1e-10 }, 'error of the intercept');
  agrees(check, residualSd, certified.residualSd, { rel: 1e-10 }, 'residual sd');
  agrees(check, rSquared, certified.rSquared, { rel: 1e-13 }, 'R squared');
});

it('repeatability and bias of one master, as scipy has them', () => {
  const check = { method: 'Repeatability on a master', source: published.programs };
  const study = repeatability(master.values, master.reference, { tolerance: 10 });
  agrees(check, study.sd, master.sd, { rel: 1e-13 }, 'sd');
  agrees(check, study.interval.low, master.sdInterval[0] ?? Number.NaN, { rel: 1e-10 }, 'sd, low');
  agrees(check, study.interval.high, master.sdInterval[1] ?? Number.NaN, { rel: 1e-10 }, 'sd, high');
  agrees(check, study.bias?.t, master.t, { rel: 1e-11 }, 't');
  agrees(check, study.bias?.p, master.p, { rel: 1e-10 }, 'p');
  agrees(check, study.bias?.low, master.bias[0] ?? Number.NaN, { rel: 1e-10 }, 'bias, low');
  agrees(check, study.bias?.high, master.bias[1] ?? Number.NaN, { rel: 1e-10 }, 'bias, high');
  expectWithin(study.ofTolerance, 0.6 * study.sd, { rel: 1e-14 }, 'share of the tolerance');
  expectWithin(study.biasOfTolerance, (study.bias?.estimate ?? 0) / 10, { rel: 1e-14 }, 'bias of the tolerance');
  expect(repeatability(master.values, null)).toMatchObject({ bias: null, ofTolerance: null, biasOfTolerance: null });
});

it('the chi-square interval of an sd of 10 readings (95 % points 2.70039 and 19.0228 with 9 df, Abramowitz & Stegun table 26.8)', () => {
  const check = { method: 'Repeatability on a master', source: 'Abramowitz & Stegun 1964, table 26.8' };
  agrees(check, sdInterval(1, 9, 0.95).low, Math.sqrt(9 / 19.0228), { rel: 1e-5 }, 'low');
  agrees(check, sdInterval(1, 9, 0.95).high, Math.sqrt(9 / 2.70039), { rel: 1e-5 }, 'high');
});

it('stability is the chart of the checks, with bias and drift of their means', () => {
  const checks = Object.freeze([[10.1, 10.2], [10, 10.1], [10.2, 10], [10.1, null], [11.5, 11.6], [10, 10.2]]);
  const study = gaugeStability(checks, 10);
  expect(study.kind).toBe('xbar-r');
  expect(study.panels).toEqual(shewhartChart('xbar-r', checks.map((check) => subgroupStatistics(check))).panels);
  // The check that is off draws the centre towards itself; it is out all the same.
  expect(study.panels?.[0].out).toContainEqual({ index: 4, side: 'above' });
  expect(study.stable).toBe(false);
  const means = checks.map((check) => subgroupStatistics(check).mean ?? Number.NaN);
  const bias = repeatability(means, 10).bias;
  expectWithin(study.bias?.estimate, bias?.estimate ?? Number.NaN, { rel: 1e-12 }, 'bias');
  expectWithin(study.bias?.t, bias?.t ?? Number.NaN, { rel: 1e-10 }, 't of the bias');
  expectWithin(study.drift?.estimate, straightLine([0, 1, 2, 3, 4, 5], means).slope.estimate, { rel: 1e-12 }, 'drift');
});

it('checks of one reading are individuals; a master always read the same has no limits, and a bias that is certain', () => {
  // Flow rates of the NIST/SEMATECH e-Handbook 6.3.2.2, whose printed mean is 50.81.
  const flow = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1];
  const study = gaugeStability(flow.map((value) => [value]));
  agrees({ method: 'Gauge stability chart', source: 'NIST/SEMATECH e-Handbook 6.3.2.2' }, study.centre, 50.81, { abs: 5e-3 }, 'centre');
  agrees({ method: 'Gauge stability chart', source: 'NIST/SEMATECH e-Handbook 6.3.2.2' }, study.panels?.[0].upper[0], 55.8041, { abs: 2e-3 }, 'upper limit');
  agrees({ method: 'Gauge stability chart', source: 'NIST/SEMATECH e-Handbook 6.3.2.2' }, study.panels?.[0].lower[0], 45.8159, { abs: 2e-3 }, 'lower limit');
  expect(study).toMatchObject({ kind: 'i-mr', stable: true, bias: null });
  const still = gaugeStability([[5, 5], [5, 5], [5, 5]], 4);
  expect(still).toMatchObject({ panels: null, sigma: 0, stable: null, bias: { estimate: 1, se: 0, t: null, p: null, low: 1, high: 1 }, drift: { estimate: 0, t: null } });
});

it('shift and scale of readings and references together, and a mirror, leave t and shares', () => {
  const tenths = fc.array(fc.integer({ min: -300, max: 300 }).map((step) => step / 100), { minLength: 3, maxLength: 8 });
  fc.assert(fc.property(tenths, tenths, (first, second) => {
    fc.pre(new Set([...first, ...second]).size > 3);
    const masters = [{ reference: 1, values: first }, { reference: 4, values: second }];
    const plain = biasLinearity(masters, 6);
    fc.pre(plain.line.residualSd > 0.01);
    const scaled = biasLinearity(masters.map(({ reference, values }) => ({ reference: 3 * reference + 1e4, values: values.map((value) => 3 * value + 1e4) })), 18);
    expectWithin(scaled.line.slope.t, plain.line.slope.t ?? Number.NaN, { rel: 1e-6, abs: 1e-7 }, 't');
    expectWithin(scaled.biasOfProcess, plain.biasOfProcess ?? Number.NaN, { rel: 1e-6, abs: 1e-8 }, 'share');
    const mirrored = repeatability(first.map((value) => -value), -1);
    const straight = repeatability(first, 1);
    expectWithin(mirrored.sd, straight.sd, { rel: 1e-12 }, 'sd');
    expectWithin(mirrored.bias?.estimate, -(straight.bias?.estimate ?? Number.NaN), { rel: 1e-12, abs: 1e-15 }, 'bias');
    expectWithin(repeatability(first.map((value) => value + 1e6), null).sd, straight.sd, { rel: 1e-8, abs: 1e-9 }, 'a million more');
  }));
});

it('a gauge that is exact but off has a certain bias: t is null, nothing is NaN', () => {
  const { line, masters } = biasLinearity([{ reference: 1, values: [2, 2] }, { reference: 3, values: [4] }], null);
  expect(line).toMatchObject({ residualSd: 0, rSquared: null, slope: { estimate: 0, t: null, p: null } });
  expect(masters[1]).toMatchObject({ sd: null, test: null, fitted: 1, zeroInside: false });
});

it('refuses what it cannot compute and says what it needs', () => {
  expect(() => repeatability([1], null)).toThrow('needs at least 2 values, 1 given');
  expect(() => repeatability([1, Number.NaN], null)).toThrow('value 2 of 2 is NaN');
  expect(() => repeatability([1, 2], Number.POSITIVE_INFINITY)).toThrow('finite reference or null, Infinity given');
  expect(() => repeatability([1, 2], 1, { confidence: 0 })).toThrow('confidence strictly between 0 and 1, 0 given');
  expect(() => repeatability([1e308, -1e308], null)).toThrow(RangeError);
  expect(() => repeatability([1e308, 1e308], -1e308)).toThrow(RangeError);
  expect(() => repeatability([1, 2], 1, { tolerance: -1 })).toThrow('tolerance above 0, -1 given');
  expect(() => biasLinearity([{ reference: 1, values: [1, 2] }, { reference: 1, values: [2] }])).toThrow('at least 2 different references, 1 given');
  expect(() => biasLinearity([{ reference: 1, values: [] }])).toThrow('master 1 has 0');
  expect(() => biasLinearity([{ reference: Number.NaN, values: [1] }])).toThrow('master 1 is NaN');
  expect(() => biasLinearity([{ reference: 1, values: [1, Number.NaN] }])).toThrow('reading 2 of master 1 is NaN');
  expect(() => biasLinearity([{ reference: 1, values: [1] }, { reference: 2, values: [1] }])).toThrow('at least 3 pairs');
  expect(() => biasLinearity([{ reference: 1, values: [1, 2] }, { reference: 2, values: [1] }], 0)).toThrow('process variation above 0 or null, 0 given');
  expect(() => straightLine([1, 1, 1], [1, 2, 3])).toThrow('needs x that varies');
  expect(() => straightLine([1, 2, 1e308], [1, 2, -1e308])).toThrow('within the range of numbers');
  expect(() => gaugeStability([[1, 2]])).toThrow('at least 2 subgroups');
  expect(() => gaugeStability([[1, 2], [3, 4]], Number.NaN)).toThrow('finite reference or null, NaN given');
});
