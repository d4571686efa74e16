import { expect, it } from 'vitest';
import { agrees } from '../../../test/published/agrees.js';
import { upperBoundZeroFound } from './zero-found.js';

it('is 1 - 0.05^(1/n) at 95 % (Clopper & Pearson 1934, no defective)', () => {
  for (const n of [1, 20, 59, 100, 299]) agrees({ method: 'Bound of a clean sample', source: 'Clopper & Pearson 1934, none found' }, upperBoundZeroFound(n), 1 - 0.05 ** (1 / n), { rel: 1e-12 }, `n ${n}`);
});

it('59 clean units show less than 5 %, 299 less than 1 %: the sample sizes quoted for it (common practice, no source)', () => {
  expect(upperBoundZeroFound(59)).toBeLessThan(0.05);
  expect(upperBoundZeroFound(58)).toBeGreaterThan(0.05);
  expect(upperBoundZeroFound(299)).toBeLessThan(0.01);
  expect(upperBoundZeroFound(298)).toBeGreaterThan(0.01);
});

it('is about three over n (Hanley & Lippman-Hand 1983), also where 1 - x would lose its digits', () => {
  agrees({ method: 'Bound of a clean sample', source: 'Hanley & Lippman-Hand 1983, rule of three' }, upperBoundZeroFound(1e12), 3e-12, { rel: 0.002 }, 'a million million');
});

it('is never reached by no sample, and refuses one', () => {
  for (const n of [0, -1, 1.5, Number.NaN]) expect(() => upperBoundZeroFound(n)).toThrow(`whole number of units, 1 or more, ${n} given`);
  for (const confidence of [0, 1, Number.NaN]) expect(() => upperBoundZeroFound(10, confidence)).toThrow(`strictly between 0 and 1, ${confidence} given`);
});
