import type { PlannedScheme } from '#contract/planner';
import { ALL_RULES, NELSON, WESTERN_ELECTRIC } from '#statistics/rules/run-rules';
import type { RuleName } from '#statistics/rules/verdict';

/** Western Electric 1956 for the zone tests; Nelson 1984, Journal of Quality Technology 16(4), for the eight. */
const SETS = { 'beyond-limits': ['beyond-limits'], zones: WESTERN_ELECTRIC, nelson: NELSON } as const satisfies Record<string, readonly RuleName[]>;
export const CHARTS = ['beyond-limits', 'zones', 'nelson', 'own', 'ewma', 'cusum'] as const;
export type ChartChoice = (typeof CHARTS)[number];

export function choiceOf(scheme: PlannedScheme): ChartChoice {
  if (scheme.kind !== 'rules') return scheme.kind;
  const same = (set: readonly RuleName[]) => set.length === scheme.rules.length && set.every((rule) => scheme.rules.includes(rule));
  return (['beyond-limits', 'zones', 'nelson'] as const).find((name) => same(SETS[name])) ?? 'own';
}

/**
 * What a chart begins with. EWMA and CUSUM begin with the usual weights and with limits that give about as many false
 * alarms as three-sigma limits alone, one in 370 points (Lucas & Saccucci 1990, Technometrics 32(1); Montgomery,
 * Introduction to Statistical Quality Control, 9.1).
 */
export function schemeOf(choice: ChartChoice, before: PlannedScheme): PlannedScheme {
  if (choice === 'ewma') return { kind: 'ewma', lambda: 0.2, width: 2.86 };
  if (choice === 'cusum') return { kind: 'cusum', k: 0.5, h: 4.77 };
  return choice === 'own' ? before : { kind: 'rules', rules: [...SETS[choice]] };
}

/** One rule more or fewer, in the order in which they are listed; the last one stays. */
export function toggled(rules: readonly RuleName[], rule: RuleName): RuleName[] {
  const next = ALL_RULES.filter((one) => (one === rule ? !rules.includes(one) : rules.includes(one)));
  return next.length > 0 ? next : [...rules];
}
