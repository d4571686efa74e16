import { mean } from '../numeric/mean.js';
import { range } from '../numeric/range.js';
import { standardDeviation } from '../numeric/standard-deviation.js';

/** What a control chart keeps of one subgroup; all but n in the unit of the readings. */
export type SubgroupStatistics = {
  /** Readings present. A missing reading makes the subgroup smaller; it is never a zero. */
  readonly n: number;
  readonly mean: number | null;
  /** Largest less smallest, and sample sd with divisor n-1: null under two readings, since one has no spread. */
  readonly range: number | null;
  readonly sd: number | null;
  readonly low: number | null;
  readonly high: number | null;
};

/**
 * Statistics of one subgroup; null stands for a reading that is missing. All missing gives n = 0 and nulls.
 * @throws RangeError when a reading is NaN or infinite (1-based position is named), or so large that its square is beyond
 * the range of numbers: a gauge never reads that
 */
export function subgroupStatistics(readings: readonly (number | null)[]): SubgroupStatistics {
  readings.forEach((reading, index) => {
    if (reading !== null && !Number.isFinite(reading)) {
      throw new RangeError(`subgroupStatistics: reading ${index + 1} of ${readings.length} is ${String(reading)}, a finite number or null is expected`);
    }
  });
  const present = readings.filter((reading) => reading !== null);
  const n = present.length;
  if (n === 0) return { n, mean: null, range: null, sd: null, low: null, high: null };
  const statistics = { mean: mean(present), range: n < 2 ? null : range(present), sd: n < 2 ? null : standardDeviation(present) };
  for (const statistic of [statistics.mean, statistics.range, statistics.sd]) {
    if (statistic !== null && !Number.isFinite(statistic)) throw new RangeError('subgroupStatistics: needs readings whose squares are within the range of numbers, larger ones given');
  }
  return {
    n,
    ...statistics,
    low: present.reduce((a, b) => Math.min(a, b)),
    high: present.reduce((a, b) => Math.max(a, b)),
  };
}

export { type ChartBasis, chartedMembers } from './charted-members.js';
