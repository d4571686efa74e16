import type { Endpoint } from '#contract/endpoint';
import { operatingCharacteristicRules, rulesOnValues, runLengthRules } from '#contract/workbench/rules';

const concentration = [102, 94.8, 98.3, 98.4, 102, 98.5, 99, 97.7, 100, 98.1, 101.3, 98.7, 101.1, 98.4, 97, 96.7, 100.3, 101.4, 97.2, 101];

/** Concentration and its printed limits: Montgomery & Runger, 3rd ed., table 16-3. Run lengths: Champ & Woodall 1987, table 1. */
export const rulesExamples: readonly { endpoint: Endpoint; body: unknown }[] = [
  { endpoint: rulesOnValues, body: { values: concentration, centre: 99.1, sigma: 2.297, statistic: 'individual', rules: ['beyond-limits', 'nine-in-a-row', 'six-in-a-trend'], changes: [10] } },
  { endpoint: runLengthRules, body: { shifts: [0, 0.2, 0.4, 0.8, 1.2, 1.6, 2.4, 3], survivalAt: [10, 100] } },
  { endpoint: operatingCharacteristicRules, body: { shifts: [0, 1, 2], points: 5 } },
];
