import fc from 'fast-check';
import { expect, it } from 'vitest';
import { agrees, agreesExactly } from '../../../test/published/agrees.js';
import reference from '../../../test/published/scheme-references.json' with { type: 'json' };
import type { RunLength } from './follow-walks.js';
import { countOperatingCharacteristic, type Miss, proportionOperatingCharacteristic, sdOperatingCharacteristic } from './operating-characteristic.js';
import { runLengthsOfCusum } from './run-length-of-cusum.js';
import { runLengthsOfEwma } from './run-length-of-ewma.js';

type Row = { readonly shift: number; readonly arl: number; readonly steadyStateArl: number; readonly falseAlarm: number; readonly percentiles: readonly number[]; readonly survivalAt10: number };
const AT_10 = Object.freeze({ survivalAt: Object.freeze([10]) });

function compare(check: { method: string; source: string }, got: RunLength | undefined, row: Row, what: string): void {
  agrees(check, got?.arl, row.arl, { rel: 1e-9 }, `mean, ${what}`);
  agrees(check, got?.steadyStateArl, row.steadyStateArl, { rel: 1e-9 }, `steady state, ${what}`);
  agrees(check, got?.falseAlarm, row.falseAlarm, { rel: 1e-8 }, `false alarm, ${what}`);
  agrees(check, got?.survival[0]?.share, row.survivalAt10, { rel: 1e-10, abs: 1e-12 }, `survival of 10, ${what}`);
  agreesExactly(check, got?.percentiles.map(({ points }) => points), row.percentiles, `percentiles, ${what}`);
}

it.each(reference.ewma)('a weighted average of lambda $lambda, width $width from $start at shift $shift as by linear solve and eigenvector', ({ lambda, width, start, shift, ...row }) => {
  const source = 'NumPy, integral equation on 240 nodes (make-scheme-references.py)';
  compare({ method: 'Run length of EWMA', source }, runLengthsOfEwma({ lambda, width, start }, [shift], AT_10)[0], { shift, ...row }, `lambda ${lambda}, width ${width}, start ${start}, shift ${shift}`);
});

it.each(reference.oneSided)('one sum of k $k, h $h from $headStart at shift $shift as by linear solve and eigenvector, and its mirror image', ({ k, h, headStart, shift, ...row }) => {
  const check = { method: 'Run length of CUSUM, one side', source: 'NumPy, integral equation on 240 nodes (make-scheme-references.py)' };
  const what = `k ${k}, h ${h}, head start ${headStart}, shift ${shift}`;
  compare(check, runLengthsOfCusum({ k, h, headStart, sides: 'above' }, [shift], AT_10)[0], { shift, ...row }, what);
  expect(runLengthsOfCusum({ k, h, headStart, sides: 'below' }, [-shift], AT_10)).toEqual(runLengthsOfCusum({ k, h, headStart, sides: 'above' }, [shift], AT_10));
});

it.each(reference.twoSided)('both sums of k $k, h $h from $headStart at shift $shift as combined from single ones by renewal', ({ k, h, headStart, shift, ...row }) => {
  const check = { method: 'Run length of CUSUM, both sides', source: 'NumPy, single sums combined by renewal (make-scheme-references.py)' };
  compare(check, runLengthsOfCusum({ k, h, headStart }, [shift], AT_10)[0], { shift, ...row }, `k ${k}, h ${h}, head start ${headStart}, shift ${shift}`);
});

it.each(reference.simulated)('both sums of k $k, h $h from $headStart at shift $shift after $quiet quiet points as simulated', ({ k, h, headStart, shift, quiet, mean, standardError }) => {
  const [got] = runLengthsOfCusum({ k, h, headStart }, [shift]);
  // Four standard errors of the simulation: met by all but one in 16,000 right answers.
  agrees({ method: 'Run length of CUSUM, both sides', source: 'simulation by sight (make-scheme-references.py), 300,000 series' }, quiet === 0 ? got?.arl : got?.steadyStateArl, mean, { abs: 4 * standardError }, `k ${k}, h ${h}, shift ${shift}, quiet ${quiet}`);
});

it('a weighted average with limits of three sigmas runs as long as in print', () => {
  const check = { method: 'Run length of EWMA', source: 'Crowder 1987, Technometrics 29(4), L = 3 (from memory, recomputed)' };
  for (const [lambda, arl] of [[0.5, 397.46], [0.25, 502.9], [0.1, 842.15]] as const) agrees(check, runLengthsOfEwma({ lambda, width: 3 }, [0])[0]?.arl, arl, { abs: 0.01 }, `lambda ${lambda}`);
});

