import { expect, it } from 'vitest';
import reference from '../../../test/published/capability-reference.json' with { type: 'json' };
import { agrees } from '../../../test/published/agrees.js';
import { expectWithin } from '../../../test/published/within.js';
import { targetIndexInterval, targetIndexLowerBound } from './target-index.js';

it.each(reference.cpm)('interval of Cpm, width $width, sd $sd, $offset off target, n $n', ({ low, high, bound, confidence, ...spread }) => {
  const check = { method: 'Interval of Cpm', source: 'Boyles 1991, recomputed with SciPy 1.17 chi2.ppf' };
  const got = targetIndexInterval(spread, confidence);
  agrees(check, got.low, low, { rel: 1e-10 }, `n ${spread.n}, low`);
  agrees(check, got.high, high, { rel: 1e-10 }, `n ${spread.n}, high`);
  agrees(check, targetIndexLowerBound(spread, confidence), bound, { rel: 1e-10 }, `n ${spread.n}, bound`);
});

it('covers the true Cpm about as often as it says (4000 made-up samples of 25, mean 1 sigma off)', () => {
  let state = 20_251_001;
  const uniform = () => {
    state = (state * 48_271) % 2_147_483_647;
    return state / 2_147_483_647;
  };
  const normal = () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
  const truth = 8 / (6 * Math.SQRT2);
  let held = 0;
  for (let sample = 0; sample < 4000; sample += 1) {
    const x = Array.from({ length: 25 }, normal);
    const mean = x.reduce((a, b) => a + b) / 25;
    const sd = Math.sqrt(x.reduce((sum, value) => sum + (value - mean) ** 2, 0) / 24);
    if (targetIndexLowerBound({ width: 8, sd, offset: mean + 1, n: 25 }, 0.9) <= truth) held += 1;
  }
  // Two standard errors of the count are one per cent; the approximation takes another one or two.
  expectWithin(held / 4000, 0.9, { abs: 0.025 }, 'share of bounds that hold');
});

it('goes on smoothly where the series gives way to the cube root, and far from the target', () => {
  const at = (n: number) => targetIndexLowerBound({ width: 6, sd: 1, offset: 0, n });
  expectWithin(at(1_000_001), at(1_000_000), { rel: 1e-8 }, 'a million readings');
  const far = targetIndexInterval({ width: 6, sd: 1e-9, offset: 1, n: 10 });
  expectWithin(far.low, 1, { rel: 1e-6 }, 'low');
  expectWithin(far.high, 1, { rel: 1e-6 }, 'high');
});

it('refuses what has no Cpm', () => {
  expect(() => targetIndexInterval({ width: 1, sd: 0, offset: 0, n: 5 })).toThrow('targetIndexInterval: needs a positive standard deviation, 0 given');
  expect(() => targetIndexInterval({ width: 1, sd: 1, offset: Number.NaN, n: 5 })).toThrow('finite distance of the mean from the target, NaN given');
  expect(() => targetIndexLowerBound({ width: 1, sd: 1, offset: 0, n: 1 })).toThrow('2 or more, 1 given');
  expect(() => targetIndexLowerBound({ width: 1, sd: 1, offset: 0, n: 5 }, 2)).toThrow('strictly between 0 and 1, 2 given');
});
