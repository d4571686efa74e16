/** Readings with the branch of the hierarchy each belongs to, outermost level first. */
export type NestedReadings = {
  readonly names: readonly string[];
  /** labels[k][i]: what reading i is called at level k; only within its branch, so that every can may be called 1. */
  readonly labels: readonly (readonly (string | number)[])[];
  readonly values: readonly (number | null)[];
};

/** Groups of every level: for each present reading the group it is in, numbered from 0 in order of appearance. */
export type Nesting = { readonly differences: Float64Array; readonly groups: readonly { readonly name: string; readonly of: Int32Array; readonly count: number }[] };

/**
 * Numbers the groups of each level and takes the first reading out of all, which keeps the digits of the spread.
 * A missing reading (null) is left out. @throws RangeError when lists differ in length or a reading is not finite
 */
export function nestReadings({ names, labels, values }: NestedReadings, caller: string): Nesting {
  if (names.length === 0 || names.length !== labels.length) throw new RangeError(`${caller}: needs at least 1 level and as many lists of labels as levels, ${names.length} and ${labels.length} given`);
  labels.forEach((list, level) => {
    if (list.length !== values.length) throw new RangeError(`${caller}: needs one label a reading, level ${level + 1} has ${list.length} for ${values.length}`);
  });
  const present: number[] = [];
  values.forEach((value, i) => {
    if (value === null) return;
    if (!Number.isFinite(value)) throw new RangeError(`${caller}: needs finite readings, ${String(value)} given at ${i + 1}`);
    present.push(i);
  });
  const origin = present.length === 0 ? 0 : (values[present[0] as number] as number);
  const differences = Float64Array.from(present, (i) => (values[i] as number) - origin);
  if (!differences.every(Number.isFinite)) throw new RangeError(`${caller}: needs readings whose differences are within the range of numbers, larger ones given`);
  let parents: Int32Array = new Int32Array(present.length);
  const groups = names.map((name, level) => {
    const known = new Map<string, number>();
    const of = Int32Array.from(present, (i, at) => {
      const label = labels[level]?.[i];
      const key = `${parents[at]} ${typeof label} ${label}`;
      const number = known.get(key) ?? known.size;
      known.set(key, number);
      return number;
    });
    parents = of;
    return { name, of, count: known.size };
  });
  return { differences, groups };
}
