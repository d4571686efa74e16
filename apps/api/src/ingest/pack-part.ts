import { remember } from '../platform/remember.js';
import { withNulls } from './group-checks.js';
import type { SortedPart } from './sort-rows.js';

/** A part whose readings are bytes: a thread hands those over as they are, while numbers would be copied one by one and come out as objects. */
export type PackedPart = { part: SortedPart; /** Check after check, NaN where a reading is missing. */ readings: Float64Array<ArrayBuffer>; /** How many each characteristic of each check has. */ lengths: Uint16Array<ArrayBuffer> };

export function packPart(part: SortedPart): PackedPart {
  const all = part.checks.flatMap(({ check }) => check.characteristics);
  const lengths = new Uint16Array(all.map((entry) => entry.readings.length));
  const readings = new Float64Array(lengths.reduce((sum, length) => sum + length, 0));
  let at = 0;
  for (const { readings: list } of all) {
    for (let index = 0; index < list.length; index += 1) readings[at + index] = list[index] ?? NaN;
    at += list.length;
  }
  const checks = part.checks.map((entry) => ({ ...entry, check: { ...entry.check, characteristics: entry.check.characteristics.map((one) => ({ ...one, readings: [] })) } }));
  return { part: { ...part, checks }, readings, lengths };
}

export function unpackPart({ part, readings, lengths }: PackedPart): SortedPart {
  let [at, place] = [0, 0];
  const likeOf = remember((length: number) => Array.from({ length }, () => 0.5));
  for (const entry of part.checks.flatMap(({ check }) => check.characteristics)) {
    // A copy of a list of as many numbers, filled: several times faster than Array.from, and still an array of plain numbers to the engine.
    const values = likeOf(lengths[place] as number).slice();
    for (let index = 0; index < values.length; index += 1) values[index] = readings[at + index] as number;
    at += values.length;
    place += 1;
    entry.readings = withNulls(values);
  }
  return part;
}
