import { expect, it } from 'vitest';
import { agrees } from '../../../test/published/agrees.js';
import reference from '../../../test/published/choosing.json' with { type: 'json' };
import { mean } from '../numeric/mean.js';
import { standardDeviation } from '../numeric/standard-deviation.js';
import { compareLimits, type LimitsRevision } from './compare-limits.js';

const revision = (values: readonly number[]): LimitsRevision => ({ centre: mean(values), sigma: standardDeviation(values) ?? Number.NaN, readings: values.length, freedom: values.length - 1 });

it('compares centres and spreads as the tests of Welch and Fisher do', () => {
  for (const { before, after, t, df, p, f, pf } of reference.revisions) {
    const { shift, spread } = compareLimits(revision(before), revision(after));
    const welch = { method: 'Shift between two revisions of limits', source: 'R 4.2.2 t.test' };
    agrees(welch, shift.t, t, { rel: 1e-12 }, 't');
    agrees(welch, shift.df, df, { rel: 1e-12 }, 'df');
    agrees(welch, shift.p, p, { rel: 1e-9 }, 'p');
    const fisher = { method: 'Ratio of sigmas of two revisions', source: 'R 4.2.2 var.test' };
    agrees(fisher, spread.f, f, { rel: 1e-12 }, 'F');
    agrees(fisher, spread.p, pf, { rel: 1e-9 }, 'p');
    expect(shift.inSigma).toBeCloseTo((mean(after) - mean(before)) / (standardDeviation(before) ?? Number.NaN), 12);
    expect(spread.ratio ** 2).toBeCloseTo(f, 12);
  }
});

it('the way back has the same probabilities, the opposite shift and the reciprocal ratio', () => {
  const [first] = reference.revisions;
  const [before, after] = [revision(first?.before ?? []), revision(first?.after ?? [])];
  const there = compareLimits(before, after);
  const back = compareLimits(after, before);
  expect(back.shift.value).toBe(-there.shift.value);
  expect(back.shift.p).toBeCloseTo(there.shift.p, 12);
  expect(back.spread.p).toBeCloseTo(there.spread.p, 12);
  expect(back.spread.ratio * there.spread.ratio).toBeCloseTo(1, 12);
});

it('a revision equal to the one before differs by nothing', () => {
  const same = { centre: 1.25, sigma: 0.02, readings: 100, freedom: 75.2 };
  expect(compareLimits(same, same)).toMatchObject({ shift: { value: 0, inSigma: 0, t: 0, p: 1 }, spread: { ratio: 1, f: 1, p: 1 } });
});

it('refuses limits that are none', () => {
  const good = { centre: 1, sigma: 1, readings: 20, freedom: 15 };
  const against = (part: Partial<LimitsRevision>) => () => compareLimits(good, { ...good, ...part });
  expect(against({ sigma: 0 })).toThrow('compareLimits: needs a positive new sigma, 0 given');
  expect(against({ centre: Number.NaN })).toThrow('finite new centre');
  expect(against({ readings: 1 })).toThrow('2 or more, 1 given');
  expect(against({ freedom: 0 })).toThrow('positive degrees of freedom');
  expect(against({ sigma: 1e300 })).toThrow('beyond the range of numbers');
  expect(() => compareLimits({ ...good, centre: -1e308 }, { ...good, centre: 1e308 })).toThrow('beyond the range of numbers');
});
