/** A stretch of places, `to` not included, and into how many parts of a screen it falls. */
export type Stretch = { from: number; to: number; parts: number };

/**
 * The places of a long line that a screen can show, in order: of each part of a stretch its first, last, lowest and
 * highest point (M4: Jugel, Jerzak, Hackenbroich and Markl 2014, PVLDB 7(10)), which draws the same picture. Besides
 * them every place of `keep`, whatever its value, and both sides of each gap, so that a gap stays one.
 */
export function thinPoints(values: readonly (number | null)[], keep: Iterable<number>, stretches: readonly Stretch[]): number[] {
  const kept = new Set<number>();
  for (const place of keep) if (Number.isInteger(place) && place >= 0 && place < values.length) kept.add(place);
  for (const { from, to, parts } of stretches) {
    if (!(Number.isInteger(parts) && parts > 0)) throw new RangeError(`parts: needs a whole number above 0, ${parts} given`);
    const size = to - from;
    for (let part = 0; part < parts; part += 1) keepPart(values, from + Math.floor((part * size) / parts), from + Math.floor(((part + 1) * size) / parts), kept);
  }
  for (let place = 1; place < values.length; place += 1) {
    if (isGap(values[place]) !== isGap(values[place - 1])) kept.add(place - 1).add(place);
  }
  return [...kept].sort((a, b) => a - b);
}

const isGap = (value: number | null | undefined): boolean => value === null || value === undefined;

function keepPart(values: readonly (number | null)[], from: number, to: number, kept: Set<number>): void {
  if (to <= from) return;
  kept.add(from).add(to - 1);
  let [lowest, highest] = [-1, -1];
  for (let place = from; place < to; place += 1) {
    const value = values[place];
    if (value === null || value === undefined) continue;
    if (lowest < 0 || value < (values[lowest] as number)) lowest = place;
    if (highest < 0 || value > (values[highest] as number)) highest = place;
  }
  if (lowest >= 0) kept.add(lowest).add(highest);
}

/** Where a person looks, all its parts; before and behind it just enough that the line goes on. `seen` in the order of `moments`; none: all of them. */
export function stretchesOf(moments: readonly string[], seen: readonly [string, string] | null, fine: number, coarse: number): Stretch[] {
  if (!seen) return [{ from: 0, to: moments.length, parts: fine }];
  const from = Math.max(0, firstFrom(moments, seen[0]) - 1);
  const to = Math.max(from, Math.min(moments.length, firstFrom(moments, seen[1]) + 1));
  return [{ from: 0, to: from, parts: coarse }, { from, to, parts: Math.max(1, Math.min(fine, to - from)) }, { from: to, to: moments.length, parts: coarse }];
}

/** The first place whose moment is not before `moment`; both are texts of one form, so they compare as texts. */
function firstFrom(moments: readonly string[], moment: string): number {
  let [low, high] = [0, moments.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((moments[middle] as string) < moment) low = middle + 1;
    else high = middle;
  }
  return low;
}
