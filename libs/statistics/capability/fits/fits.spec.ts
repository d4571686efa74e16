import fc from 'fast-check';
import { expect, it } from 'vitest';
import reference from '../../../../test/published/capability-reference.json' with { type: 'json' };
import { agrees } from '../../../../test/published/agrees.js';
import { expectWithin } from '../../../../test/published/within.js';
import { type FamilyName, type Fit, fittedCdf, fittedQuantile, fittedUpperTail } from './family.js';
import { fitGamma } from './fit-gamma.js';
import { fitLognormal } from './fit-lognormal.js';
import { fitNormal } from './fit-normal.js';
import { fitWeibull } from './fit-weibull.js';
import { goodnessOfFit } from './goodness.js';

const fitOf = (family: string, values: readonly number[], threshold = 0): Fit => {
  switch (family) {
    case 'normal': return fitNormal(values);
    case 'lognormal': return fitLognormal(values, threshold);
    case 'weibull': return fitWeibull(values, threshold);
    default: return fitGamma(values, threshold);
  }
};
const parameterOf = (fit: Fit, name: string): number | undefined => Object.entries(fit).flatMap(([key, value]) => (key === name && typeof value === 'number' ? [value] : []))[0];
const valuesOf = (name: string): readonly number[] => Object.freeze([...(reference.sets.find((set) => set.name === name)?.values ?? [])]);

const cases = reference.sets.flatMap(({ name, values, fits }) => fits.map((expected) => ({ name, values: Object.freeze([...values]), family: expected.family, expected })));
it.each(cases)('$family fit of $name (SciPy 1.17 at the maximum of the likelihood)', ({ name, values, family, expected }) => {
  const check = { method: `Maximum likelihood fit, ${family}`, source: 'SciPy 1.17 fit and distributions' };
  const fit = fitOf(family, values);
  // With a spread of a thousandth of the mean the reference itself keeps nine digits of the gamma shape.
  for (const [parameter, value] of Object.entries(expected.parameters)) agrees(check, parameterOf(fit, parameter), value, { rel: 1e-7 }, `${name}, ${parameter}`);
  agrees(check, fit.logLikelihood, expected.logLikelihood, { rel: 1e-8 }, `${name}, log-likelihood`);
  [0.00135, 0.5, 0.99865].forEach((p, i) => { agrees({ ...check, method: 'Percentiles of a fitted distribution' }, fittedQuantile(fit, p), expected.points[i] ?? Number.NaN, { rel: 1e-8 }, `${name}, ${family}, ${p}`); });
  agrees({ method: 'Anderson-Darling of a fitted family', source: 'SciPy 1.17 logcdf and logsf' }, goodnessOfFit(values, fit)?.a2, expected.a2, { rel: 1e-7 }, `${name}, ${family}`);
});

it('ball bearings of Lieblein & Zelen 1956 (quoted from memory, recomputed)', () => {
  const values = valuesOf('ball bearings');
  const weibull = fitWeibull(values);
  const check = { method: 'Maximum likelihood fit, weibull', source: 'Lieblein & Zelen 1956; Lawless, Statistical Models and Methods for Lifetime Data (from memory)' };
  agrees(check, weibull.shape, 2.1021, { abs: 5e-5 }, 'shape');
  agrees(check, weibull.scale, 81.88, { abs: 5e-3 }, 'scale');
  agrees(check, weibull.logLikelihood, -113.691, { abs: 6e-4 }, 'log-likelihood');
  agrees({ ...check, method: 'Maximum likelihood fit, gamma' }, fitGamma(values).logLikelihood, -113.03, { abs: 6e-3 }, 'log-likelihood');
  agrees({ ...check, method: 'Maximum likelihood fit, lognormal' }, fitLognormal(values).logLikelihood, -113.129, { abs: 6e-4 }, 'log-likelihood');
});

it('air conditioning failures of Proschan 1963 and glass fibres of Smith & Naylor 1987', () => {
  const air = { source: 'Proschan 1963, fits of Gupta & Kundu 2001 (from memory)' };
  const failures = valuesOf('air conditioning');
  agrees({ ...air, method: 'Maximum likelihood fit, weibull' }, fitWeibull(failures).shape, 0.8536, { abs: 6e-5 }, 'shape');
  agrees({ ...air, method: 'Maximum likelihood fit, weibull' }, 1 / fitWeibull(failures).scale, 0.0183, { abs: 6e-5 }, 'rate');
  agrees({ ...air, method: 'Maximum likelihood fit, gamma' }, fitGamma(failures).shape, 0.8119, { abs: 6e-5 }, 'shape');
  agrees({ ...air, method: 'Maximum likelihood fit, gamma' }, 1 / fitGamma(failures).scale, 0.0136, { abs: 6e-5 }, 'rate');
  const fibres = fitWeibull(valuesOf('fibres'));
  const check = { method: 'Maximum likelihood fit, weibull', source: 'Smith & Naylor 1987 (from memory)' };
  agrees(check, fibres.shape, 5.78, { abs: 6e-3 }, 'shape');
  agrees(check, fibres.scale, 1.63, { abs: 6e-3 }, 'scale');
});

const FAMILIES_WITH_THRESHOLD = ['lognormal', 'weibull', 'gamma'] as const;

