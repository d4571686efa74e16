import { RUN_RULES } from './run-rules.js';
import type { FiringSide, RuleName } from './verdict.js';
import { ZONE_SAMPLES } from './zone-memory.js';

/** Leads nowhere: the state after a signal, where only the points up to the first signal matter. */
export const SIGNALLED = 2 ** 32 - 1;

export type ZoneAutomaton = {
  /** Where each zone leads: `next[state * 9 + zone]`. State 0 is the empty memory. */
  readonly next: Uint32Array;
  /** What that step sets off, by `code`. */
  readonly codes: Uint16Array;
  readonly states: number;
};

/**
 * The rules that look at a point only through its zone, taken together, are a finite automaton: every memory they can
 * have, and where each zone leads from it. Compiled from the rules themselves, so that there is one home for each rule.
 * @param names rules that see zones
 * @param code bits of one firing, not 0
 * @param upToSignal leave out what can only be reached by a signal; a step that sets one off leads to SIGNALLED
 */
export function compileZones(names: readonly RuleName[], code: (rule: RuleName, side: FiringSide) => number, upToSignal = false): ZoneAutomaton {
  const rules = names.map((name) => RUN_RULES[name]);
  const states = [rules.map(({ start }) => start)];
  const numbers = new Map([[String(states[0]), 0]]);
  const next: number[] = [];
  const codes: number[] = [];
  // The list grows while it is walked; it ends because each rule's memory is bounded.
  for (const state of states) {
    for (const z of ZONE_SAMPLES) {
      const reached = rules.map((rule, i) => rule.step(state[i] as number, z, null));
      const bits = rules.reduce((sum, rule, i) => {
        const firing = rule.fired(reached[i] as number);
        return firing === null ? sum : sum | code(names[i] as RuleName, firing.side);
      }, 0);
      codes.push(bits);
      if (upToSignal && bits !== 0) {
        next.push(SIGNALLED);
        continue;
      }
      const key = String(reached);
      const number = numbers.get(key) ?? states.length;
      if (number === states.length) {
        numbers.set(key, number);
        states.push(reached);
      }
      next.push(number);
    }
  }
  return { next: Uint32Array.from(next), codes: Uint16Array.from(codes), states: states.length };
}
