import { BEYOND_TOLERANCE, type FiringSide, type RuleName, type RunRule } from './verdict.js';

/** One z in the middle of each zone, lowest first; the fifth is the centre line itself. */
export const ZONE_SAMPLES = [-3.5, -2.5, -1.5, -0.5, 0, 0.5, 1.5, 2.5, 3.5] as const;
export const ZONES = ZONE_SAMPLES.length;

const ONE = 1 + BEYOND_TOLERANCE;
const TWO = 2 + BEYOND_TOLERANCE;
const THREE = 3 + BEYOND_TOLERANCE;

/** Zone of a z, 0 to 8, as a sum of comparisons: no branch to guess wrong on values that are random by nature. */
export function zoneOf(z: number): number {
  return +(z >= -THREE) + +(z >= -TWO) + +(z >= -ONE) + +(z >= -BEYOND_TOLERANCE) + +(z > BEYOND_TOLERANCE) + +(z > ONE) + +(z > TWO) + +(z > THREE);
}

/** One pattern met: which, where, and how many points back it began. */
export type Met = { readonly rule: RuleName; readonly side: FiringSide; readonly back: number };

/**
 * Rules that look at a point only through its zone are a finite automaton together. This one grows as its memories are
 * first met: a chart of ten points pays for ten, one of a million looks into a table. What it says depends on nothing
 * but the points since the memory was empty, however much of it is known.
 */
export type ZoneMemory = {
  /** Row of the state after a point: `next[row + zone]`, -1 where it is not yet known. Row 0 is the empty memory. */
  readonly next: readonly number[];
  /** What that point sets off, at the same place. */
  readonly met: readonly (readonly Met[] | null)[];
  /** Fills both at one place; answers the row. */
  readonly explore: (row: number, zone: number) => number;
};

export function zoneMemory(rules: readonly { readonly name: RuleName; readonly rule: RunRule }[]): ZoneMemory {
  const states = [rules.map(({ rule }) => rule.start)];
  const numbers = new Map([[String(states[0]), 0]]);
  const next: number[] = new Array<number>(ZONES).fill(-1);
  const met: (readonly Met[] | null)[] = new Array<null>(ZONES).fill(null);

  function explore(row: number, zone: number): number {
    const from = states[row / ZONES] as number[];
    const reached = rules.map(({ rule }, i) => rule.step(from[i] as number, ZONE_SAMPLES[zone] as number, null));
    const key = String(reached);
    let number = numbers.get(key);
    if (number === undefined) {
      number = states.push(reached) - 1;
      numbers.set(key, number);
      for (let i = 0; i < ZONES; i += 1) { next.push(-1); met.push(null); }
    }
    const patterns = rules.flatMap(({ name, rule }, i): Met[] => {
      const firing = rule.fired(reached[i] as number);
      return firing === null ? [] : [{ rule: name, ...firing }];
    });
    if (patterns.length > 0) met[row + zone] = patterns;
    next[row + zone] = number * ZONES;
    return number * ZONES;
  }

  return { next, met, explore };
}
