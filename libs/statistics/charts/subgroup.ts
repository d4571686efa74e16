import { mean } from '../numeric/mean.js';
import { standardDeviation } from '../numeric/standard-deviation.js';
import { type ChartBasis, chartedMembers } from './charted-members.js';

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
  let n = 0;
  // Places of the extremes, moved by arithmetic: a branch would be guessed wrong two or three times a subgroup.
  let lowAt = 0;
  while (readings[lowAt] === null) lowAt += 1;
  let highAt = lowAt;
  for (let at = 0; at < readings.length; at += 1) {
    const reading = readings[at] as number | null;
    if (reading === null) continue;
    if (!Number.isFinite(reading)) {
      throw new RangeError(`subgroupStatistics: reading ${at + 1} of ${readings.length} is ${String(reading)}, a finite number or null is expected`);
    }
    n += 1;
    lowAt += (at - lowAt) & -(reading < (readings[lowAt] as number));
    highAt += (at - highAt) & -(reading > (readings[highAt] as number));
  }
  if (n === 0) return { n, mean: null, range: null, sd: null, low: null, high: null };
  // Most subgroups are whole, and then need no copy.
  const present = n === readings.length ? (readings as readonly number[]) : readings.filter((reading) => reading !== null);
  const low = readings[lowAt] as number;
  const high = readings[highAt] as number;
  const centre = mean(present);
  const width = n < 2 ? null : high - low;
  const sd = n < 2 ? null : standardDeviation(present, 'subgroupStatistics');
  return { n, mean: centre, range: width, sd, low, high };
}

/**
 * The lowest and the highest of the readings, null where none is present: what a subgroup of cans keeps of the readings beneath its members.
 * @throws RangeError when a reading is NaN or infinite (1-based position is named)
 */
export function extremesOf(readings: readonly (number | null)[]): { low: number | null; high: number | null } {
  let [low, high] = [Infinity, -Infinity];
  for (let at = 0; at < readings.length; at += 1) {
    const reading = readings[at] as number | null;
    if (reading === null) continue;
    if (!Number.isFinite(reading)) throw new RangeError(`extremesOf: reading ${at + 1} of ${readings.length} is ${String(reading)}, a finite number or null is expected`);
    if (reading < low) low = reading;
    if (reading > high) high = reading;
  }
  return low <= high ? { low, high } : { low: null, high: null };
}

/**
 * What a control chart keeps of the readings of a subgroup by its basis: n, mean, range and sd of the charted members, the
 * extremes of the readings beneath them.
 * @param readings can after can, and position after position within a can; null = missing
 * @throws RangeError as `chartedMembers` and `subgroupStatistics` do
 */
export function chartedStatistics(readings: readonly (number | null)[], positionsPerCan: number, basis: ChartBasis): SubgroupStatistics {
  const members = subgroupStatistics(chartedMembers(readings, positionsPerCan, basis));
  if (basis === 'reading') return members;
  // Field by field: spreading an object of numbers that are not whole costs ten times as much as all else of a batch.
  const { n, mean: centre, range, sd } = members;
  const { low, high } = extremesOf(readings);
  return { n, mean: centre, range, sd, low, high };
}

export { type ChartBasis, chartedMembers };
