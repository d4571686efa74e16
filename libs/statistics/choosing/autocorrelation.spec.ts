import fc from 'fast-check';
import { expect, it } from 'vitest';
import { agrees } from '../../../test/published/agrees.js';
import reference from '../../../test/published/choosing.json' with { type: 'json' };
import { autocorrelation, lagCorrelation } from './autocorrelation.js';

const pairs = (first: number, low: number, high: number) => [first, ...Array.from({ length: 500 }, () => [low, high]).flat()];

it('keeps the certified digits of lag-1 correlations that large offsets hide', () => {
  const check = { method: 'Lag-1 autocorrelation', source: 'NIST StRD NumAcc1-4 (from memory)' };
  // The data themselves are rounded to doubles: NumAcc3 holds 9 digits of its spread, NumAcc4 8.
  agrees(check, lagCorrelation([10_000_001, 10_000_003, 10_000_002], 1).r, -0.5, { rel: 1e-14 }, 'NumAcc1');
  agrees(check, lagCorrelation(pairs(1.2, 1.1, 1.3), 1).r, -0.999, { rel: 1e-12 }, 'NumAcc2');
  agrees(check, lagCorrelation(pairs(1_000_000.2, 1_000_000.1, 1_000_000.3), 1).r, -0.999, { rel: 1e-9 }, 'NumAcc3');
  agrees(check, lagCorrelation(pairs(10_000_000.2, 10_000_000.1, 10_000_000.3), 1).r, -0.999, { rel: 1e-9 }, 'NumAcc4');
});

it('finds the memory of hormone readings, river flow and sunspots', () => {
  for (const { values, lags, r, q, p } of reference.memory) {
    const answer = autocorrelation(values, { lags });
    answer.lags.forEach((entry, k) => { agrees({ method: 'Autocorrelation', source: 'R 4.2.2 acf' }, entry.r, r[k] ?? Number.NaN, { rel: 1e-11, abs: 1e-14 }, `lag ${k + 1}`); });
    agrees({ method: 'Ljung-Box test', source: 'R 4.2.2 Box.test' }, answer.together.q, q, { rel: 1e-11 }, 'Q');
    agrees({ method: 'Ljung-Box test', source: 'R 4.2.2 pchisq' }, answer.together.p, p, { rel: 1e-9 }, 'p');
    expect(answer.tooOften).toBe(true);
  }
});

it('says how far apart readings would have to be, and how much too narrow limits are', () => {
  const { memory, bound } = autocorrelation(reference.memory[1]?.values ?? []);
  // phi^every is the first power below 0.1: 0.4984^3 = 0.124, 0.4984^4 = 0.062.
  expect(memory.every).toBe(4);
  expect(memory.phi ** 4).toBeLessThan(0.1);
  expect(memory.phi ** 3).toBeGreaterThan(0.1);
  expect(memory.sigmaRatio).toBeCloseTo(1 / Math.sqrt(1 - memory.phi), 12);
  expect(memory.falseAlarm).toBeGreaterThan(0.0027);
  expect(bound).toBeCloseTo(1.959963984540054 / 10, 12);
});

it('the moving ranges of a first-order memory are short by the factor said', () => {
  // |N(0, v)| has mean sqrt(2 v / pi), and neighbours of unit variance differ by v = 2 (1 - phi): d2(2) = 2/sqrt(pi).
  const { memory } = autocorrelation(reference.memory[0]?.values ?? []);
  const movingRange = Math.sqrt((2 * 2 * (1 - memory.phi)) / Math.PI);
  expect(1 / (movingRange / (2 / Math.sqrt(Math.PI)))).toBeCloseTo(memory.sigmaRatio, 12);
});

it('does not depend on unit, offset, direction of time or gaps at the ends', () => {
  fc.assert(fc.property(fc.uniqueArray(fc.integer({ min: -1000, max: 1000 }), { minLength: 8, maxLength: 40 }), fc.constantFrom(-3, 0.5, 100), (values, scale) => {
    const r = (list: readonly (number | null)[]) => lagCorrelation(list, 1).r;
    const plain = r(values);
    expect(Math.abs(plain)).toBeLessThanOrEqual(1);
    for (const other of [values.map((value) => scale * value + 1e6), values.toReversed(), [null, ...values, null]]) expect(Math.abs(r(other) - plain)).toBeLessThan(1e-9);
  }));
});

it('no pair reaches over a gap', () => {
  expect(lagCorrelation([1, 2, null, 4, 3], 1).pairs).toBe(2);
  expect(lagCorrelation([1, 2, null, 4, 3], 2).pairs).toBe(1);
});

it('refuses what has no correlation', () => {
  expect(() => autocorrelation([1, 2, 3])).toThrow('autocorrelation: needs at least 8 readings, 3 given');
  expect(() => autocorrelation(new Array<number>(9).fill(4))).toThrow('needs readings that differ');
  expect(() => autocorrelation([1, 2, 3, 4, 5, 6, 7, Number.POSITIVE_INFINITY])).toThrow(RangeError);
  expect(() => autocorrelation([1, 2, 3, 4, 5, 6, 7, 1e308, -1e308])).toThrow(RangeError);
  expect(() => autocorrelation([1, 2, 3, 4, 5, 6, 7, 8], { lags: 3 })).toThrow('lags from 1 to 2');
  expect(() => autocorrelation([1, 2, 3, 4, 5, 6, 7, 8], { confidence: 1 })).toThrow('confidence strictly between 0 and 1');
  expect(() => lagCorrelation([1, 2], 0)).toThrow('whole lag');
});
