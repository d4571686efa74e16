import { andersonDarling } from '#statistics/capability/anderson-darling';
import { capabilityOfArray } from '#statistics/capability/capability-of-array';
import { normalQuantile } from '#statistics/distributions/normal';
import { type BenchRow, interleaved } from './measure.js';

const VALUES = 1_000_000;
const RUNS = 9;

/**
 * Test of normality and every capability figure of a million readings, against sorting the same array once in the same
 * process: a ratio, so that it means the same on a slow machine. The test itself has to sort.
 */
export async function benchCapability(): Promise<BenchRow[]> {
  const values = readings(VALUES);
  let checksum = 0;
  const pause = () => new Promise<void>((resolve) => { setImmediate(resolve); });
  const { base, cost } = await interleaved(RUNS, 3,
    async () => { checksum += values.slice().sort()[VALUES >> 1] as number; },
    async () => {
      checksum += andersonDarling(values).a2 + (capabilityOfArray(values, 5, { lsl: 1.1, usl: 1.3, target: 1.2 }).ppk ?? Number.NaN);
    });
  await pause();
  if (!Number.isFinite(checksum)) throw new Error('the benchmark judged nothing');
  return [{ name: 'Anderson-Darling and capability of 1,000,000 readings, to one sort of them', ratio: cost / base, aim: 2, detail: `${cost.toFixed(1)} ms to ${base.toFixed(1)} ms, medians of ${RUNS}` }];
}

/** Normal quantiles of a fixed linear congruential sequence: mean 1.20 mm, sd 0.02. */
function readings(count: number): Float64Array {
  let state = 20_240_611;
  return Float64Array.from({ length: count }, () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return 1.2 + 0.02 * normalQuantile((state + 0.5) / 2 ** 32);
  });
}
