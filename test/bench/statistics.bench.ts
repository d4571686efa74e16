import { subgroupPass } from '#statistics/charts/batch';
import { chartConstants } from '#statistics/charts/constants';
import { type LimitsBasis, limitsForSize } from '#statistics/charts/limits';
import { subgroupStatistics } from '#statistics/charts/subgroup';
import { fireCodes } from '#statistics/rules/evaluate-array';
import { runRules, WESTERN_ELECTRIC } from '#statistics/rules/run-rules';
import { type BenchRow, interleaved } from './measure.js';

const SUBGROUPS = 1_000_000;
const SIZE = 5;
const RUNS = 15;
const WARM_UP = 4;

/**
 * Cost of judging subgroups of five, all at once and one at a time, against one plain summing pass over the same
 * readings in the same process: a ratio, so that it means the same on a slow machine.
 */
export async function benchStatistics(): Promise<BenchRow[]> {
  const values = readings(SUBGROUPS * SIZE);
  let signals = 0;
  let checksum = 0;
  const summing = async (): Promise<void> => { checksum += sum(values); };
  const batch = await interleaved(RUNS, WARM_UP, summing, async () => { signals = judgeAll(values); });
  if (!Number.isFinite(checksum) || signals === 0) throw new Error('the benchmark judged nothing');

  // As many as stay in the cache, many times: a check just keyed in does not have to be fetched from far.
  const few = 5_000;
  const times = 40;
  const subgroups = Array.from({ length: few }, (_, i) => [...values.subarray(i * SIZE, (i + 1) * SIZE)]);
  const part = values.subarray(0, few * SIZE);
  const basis = basisOf(part);
  let single = 0;
  const incremental = await interleaved(RUNS, WARM_UP, async () => { for (let i = 0; i < times; i += 1) checksum += sum(part); }, async () => { for (let i = 0; i < times; i += 1) single = judgeEach(subgroups, basis); });
  if (single === 0) throw new Error('the benchmark judged nothing');
  const per = (ms: number) => `${((ms / (few * times)) * 1e6).toFixed(1)} ns`;

  return [{
    name: 'mean, range, limits and four zone rules over 1,000,000 subgroups of 5, to one summing pass',
    ratio: batch.cost / batch.base, aim: 6,
    detail: `${batch.cost.toFixed(1)} ms to ${batch.base.toFixed(1)} ms, medians of ${RUNS}; ${signals} points with a signal`,
  }, {
    name: 'statistics and four zone rules of one more subgroup of 5, from a state, to the summing pass of a subgroup',
    ratio: incremental.cost / incremental.base, aim: 25,
    detail: `${per(incremental.cost)} to ${per(incremental.base)}, medians of ${RUNS}`,
  }];
}

function basisOf(values: Float64Array): LimitsBasis {
  const { means, grandMean, rbar } = subgroupPass(values, SIZE);
  return { kind: 'xbar-r', centre: grandMean, sigma: rbar / chartConstants(SIZE).d2, spreadCentre: rbar, subgroups: means.length, readings: values.length };
}

function judgeAll(values: Float64Array): number {
  const { means, grandMean, rbar } = subgroupPass(values, SIZE);
  const basis: LimitsBasis = { kind: 'xbar-r', centre: grandMean, sigma: rbar / chartConstants(SIZE).d2, spreadCentre: rbar, subgroups: means.length, readings: values.length };
  const limits = limitsForSize(basis, SIZE).mean;
  const codes = fireCodes(means, limits.centre, limits.sigma);
  let signals = 0;
  for (let i = 0; i < codes.length; i += 1) signals += +(codes[i] !== 0);
  return signals;
}

/** As a check comes in: one subgroup's statistics, its z, and the rules fed one point more. */
function judgeEach(subgroups: readonly (readonly number[])[], basis: LimitsBasis): number {
  const limits = limitsForSize(basis, SIZE).mean;
  const judge = runRules(WESTERN_ELECTRIC);
  let signals = 0;
  for (let i = 0; i < subgroups.length; i += 1) {
    const { mean } = subgroupStatistics(subgroups[i] as readonly number[]);
    if (judge(((mean as number) - limits.centre) / limits.sigma, i).length > 0) signals += 1;
  }
  return signals;
}

function sum(values: Float64Array): number {
  let total = 0;
  for (let i = 0; i < values.length; i += 1) total += values[i] as number;
  return total;
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
