import { expect, it } from 'vitest';
import reference from '../../../test/published/capability-reference.json' with { type: 'json' };
import { agrees, agreesExactly } from '../../../test/published/agrees.js';
import { locationIndexLowerBound } from './intervals.js';
import { oneSidedIndexLowerBound } from './one-sided-index.js';
import { capabilitySampleSize, type SampleSizeInput } from './sample-size.js';

const inputOf = ({ index, target, assumed, confidence, power }: (typeof reference.sizes)[number]): SampleSizeInput =>
  ({ index: index === 'spread' ? 'spread' : 'location', target, assumed, confidence, ...(power === null ? {} : { power }) });

it.each(reference.sizes)('readings to show $target when $assumed is true, $index, power $power', (example) => {
  const source = 'SciPy 1.17 chi2 and nct, tried one by one';
  const what = `${example.index}, ${example.target} by ${example.assumed}`;
  const got = capabilitySampleSize(inputOf(example));
  agreesExactly({ method: 'Sample size for a capability index', source }, got.n, example.n, what);
  agrees({ method: 'Sample size for a capability index', source }, got.needed, example.needed, { rel: 1e-9 }, `${what}, estimate needed`);
  if (example.bissell !== null) agreesExactly({ method: 'Sample size for a capability index, Bissell 1990', source: 'SciPy 1.17 norm, tried one by one' }, got.approximateN, example.bissell, what);
});

it('sizes of Kane 1986 for both risks 10 % (Montgomery, sample size for testing Cp, from memory)', () => {
  // The ratio of the two indices is printed to two decimals, which leaves the size uncertain by up to 5 %.
  for (const [ratio, n] of [[1.88, 10], [1.53, 20], [1.41, 30], [1.34, 40], [1.3, 50], [1.27, 60], [1.25, 70], [1.23, 80], [1.21, 90], [1.2, 100]] as const) {
    agrees({ method: 'Sample size for a capability index', source: 'Kane 1986, table of Cp(high)/Cp(low), alpha = beta = 0.10 (from memory)' }, capabilitySampleSize({ index: 'spread', target: 1, assumed: ratio, confidence: 0.9, power: 0.9 }).n, n, { rel: 0.05, abs: 0.5 }, `ratio ${ratio}`);
  }
});

it('the n given is the first whose bound reaches the target', () => {
  const { n, approximateN } = capabilitySampleSize({ index: 'location', target: 1.33, assumed: 1.6 });
  expect(oneSidedIndexLowerBound(1.6, n ?? 0)).toBeGreaterThanOrEqual(1.33);
  expect(oneSidedIndexLowerBound(1.6, (n ?? 0) - 1)).toBeLessThan(1.33);
  expect(locationIndexLowerBound(1.6, approximateN ?? 0, (approximateN ?? 0) - 1)).toBeGreaterThanOrEqual(1.33);
  expect(locationIndexLowerBound(1.6, (approximateN ?? 0) - 1, (approximateN ?? 0) - 2)).toBeLessThan(1.33);
});

it('more is asked for a smaller margin, a higher confidence, more power', () => {
  const at = (more: Partial<SampleSizeInput>) => capabilitySampleSize({ index: 'spread', target: 1.33, assumed: 1.6, power: 0.8, ...more }).n ?? Number.POSITIVE_INFINITY;
  expect(at({ assumed: 1.45 })).toBeGreaterThan(at({}));
  expect(at({ confidence: 0.99 })).toBeGreaterThan(at({}));
  expect(at({ power: 0.95 })).toBeGreaterThan(at({}));
});

it('says that a million do not suffice', () => {
  expect(capabilitySampleSize({ index: 'spread', target: 1.33, assumed: 1.3301 })).toEqual({ n: null, needed: null, approximateN: null });
});

it('refuses an assumed index that does not exceed the target', () => {
  expect(() => capabilitySampleSize({ index: 'location', target: 1.33, assumed: 1.33 })).toThrow('1.33 and 1.33 given');
  expect(() => capabilitySampleSize({ index: 'location', target: 1.33, assumed: 1e308 })).toThrow('at most 100');
  expect(() => capabilitySampleSize({ index: 'location', target: Number.NaN, assumed: 2 })).toThrow('NaN given');
  expect(() => capabilitySampleSize({ index: 'location', target: 1, assumed: 2, confidence: 1 })).toThrow('needs a confidence strictly between 0 and 1, 1 given');
  expect(() => capabilitySampleSize({ index: 'location', target: 1, assumed: 2, power: 0 })).toThrow('needs a power strictly between 0 and 1, 0 given');
});
