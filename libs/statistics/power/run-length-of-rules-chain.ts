import { inOrder, RUN_RULES } from '../rules/run-rules.js';
import type { RuleName } from '../rules/verdict.js';
import { compileZones, SIGNALLED } from '../rules/zone-automaton.js';
import { ZONES } from '../rules/zone-memory.js';

/** The zone rules of a set as a Markov chain up to the first signal: fewest states, widest zones. */
export type ZoneChain = {
  /** Lines between the zones in sigma, ascending; one zone more than lines. */
  readonly edges: readonly number[];
  readonly zones: number;
  readonly states: number;
  /** Where each zone leads, `next[state * zones + zone]`; a signal is -1. State 0 is the empty memory. */
  readonly next: Int32Array;
};

const LINES = [-3, -2, -1, 0, 1, 2, 3] as const;
/** Further lines where no limit ends the series, so that steps among points far out are followed in small panels too. */
const FAR_LINES = [-6, -5, -4, ...LINES, 4, 5, 6] as const;

/**
 * @param rules any rules; those that see steps are left out here
 * @param keepZones true where points within a zone are to be told apart: zones are then split, not merged
 */
export function zoneChain(rules: readonly RuleName[], keepZones: boolean): ZoneChain {
  const names = inOrder(rules).filter((name) => RUN_RULES[name].sees === 'zone');
  const { next, states } = compileZones(names, () => 1, true);
  const { group, groups } = merged(next, states);
  const lines: readonly number[] = keepZones && !names.includes('beyond-limits') ? FAR_LINES : LINES;
  // Columns of the automaton by zone; the centre line itself, its fifth, has no probability.
  const columns = [...lines, Number.POSITIVE_INFINITY].map((upper) => LINES.filter((line) => line < upper).length).map((zone) => (zone < 4 ? zone : zone + 1));
  const representative = new Int32Array(groups);
  for (let state = states - 1; state >= 0; state -= 1) representative[group[state] as number] = state;
  const target = (of: number, column: number): number => {
    const reached = next[(representative[of] as number) * ZONES + column] as number;
    return reached === SIGNALLED ? -1 : (group[reached] as number);
  };
  const kept = columns.flatMap((column, zone) => {
    const before = columns[zone - 1];
    const same = before !== undefined && Array.from({ length: groups }, (_, of) => of).every((of) => target(of, column) === target(of, before));
    return same && !keepZones ? [] : [{ column, lower: zone }];
  });
  return {
    edges: kept.slice(1).map(({ lower }) => lines[lower - 1] as number),
    zones: kept.length,
    states: groups,
    next: Int32Array.from({ length: groups * kept.length }, (_, i) => target(Math.floor(i / kept.length), (kept[i % kept.length] as { column: number }).column)),
  };
}

/**
 * Memories from which all that follows is the same are one state: partition refinement (Moore 1956, Gedanken-experiments
 * on sequential machines). What the last points were matters only as far as a rule can still use them.
 */
function merged(next: Uint32Array, states: number): { group: Int32Array; groups: number } {
  let group = new Int32Array(states);
  let groups = 1;
  for (;;) {
    const numbers = new Map<string, number>();
    const finer = new Int32Array(states);
    for (let state = 0; state < states; state += 1) {
      let key = String(group[state]);
      for (let zone = 0; zone < ZONES; zone += 1) {
        const reached = next[state * ZONES + zone] as number;
        key += `,${reached === SIGNALLED ? -1 : (group[reached] as number)}`;
      }
      const number = numbers.get(key) ?? numbers.size;
      numbers.set(key, number);
      finer[state] = number;
    }
    if (numbers.size === groups) return { group, groups };
    group = finer;
    groups = numbers.size;
  }
}
