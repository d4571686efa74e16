let last = 0;
const known = new WeakMap<object, number>();

/** A name for a request body: the same object has the same one. Hashing a million readings with every change of a field would freeze the page. */
export function bodyKey(body: object): number {
  const name = known.get(body);
  if (name !== undefined) return name;
  last += 1;
  known.set(body, last);
  return last;
}

/** The former object where it says the same: lists by identity, the rest by value. So what did not change is not asked for again. */
export function sameOrNew<Body extends object>(before: Body | null, now: Body | null): Body | null {
  if (before === null || now === null) return now;
  const keys = new Set([...Object.keys(before), ...Object.keys(now)]);
  const [old, young] = [before, now] as [Record<string, unknown>, Record<string, unknown>];
  return [...keys].every((key) => Object.is(old[key], young[key])) ? before : now;
}
