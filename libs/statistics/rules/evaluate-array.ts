import { RULE_NAMES, RUN_RULES } from './run-rules.js';
import { BEYOND_TOLERANCE, type RuleName } from './verdict.js';

/** Bits of a code: what fired at the point, by rule and side. */
export const CODE: Readonly<Record<RuleName, { readonly above: number; readonly below: number }>> = {
  'beyond-limits': { above: 1, below: 16 },
  'two-of-three': { above: 2, below: 32 },
  'four-of-five': { above: 4, below: 64 },
  'eight-in-a-row': { above: 8, below: 128 },
};

/** Code of a gap. No point can be on both sides at once, so no firing has it, and it cannot be taken for steady (0). */
export const NOT_JUDGED = 255;

/** One z in the middle of each zone, lowest first; the fifth is the centre line itself. */
const ZONE_SAMPLES = [-3.5, -2.5, -1.5, -0.5, 0, 0.5, 1.5, 2.5, 3.5] as const;
const ZONES = ZONE_SAMPLES.length;

type Automaton = { readonly next: Uint16Array; readonly codes: Uint8Array };
let compiled: Automaton | null = null;

/**
 * The four rules over a long series in one pass: what evaluateRules says, as bits, for replays of years of checks.
 * A NaN (or an infinity, which no frozen limits can give) is a gap: NOT_JUDGED, and all windows emptied.
 * The rules look at a point only through its zone, so all four together are a finite automaton. It is compiled once
 * from the rules themselves; a point then costs a zone and a look into a table, whatever fires.
 * Equality with evaluateRules is a property test.
 * @param values z values; or plotted values, when the centre line and the sigma of the plotted statistic are given
 * @throws RangeError when centre is not finite or sigma not positive
 */
export function fireCodes(values: Float64Array, centre = 0, sigma = 1): Uint8Array {
  if (!Number.isFinite(centre) || !(sigma > 0 && Number.isFinite(sigma))) {
    throw new RangeError(`fireCodes: needs a finite centre and a positive sigma, ${centre} and ${sigma} given`);
  }
  compiled ??= compile();
  const { next, codes } = compiled;
  const one = 1 + BEYOND_TOLERANCE;
  const two = 2 + BEYOND_TOLERANCE;
  const three = 3 + BEYOND_TOLERANCE;
  const fired = new Uint8Array(values.length);
  let state = 0;
  for (let i = 0; i < values.length; i += 1) {
    const z = ((values[i] as number) - centre) / sigma;
    if (z - z !== 0) {
      fired[i] = NOT_JUDGED;
      state = 0;
      continue;
    }
    // Zone 0 to 8 as a sum of comparisons: no branch to guess wrong on values that are random by nature.
    const zone =
      +(z >= -three) + +(z >= -two) + +(z >= -one) + +(z >= -BEYOND_TOLERANCE) +
      +(z > BEYOND_TOLERANCE) + +(z > one) + +(z > two) + +(z > three);
    const edge = state * ZONES + zone;
    fired[i] = codes[edge] as number;
    state = next[edge] as number;
  }
  return fired;
}

/** Every memory the four rules can have, and where each zone leads from it. State 0 is the empty memory. */
function compile(): Automaton {
  const rules = RULE_NAMES.map((name) => ({ bits: CODE[name], rule: RUN_RULES[name] }));
  const states = [rules.map(({ rule }) => rule.start)];
  const numbers = new Map([[String(states[0]), 0]]);
  const next: number[] = [];
  const codes: number[] = [];
  // The list grows while it is walked; it ends because each rule's memory is bounded.
  for (const state of states) {
    for (const z of ZONE_SAMPLES) {
      const reached = rules.map(({ rule }, i) => rule.step(state[i] as number, z));
      const key = String(reached);
      const number = numbers.get(key) ?? states.length;
      if (number === states.length) {
        numbers.set(key, number);
        states.push(reached);
      }
      next.push(number);
      codes.push(rules.reduce((code, { bits, rule }, i) => {
        const firing = rule.fired(reached[i] as number);
        return firing === null ? code : code | bits[firing.side];
      }, 0));
    }
  }
  return { next: Uint16Array.from(next), codes: Uint8Array.from(codes) };
}
