import { beyondLimits } from './beyond-limits.js';
import { eightInARow } from './eight-in-a-row.js';
import { eightOutside } from './eight-outside.js';
import { fifteenInside } from './fifteen-inside.js';
import { fourOfFive } from './four-of-five.js';
import { fourteenAlternating } from './fourteen-alternating.js';
import { nineInARow } from './nine-in-a-row.js';
import { sixInATrend } from './six-in-a-trend.js';
import { twoOfThree } from './two-of-three.js';
import type { Firing, RuleName, RunRule } from './verdict.js';
import { type Met, type ZoneMemory, zoneMemory, zoneOf } from './zone-memory.js';

/** Every run rule by name. */
export const RUN_RULES: Readonly<Record<RuleName, RunRule>> = {
  'beyond-limits': beyondLimits,
  'two-of-three': twoOfThree,
  'four-of-five': fourOfFive,
  'eight-in-a-row': eightInARow,
  'nine-in-a-row': nineInARow,
  'six-in-a-trend': sixInATrend,
  'fourteen-alternating': fourteenAlternating,
  'fifteen-inside': fifteenInside,
  'eight-outside': eightOutside,
};

/** Every rule there is, in the order firings of one point are listed. */
export const ALL_RULES: readonly RuleName[] = [
  'beyond-limits', 'two-of-three', 'four-of-five', 'eight-in-a-row', 'nine-in-a-row', 'six-in-a-trend', 'fourteen-alternating', 'fifteen-inside', 'eight-outside',
];

/** The four zone tests of the Western Electric Statistical Quality Control Handbook, 1956. */
export const WESTERN_ELECTRIC: readonly RuleName[] = ['beyond-limits', 'two-of-three', 'four-of-five', 'eight-in-a-row'];

/** The eight tests of Nelson 1984, in his order. */
export const NELSON: readonly RuleName[] = [
  'beyond-limits', 'nine-in-a-row', 'six-in-a-trend', 'fourteen-alternating', 'two-of-three', 'four-of-five', 'fifteen-inside', 'eight-outside',
];

/** The rules a chart of the plant starts with. */
export const RULE_NAMES: readonly RuleName[] = WESTERN_ELECTRIC;

/** The longest pattern. The verdict on a point needs this many points, itself included, and never more. */
export const LONGEST_PATTERN = 15;

/** The rules by name, each once and in the order of ALL_RULES. */
export function inOrder(rules: readonly RuleName[]): RuleName[] {
  return ALL_RULES.filter((name) => rules.includes(name));
}

const NOTHING: readonly Firing[] = [];

/**
 * A set of rules over one series: feed it points, and null for whatever empties all windows: a gap, new limits, a
 * declared change. Each rule is listed once, however often named. A point costs the same wherever it stands.
 * @throws RangeError when a rule is not known, or, point by point, when z is NaN or infinite
 */
export function runRules(rules: readonly RuleName[]): (z: number | null, index: number) => readonly Firing[] {
  const unknown = rules.find((name) => !ALL_RULES.includes(name));
  if (unknown !== undefined) throw new RangeError(`runRules: needs names of rules, "${String(unknown)}" given`);
  const active = inOrder(rules).map((name) => ({ name, rule: RUN_RULES[name], state: RUN_RULES[name].start }));
  const { next, met: metAt, explore } = memoryOf(active.filter(({ rule }) => rule.sees === 'zone').map(({ name }) => name));
  const steps = active.filter(({ rule }) => rule.sees === 'step');
  let row = 0;
  let before: number | null = null;
  return (z, index) => {
    if (z === null) {
      for (const entry of steps) entry.state = entry.rule.start;
      row = 0;
      before = null;
      return NOTHING;
    }
    if (!Number.isFinite(z)) throw new RangeError(`runRules: point ${index + 1} is ${String(z)}, a finite number of sigmas or null is expected`);
    const zone = zoneOf(z);
    let reached = next[row + zone] as number;
    if (reached < 0) reached = explore(row, zone);
    let met = metAt[row + zone] as readonly Met[] | null;
    row = reached;
    for (const entry of steps) {
      entry.state = entry.rule.step(entry.state, z, before);
      const fired = entry.rule.fired(entry.state);
      if (fired !== null) met = [...(met ?? []), { rule: entry.name, ...fired }];
    }
    before = z;
    // Most points fire nothing; a list is made only for those that do.
    if (met === null) return NOTHING;
    const firings = met.map(({ rule, side, back }) => ({ index, rule, side, firstIndex: index - back }));
    return steps.length === 0 ? firings : firings.sort((a, b) => ALL_RULES.indexOf(a.rule) - ALL_RULES.indexOf(b.rule));
  };
}

const memories = new Map<string, ZoneMemory>();

/** One memory for each set of rules, shared by all series that are judged by it. */
function memoryOf(names: readonly RuleName[]): ZoneMemory {
  const key = names.join();
  const known = memories.get(key) ?? zoneMemory(names.map((name) => ({ name, rule: RUN_RULES[name] })));
  memories.set(key, known);
  return known;
}
