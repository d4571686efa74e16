import type { Choices } from '../choices.js';

type Rule = Choices['rules'][number];
export const ALL_RULES: readonly Rule[] = ['beyond-limits', 'two-of-three', 'four-of-five', 'eight-in-a-row', 'nine-in-a-row', 'six-in-a-trend', 'fourteen-alternating', 'fifteen-inside', 'eight-outside'];

/** Western Electric 1956 for the zone tests; Nelson 1984, Journal of Quality Technology 16(4), for the eight. */
export const RULE_SETS = {
  'beyond-limits': ['beyond-limits'],
  zones: ['beyond-limits', 'two-of-three', 'four-of-five', 'eight-in-a-row'],
  nelson: ['beyond-limits', 'nine-in-a-row', 'six-in-a-trend', 'fourteen-alternating', 'two-of-three', 'four-of-five', 'fifteen-inside', 'eight-outside'],
} as const satisfies Record<string, readonly Rule[]>;
export type RuleSet = keyof typeof RULE_SETS | 'own';

/** The set that holds exactly these rules. */
export function ruleSetOf(rules: readonly Rule[]): RuleSet {
  const same = (set: readonly Rule[]) => set.length === new Set(rules).size && set.every((rule) => rules.includes(rule));
  if (same(RULE_SETS['beyond-limits'])) return 'beyond-limits';
  if (same(RULE_SETS.zones)) return 'zones';
  return same(RULE_SETS.nelson) ? 'nelson' : 'own';
}

/** One rule more or fewer, in the order in which they are listed. */
export const toggled = (rules: readonly Rule[], rule: Rule): Rule[] => ALL_RULES.filter((one) => (one === rule ? !rules.includes(one) : rules.includes(one)));
