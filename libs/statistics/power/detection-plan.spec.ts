import fc from 'fast-check';
import { expect, it } from 'vitest';
import { agrees } from '../../../test/published/agrees.js';
import { designCusum, designEwma } from './design-scheme.js';
import { type CheckPlan, detectionPlan } from './detection-plan.js';
import { countOperatingCharacteristic, meanOperatingCharacteristic, proportionOperatingCharacteristic, sdOperatingCharacteristic } from './operating-characteristic.js';
import { runLengthOfRules } from './run-length-of-rules.js';

const limitsOnly = { kind: 'rules', rules: ['beyond-limits'] } as const;
const plan: CheckPlan = { components: { check: 0, piece: 4, position: 0 }, piecesPerCheck: 4, positionsPerPiece: 1, intervalMinutes: 30, piecesPerMinute: 400, hoursPerDay: 24, scheme: limitsOnly, limitsInclude: 'long-term' };

it('with limits alone, time and pieces follow from the tail: (1/p - 1/2) intervals', () => {
  const { sigmaOfPoint, falseAlarm, tornDownPerDay, perShift } = detectionPlan(plan, [1, -2]);
  const source = 'run length of one point, 1/p, and half an interval (Duncan 1956)';
  expect(sigmaOfPoint).toBe(1);
  agrees({ method: 'Detection plan', source }, falseAlarm.days, (370.398 * 30) / 60 / 24, { rel: 1e-5 }, 'days to a false alarm');
  expect(tornDownPerDay).toBe(4 * 48);
  agrees({ method: 'Detection plan', source }, perShift[0]?.minutes.mean, (43.89454 - 0.5) * 30, { rel: 1e-5 }, 'minutes, one sigma');
  agrees({ method: 'Detection plan', source }, perShift[1]?.pieces.mean, (6.30297 - 0.5) * 30 * 400, { rel: 1e-5 }, 'pieces, two sigma down');
  // Geometric: the share seen within k intervals and a bit grows evenly within each.
  const p = 1 / 6.302974;
  const whole = Math.floor(Math.log(0.05) / Math.log(1 - p));
  const share = (1 - p) ** whole;
  agrees({ method: 'Detection plan', source: 'geometric distribution, closed form' }, perShift[1]?.minutes.p95, 30 * (whole + (share - 0.05) / (share * p)), { rel: 1e-5 }, '95 %');
});

it('limits that know only the spread within alarm more often where checks differ among themselves', () => {
  const nested = { ...plan, components: { check: 1, piece: 4, position: 6 }, positionsPerPiece: 3 };
  const long = detectionPlan(nested, [0]);
  const short = detectionPlan({ ...nested, limitsInclude: 'short-term' }, [0]);
  expect(long.sigmaOfPoint).toBeCloseTo(Math.sqrt(1 + 1 + 0.5), 12);
  // Three short-term sigmas are 3 sqrt(1.5/2.5) long-term ones.
  const [, miss] = meanOperatingCharacteristic(1, [0, 0], 3 * Math.sqrt(0.6));
  agrees({ method: 'Detection plan', source: 'normal tail beyond the closer limits' }, short.falseAlarm.arl, miss?.arl as number, { rel: 1e-9 }, 'short-term limits');
});

it('gives every scheme the run length it has by itself', () => {
  const rules = ['beyond-limits', 'two-of-three', 'four-of-five', 'eight-in-a-row'] as const;
  expect(detectionPlan({ ...plan, scheme: { kind: 'rules', rules } }, [1]).perShift[0]?.arl).toBe(runLengthOfRules(rules, 1).steadyStateArl);
  const ewma = detectionPlan({ ...plan, scheme: { kind: 'ewma', lambda: 0.1, width: 2.814 } }, [1]);
  const cusum = detectionPlan({ ...plan, scheme: { kind: 'cusum', k: 0.5, h: 5 } }, [1]);
  agrees({ method: 'Detection plan', source: 'Lucas & Saccucci 1990' }, ewma.falseAlarm.arl, 500, { rel: 2e-3 }, 'EWMA in control');
  agrees({ method: 'Detection plan', source: 'Vance 1986' }, cusum.falseAlarm.arl, 465.44, { rel: 1e-4 }, 'CUSUM in control');
});

it('larger shifts, more pieces and shorter intervals are seen sooner; units do not matter', () => {
  fc.assert(fc.property(fc.double({ min: 0.2, max: 3, noNaN: true }), fc.integer({ min: 1, max: 10 }), fc.double({ min: 1e-3, max: 1e3, noNaN: true }), (shift, pieces, unit) => {
    const minutes = (change: Partial<CheckPlan>, by = shift): number => detectionPlan({ ...plan, ...change }, [by]).perShift[0]?.minutes.mean ?? Number.NaN;
    expect(minutes({ piecesPerCheck: pieces }, shift * 1.5)).toBeLessThanOrEqual(minutes({ piecesPerCheck: pieces }));
    expect(minutes({ piecesPerCheck: pieces + 1 })).toBeLessThanOrEqual(minutes({ piecesPerCheck: pieces }) * (1 + 1e-9));
    expect(minutes({ intervalMinutes: 15 })).toBeCloseTo(minutes({}) / 2, 6);
    expect(minutes({ components: { check: 0, piece: 4 * unit * unit, position: 0 } }, shift * unit) / minutes({})).toBeCloseTo(1, 8);
  }), { numRuns: 25 });
});

