import { mean } from '../numeric/mean.js';

/** Whether every reading of a subgroup is a member of it, or every can. */
export type ChartBasis = 'reading' | 'can';

/**
 * The members of a subgroup that go on the chart.
 * Points round one can are not a sample of the process: the seam goes thick and thin round the chuck in the same
 * place can after can, so their spread says nothing about the next can and would set limits too wide or too narrow.
 * Basis 'can' therefore gives one member a can, the mean of its present positions (null when none is present).
 * Source: common practice, no source; it is the rational subgroup of Shewhart 1931 applied to a can.
 * @param readings can after can, and position after position within a can; null = missing
 * @param positionsPerCan how many readings each can has, missing ones included
 * @throws RangeError when the readings do not make whole cans, or one is NaN or infinite
 */
export function chartedMembers(readings: readonly (number | null)[], positionsPerCan: number, basis: ChartBasis): (number | null)[] {
  if (!Number.isInteger(positionsPerCan) || positionsPerCan < 1) {
    throw new RangeError(`chartedMembers: needs a whole number of positions a can, 1 or more, ${positionsPerCan} given`);
  }
  if (basis === 'reading') return readings.slice();
  if (readings.length % positionsPerCan !== 0) {
    throw new RangeError(`chartedMembers: ${readings.length} readings do not make whole cans of ${positionsPerCan} positions; a missing one is expected as null`);
  }
  const cans: (number | null)[] = [];
  const present: number[] = [];
  for (let first = 0; first < readings.length; first += positionsPerCan) {
    // One list serves all cans: there are as many cans as subgroups have members, in every check of an import.
    let count = 0;
    for (let at = first; at < first + positionsPerCan; at += 1) {
      const reading = readings[at] as number | null;
      if (reading === null) continue;
      present[count] = reading;
      count += 1;
    }
    if (present.length !== count) present.length = count;
    cans.push(count === 0 ? null : mean(present));
  }
  return cans;
}
