import { expect, it } from 'vitest';
import published from '../../../test/published/scheme-run-lengths.json' with { type: 'json' };
import { agrees } from '../../../test/published/agrees.js';
import { runLengthsOfCusum } from './run-length-of-cusum.js';
import { runLengthsOfEwma } from './run-length-of-ewma.js';
import { runLengthOfRules } from './run-length-of-rules.js';

it.each(published.cusum.rows)('cumulative sums with k $k, h $h run as long as the integral equation says', ({ k, h, arl }) => {
  const lengths = runLengthsOfCusum({ k, h }, published.cusum.shifts);
  arl.forEach((expected, i) => {
    agrees({ method: 'Run length of CUSUM', source: published.cusum.source }, lengths[i]?.arl, expected, published.cusum.tolerance, `k ${k}, h ${h}, shift ${published.cusum.shifts[i]}`);
  });
});

it.each(published.oneSided.rows)('one sum alone with k $k, h $h', ({ k, h, arl }) => {
  agrees({ method: 'Run length of CUSUM, one side', source: published.oneSided.source }, runLengthsOfCusum({ k, h, sides: 'above' }, [0])[0]?.arl, arl, published.oneSided.tolerance, `k ${k}, h ${h}`);
});

it.each(published.fastStart.rows)('a head start of half h shortens the first run: k $k, h $h', ({ k, h, arl }) => {
  const lengths = runLengthsOfCusum({ k, h, headStart: h / 2 }, published.fastStart.shifts);
  arl.forEach((expected, i) => {
    agrees({ method: 'Run length of CUSUM with head start', source: published.fastStart.source }, lengths[i]?.arl, expected, published.fastStart.tolerance, `k ${k}, h ${h}, shift ${published.fastStart.shifts[i]}`);
  });
});

it.each(published.ewma.rows)('a weighted average with lambda $lambda, width $width runs as long as Lucas & Saccucci 1990 found', ({ lambda, width, arl }) => {
  const lengths = runLengthsOfEwma({ lambda, width }, published.ewma.shifts);
  arl.forEach((expected, i) => {
    agrees({ method: 'Run length of EWMA', source: published.ewma.source }, lengths[i]?.arl, expected, published.ewma.tolerance, `lambda ${lambda}, width ${width}, shift ${published.ewma.shifts[i]}`);
  });
});

it('with all weight on the newest value the average is the plain chart', () => {
  const plain = runLengthOfRules(['beyond-limits'], 1);
  const [all] = runLengthsOfEwma({ lambda: 1, width: 3 }, [1]);
  agrees({ method: 'Run length of EWMA', source: 'the Shewhart chart, lambda 1: 1/p' }, all?.arl, plain.arl as number, { rel: 1e-9 }, 'lambda 1');
  expect(all?.percentiles).toEqual(plain.percentiles);
});

it('without allowance for anything but h = tiny the sums signal at the first step to their side', () => {
  // A sum above a vanishing h is a value above k: the run length is that of one tail.
  const [length] = runLengthsOfCusum({ k: 1, h: 1e-9, sides: 'above' }, [0]);
  agrees({ method: 'Run length of CUSUM, one side', source: 'one normal tail, 1/P(Z > 1) = 6.302974 (Abramowitz & Stegun 1964, table 26.1)' }, length?.arl, 6.302974, { rel: 1e-6 }, 'h near 0');
});

it('survival falls from one, and half of the series have signalled at the median', () => {
  const [length] = runLengthsOfCusum({ k: 0.5, h: 4 }, [0.5], { survivalAt: [0, 5, 10, 20, 40] });
  const shares = length?.survival.map(({ share }) => share) ?? [];
  expect(shares[0]).toBe(1);
  shares.slice(1).forEach((share, i) => { expect(share).toBeLessThan(shares[i] ?? 0); });
  const median = length?.percentiles.find(({ share }) => share === 0.5)?.points ?? 0;
  const [at] = runLengthsOfCusum({ k: 0.5, h: 4 }, [0.5], { survivalAt: [median - 1, median] });
  expect(at?.survival[0]?.share).toBeGreaterThan(0.5);
  expect(at?.survival[1]?.share).toBeLessThanOrEqual(0.5);
});

it('a shift after long steady running is found no later than one from the very start, for sums and averages', () => {
  for (const [length] of [runLengthsOfCusum({ k: 0.5, h: 5 }, [1]), runLengthsOfEwma({ lambda: 0.1, width: 2.814 }, [1])]) expect(length?.steadyStateArl).toBeLessThan(length?.arl ?? 0);
});

it('refuses schemes that are none', () => {
  expect(() => runLengthsOfEwma({ lambda: 0, width: 3 }, [0])).toThrow('runLengthsOfEwma: needs a lambda');
  expect(() => runLengthsOfEwma({ lambda: 0.2, width: Number.NaN }, [0])).toThrow('positive width');
  expect(() => runLengthsOfEwma({ lambda: 1e-8, width: 3 }, [0])).toThrow('larger lambda');
  expect(() => runLengthsOfCusum({ k: -1, h: 4 }, [0])).toThrow('allowance k');
  expect(() => runLengthsOfCusum({ k: 0.5, h: 1e308 }, [0])).toThrow('decision interval');
  expect(() => runLengthsOfCusum({ k: 0.5, h: 4, headStart: 5 }, [0])).toThrow('head start');
  expect(() => runLengthsOfCusum({ k: 0.5, h: 4 }, [Number.POSITIVE_INFINITY])).toThrow('finite shift');
});