it('shifts down are as shifts up for whatever has two like sides', () => {
  fc.assert(fc.property(fc.double({ min: 0.05, max: 1, noNaN: true }), fc.double({ min: 0, max: 4, noNaN: true }), (lambda, shift) => {
    const [up, down] = runLengthsOfEwma({ lambda, width: 2.5 }, [shift, -shift]);
    expect((down?.arl ?? 0) / (up?.arl ?? 1)).toBeCloseTo(1, 9);
    const [above, below] = runLengthsOfCusum({ k: lambda, h: 3, headStart: 1.5 }, [shift, -shift]);
    expect((below?.steadyStateArl ?? 0) / (above?.steadyStateArl ?? 1)).toBeCloseTo(1, 9);
  }), { numRuns: 15 });
});

it('schemes that hardly ever signal keep their digits, and those that never do have no mean', () => {
  // By Kemp 1961 both sums signal twice as often as one, which is exact where neither has a head start.
  for (const h of [10, 20, 30]) {
    const [[both], [one]] = [runLengthsOfCusum({ k: 0.5, h }, [0]), runLengthsOfCusum({ k: 0.5, h, sides: 'above' }, [0])];
    agrees({ method: 'Run length of CUSUM, both sides', source: 'Kemp 1961, JRSS B 23: 1/ARL = 1/ARL+ + 1/ARL-' }, both?.arl, (one?.arl ?? 0) / 2, { rel: 1e-9 }, `h ${h}`);
  }
  expect(runLengthsOfCusum({ k: 50, h: 50 }, [0])[0]?.arl).toBeNull();
  for (const shift of [1e308, -1e308, 60]) expect(runLengthsOfCusum({ k: 0.5, h: 4 }, [shift])[0]?.arl).toBe(1);
  expect(() => runLengthsOfCusum({ k: 0, h: 4 }, [0])).toThrow('runLengthsOfCusum: needs an allowance k above 0 for sums of both sides, 0 given');
});

const seenOf = (miss: Miss | undefined): number => 1 / (miss?.arl ?? Number.NaN);

it('operating characteristics as SciPy gives them, the hardly ever seen too', () => {
  const source = 'SciPy 1.17 binom, poisson, chi2 (make-scheme-references.py)';
  for (const { n, ratio, seen } of reference.operating.sd) agrees({ method: 'Operating characteristic of standard deviations', source }, seenOf(sdOperatingCharacteristic(n, [ratio])[0]), seen, { rel: 1e-9, abs: 1e-60 }, `n ${n}, ratio ${ratio}`);
  for (const { n, centre, share, seen } of reference.operating.p) agrees({ method: 'Operating characteristic of proportions', source }, seenOf(proportionOperatingCharacteristic(n, centre, [share])[0]), seen, { rel: 1e-11 }, `n ${n}, centre ${centre}, share ${share}`);
  for (const { centre, mean, seen } of reference.operating.c) agrees({ method: 'Operating characteristic of counts', source }, seenOf(countOperatingCharacteristic(centre, [mean])[0]), seen, { rel: 1e-11 }, `centre ${centre}, mean ${mean}`);
});

it('operating characteristics of a proportion and of a count as tabulated in a textbook', () => {
  const p = { method: 'Operating characteristic of proportions', source: 'Montgomery, Introduction to Statistical Quality Control, OC of the p chart, n 50, limits 0.0303 and 0.3697 (from memory, recomputed)' };
  const shares = [0.01, 0.03, 0.05, 0.1, 0.2, 0.25, 0.3, 0.35, 0.4, 0.45, 0.5, 0.55];
  const missed = [0.0894, 0.4447, 0.7206, 0.9662, 0.9973, 0.9713, 0.8594, 0.6216, 0.3356, 0.1273, 0.0325, 0.0053];
  proportionOperatingCharacteristic(50, 0.2, shares).forEach((got, i) => { agrees(p, got.missed, missed[i] as number, { abs: 1.01e-4 }, `share ${shares[i]}`); });
  const c = { method: 'Operating characteristic of counts', source: 'Montgomery, Introduction to Statistical Quality Control, OC of the c chart, limits 6.48 and 33.22 (from memory, recomputed)' };
  const means = [3, 5, 7, 10, 20, 25, 30, 35, 40, 45];
  const within = [0.034, 0.238, 0.55, 0.87, 0.997, 0.95, 0.744, 0.41, 0.151, 0.038];
  countOperatingCharacteristic(19.85, means).forEach((got, i) => { agrees(c, got.missed, within[i] as number, { abs: 1.01e-3 }, `mean ${means[i]}`); });
});
