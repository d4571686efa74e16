import { beyondLimits } from './beyond-limits.js';
import { eightInARow } from './eight-in-a-row.js';
import { fourOfFive } from './four-of-five.js';
import { twoOfThree } from './two-of-three.js';
import type { Firing, RuleName, RunRule } from './verdict.js';

/** Every run rule by name, in the order firings of one point are listed. */
export const RUN_RULES: Readonly<Record<RuleName, RunRule>> = {
  'beyond-limits': beyondLimits,
  'two-of-three': twoOfThree,
  'four-of-five': fourOfFive,
  'eight-in-a-row': eightInARow,
};

export const RULE_NAMES: readonly RuleName[] = ['beyond-limits', 'two-of-three', 'four-of-five', 'eight-in-a-row'];

/** The longest pattern. The verdict on a point needs this many points, itself included, and never more. */
export const LONGEST_PATTERN = 8;

/** A set of rules over one series: feed it points, and gaps as null. Each rule is listed once, however often named. */
export function runRules(rules: readonly RuleName[]): (z: number | null, index: number) => Firing[] {
  const active = RULE_NAMES.filter((name) => rules.includes(name)).map((name) => ({ name, rule: RUN_RULES[name], state: RUN_RULES[name].start }));
  return (z, index) => {
    if (z === null) {
      for (const entry of active) entry.state = entry.rule.start;
      return [];
    }
    if (!Number.isFinite(z)) throw new RangeError(`runRules: point ${index + 1} is ${String(z)}, a finite number of sigmas or null is expected`);
    return active.flatMap((entry) => {
      entry.state = entry.rule.step(entry.state, z);
      const fired = entry.rule.fired(entry.state);
      return fired === null ? [] : [{ index, rule: entry.name, side: fired.side, firstIndex: index - fired.back }];
    });
  };
}