it('a known threshold moves a fit along, the unit scales it', () => {
  fc.assert(fc.property(fc.array(fc.integer({ min: 1, max: 500 }), { minLength: 5, maxLength: 40 }), fc.constantFrom(...FAMILIES_WITH_THRESHOLD), fc.constantFrom(25.4, 0.001, 3), (values, family, unit) => {
    fc.pre(new Set(values).size > 2);
    const plain = fitOf(family, Object.freeze(values));
    const moved = fitOf(family, Object.freeze(values.map((value) => value * unit + 1000)), 1000);
    for (const p of [0.00135, 0.5, 0.99865]) expectWithin((fittedQuantile(moved, p) - 1000) / unit, fittedQuantile(plain, p), { rel: 1e-6, abs: 1e-8 / unit }, `${family} at ${p}`);
  }));
});

it('no other parameters are likelier: the fit is at the top', () => {
  for (const family of FAMILIES_WITH_THRESHOLD) {
    const values = valuesOf('flood');
    const fit = fitOf(family, values);
    const logDensity = (parameters: Fit) => values.reduce((sum, x) => sum + Math.log((fittedCdf(parameters, x + 1e-5) - fittedCdf(parameters, x - 1e-5)) / 2e-5), 0);
    const moved = (factor: number): Fit => (fit.family === 'lognormal' ? { ...fit, sigma: fit.sigma * factor } : fit.family === 'normal' ? fit : { ...fit, shape: fit.shape * factor });
    expectWithin(logDensity(fit), fit.logLikelihood, { rel: 1e-5 }, `${family}, density by differences`);
    for (const factor of [0.9, 0.97, 1.03, 1.1]) expect(logDensity(moved(factor))).toBeLessThan(logDensity(fit));
  }
});

it('the upper tail is the rest of the cdf and keeps its digits (normal 6 sigma: 9.865876e-10, Abramowitz & Stegun 1964, table 26.2)', () => {
  for (const family of ['normal', ...FAMILIES_WITH_THRESHOLD] as const) {
    const fit = fitOf(family, valuesOf('ball bearings'));
    for (const x of [-5, 30, 70, 150]) expectWithin(fittedUpperTail(fit, x), 1 - fittedCdf(fit, x), { rel: 1e-9 }, `${family} at ${x}`);
    expect(fittedUpperTail(fit, 330)).toBeGreaterThan(0);
  }
  const source = 'Abramowitz & Stegun 1964, table 26.2';
  agrees({ method: 'Expected ppm of a fitted distribution', source }, fittedUpperTail({ family: 'normal', mean: 10, sd: 2 }, 22), 9.865876450e-10, { rel: 1e-9 }, 'normal, six sigma');
  agrees({ method: 'Expected ppm of a fitted distribution', source }, fittedUpperTail({ family: 'lognormal', threshold: 0, mu: 1, sigma: 0.5 }, Math.exp(4)), 9.865876450e-10, { rel: 1e-9 }, 'lognormal, six sigma');
});

it('cdf undoes quantile in every family', () => {
  for (const family of ['normal', ...FAMILIES_WITH_THRESHOLD] as const) {
    const fit = fitOf(family, valuesOf('ball bearings'));
    for (const p of [1e-6, 0.00135, 0.3, 0.99865]) expectWithin(fittedCdf(fit, fittedQuantile(fit, p)), p, { rel: 1e-9 }, `${family} at ${p}`);
  }
});

it.each<[FamilyName]>([['lognormal'], ['weibull'], ['gamma']])('%s refuses what it cannot fit', (family) => {
  const name = `fit${family[0]?.toUpperCase()}${family.slice(1)}`;
  expect(() => fitOf(family, [1, 2])).toThrow(`${name}: needs at least 3 values, 2 given`);
  expect(() => fitOf(family, [1, 2, 0, 4])).toThrow(`${name}: needs values above the threshold 0, value 3 of 4 is 0`);
  expect(() => fitOf(family, [3, 3, 3])).toThrow(`${name}: needs values that vary`);
  expect(() => fitOf(family, [1, Number.NaN, 3])).toThrow(`${name}: value 2 of 3 is NaN`);
  expect(() => fitOf(family, [1, 2, 1e308])).toThrow(`${name}: needs values whose squared differences`);
  expect(() => fitOf(family, [1, 2, 3], Number.NEGATIVE_INFINITY)).toThrow(`${name}: needs a finite threshold`);
});

it('normal refuses the same, and the gamma a spread that no gamma can tell from a normal', () => {
  expect(() => fitNormal([1, 2])).toThrow('fitNormal: needs at least 3 values, 2 given');
  expect(() => fitNormal([5, 5, 5])).toThrow('fitNormal: needs values that vary');
  expect(() => fitNormal([1e308, -1e308, 0])).toThrow('fitNormal: needs values whose squared differences');
  expect(() => fitGamma([1e6, 1e6 + 1, 1e6 + 2])).toThrow('fitGamma: needs values that vary by more than a thousandth');
  expect(() => fittedQuantile(fitNormal([1, 2, 3]), 1)).toThrow('fittedQuantile: needs a probability strictly between 0 and 1, 1 given');
});
