import { subgroupPass } from '#statistics/charts/batch';
import { limitsForSize } from '#statistics/charts/limits';
import { chartConstants } from '#statistics/charts/constants';
import { fireCodes } from '#statistics/rules/evaluate-array';

const SUBGROUPS = 1_000_000;
const SIZE = 5;
const RUNS = 9;

/**
 * Cost of judging a million subgroups of five, against one plain summing pass over the same five million readings in
 * the same process: a ratio, so that it means the same on a slow machine. Medians of several interleaved runs.
 */
export async function benchStatistics(): Promise<{ name: string; ratio: number; aim: number; detail: string }[]> {
  const values = readings(SUBGROUPS * SIZE);
  const plain: number[] = [];
  const judged: number[] = [];
  let signals = 0;
  let checksum = 0;
  // The first turns are spent on compiling and are not counted.
  for (let run = 0; run < 3; run += 1) { checksum += sum(values); signals = judge(values); }
  for (let run = 0; run < RUNS; run += 1) {
    plain.push(timed(() => { checksum += sum(values); }));
    judged.push(timed(() => { signals = judge(values); }));
    // The event loop gets a turn, so that a caller who reports progress can.
    await new Promise((resolve) => setImmediate(resolve));
  }
  if (!Number.isFinite(checksum) || signals === 0) throw new Error('the benchmark judged nothing');
  const base = median(plain);
  const cost = median(judged);
  return [{
    name: 'mean, range, limits and four zone rules over 1,000,000 subgroups of 5, to one summing pass',
    ratio: cost / base,
    aim: 8,
    detail: `${cost.toFixed(1)} ms to ${base.toFixed(1)} ms, medians of ${RUNS}; ${signals} points with a signal`,
  }];
}

function judge(values: Float64Array): number {
  const { means, grandMean, rbar } = subgroupPass(values, SIZE);
  const basis = { kind: 'xbar-r', centre: grandMean, sigma: rbar / chartConstants(SIZE).d2, spreadCentre: rbar, subgroups: means.length, readings: values.length } as const;
  const limits = limitsForSize(basis, SIZE).mean;
  const codes = fireCodes(means, limits.centre, limits.sigma);
  let signals = 0;
  for (let i = 0; i < codes.length; i += 1) if (codes[i] !== 0) signals += 1;
  return signals;
}

function sum(values: Float64Array): number {
  let total = 0;
  for (let i = 0; i < values.length; i += 1) total += values[i] as number;
  return total;
}

function timed(work: () => void): number {
  const start = performance.now();
  work();
  return performance.now() - start;
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)] ?? Number.NaN;
}

/** Readings round 1.20 mm with sd 0.02: twelve uniform numbers of a fixed linear congruential sequence, summed. */
function readings(count: number): Float64Array {
  let state = 20_240_611;
  const values = new Float64Array(count);
  for (let i = 0; i < count; i += 1) {
    let total = 0;
    for (let k = 0; k < 12; k += 1) {
      state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
      total += state / 2 ** 32;
    }
    values[i] = 1.2 + 0.02 * (total - 6);
  }
  return values;
}