it('refuses what is no plan', () => {
  expect(() => detectionPlan({ ...plan, components: { check: 0, piece: 0, position: 0 } }, [1])).toThrow('needs some variance');
  expect(() => detectionPlan({ ...plan, components: { check: -1, piece: 1, position: 0 } }, [1])).toThrow('variance of 0 or more for check');
  expect(() => detectionPlan({ ...plan, components: { check: 1, piece: 0, position: 0 }, limitsInclude: 'short-term' }, [1])).toThrow('variance within checks');
  expect(() => detectionPlan({ ...plan, piecesPerCheck: 1.5 }, [1])).toThrow('whole number of pieces');
  expect(() => detectionPlan({ ...plan, intervalMinutes: 0 }, [1])).toThrow('positive interval');
  expect(() => detectionPlan(plan, [Number.NaN])).toThrow('finite shifts');
  expect(() => detectionPlan({ ...plan, scheme: { kind: 'rules', rules: [] } }, [1])).toThrow('at least one rule');
});

it('finds the schemes of a wanted run length that are in print', () => {
  agrees({ method: 'Design of EWMA', source: 'Lucas & Saccucci 1990 (from memory)' }, designEwma(0.1, 500).width, 2.814, { abs: 6e-4 }, 'lambda 0.1');
  agrees({ method: 'Design of EWMA', source: 'Lucas & Saccucci 1990 (from memory)' }, designEwma(0.25, 500).width, 2.998, { abs: 6e-4 }, 'lambda 0.25');
  agrees({ method: 'Design of CUSUM', source: 'Hawkins 1993, table of h for ARL 370, k = 0.5 (from memory)' }, designCusum(0.5, 370).h, 4.77, { abs: 6e-3 }, 'k 0.5');
  agrees({ method: 'Design of CUSUM', source: 'Hawkins 1993, table of h for ARL 370, k = 0.25 (from memory)' }, designCusum(0.25, 370).h, 8.01, { abs: 6e-3 }, 'k 0.25');
  agrees({ method: 'Design of CUSUM', source: 'Hawkins 1993, table of h for ARL 370, k = 1 (from memory)' }, designCusum(1, 370).h, 2.52, { abs: 6e-3 }, 'k 1');
  expect(() => designEwma(0, 370)).toThrow('lambda');
  expect(() => designCusum(3, 2)).toThrow('above');
  expect(() => designCusum(0.5, Number.NaN)).toThrow('run length in control');
});

it('operating characteristics agree with worked examples', () => {
  const mean = { method: 'Operating characteristic of means', source: 'Montgomery, OC curves of the X-bar chart (recomputed)' };
  const [two, one] = meanOperatingCharacteristic(5, [2, 1]);
  agrees(mean, two?.missed, 0.070492, { rel: 1e-4 }, 'n 5, 2 sigma');
  agrees(mean, one?.missed, 0.777546, { rel: 1e-5 }, 'n 5, 1 sigma');
  agrees(mean, one?.arl, 4.4953, { rel: 1e-5 }, 'n 5, 1 sigma, run length');
  agrees(mean, meanOperatingCharacteristic(4, [1])[0]?.missed, 0.841344, { rel: 1e-5 }, 'n 4, 1 sigma');
  // Limits 0.0303 and 0.3697: counts from 2 to 18 are inside.
  const [p] = proportionOperatingCharacteristic(50, 0.2, [0.35]);
  agrees({ method: 'Operating characteristic of proportions', source: 'SciPy 1.17 binom.cdf(18, 50, 0.35) - binom.cdf(1, 50, 0.35)' }, p?.missed, 0.6215870382569897, { rel: 1e-10 }, 'n 50');
  const [c] = countOperatingCharacteristic(19.67, [30]);
  agrees({ method: 'Operating characteristic of counts', source: 'SciPy 1.17 poisson.cdf(32, 30) - poisson.cdf(6, 30)' }, c?.missed, 0.6845411323927254, { rel: 1e-10 }, 'mean 30');
  const [s] = sdOperatingCharacteristic(5, [2]);
  agrees({ method: 'Operating characteristic of standard deviations', source: 'SciPy 1.17 chi2.cdf(4 (2.088998 c4 / 2)^2, 4)' }, s?.missed, 0.5741325728701326, { rel: 1e-6 }, 'n 5, twice the sigma');
});
