import { operatingCharacteristicRules, rulesOnValues, runLengthRules } from '#contract/workbench/rules';
import { runLengthsOfRules } from '#statistics/power/run-length-of-rules';
import { operatingCharacteristicOfRules } from '#statistics/power/run-length-of-rules-operating';
import { allowedRules } from '#statistics/rules/allowed-rules';
import { judgeValues } from '#statistics/rules/judge-values';
import { computes, type Method } from '../method.js';

export const rulesMethods: readonly Method[] = [
  computes(rulesOnValues, ({ values, centre, sigma, rules, changes, statistic, patternsOnSkewed }) => {
    const allowed = allowedRules(statistic, patternsOnSkewed);
    const asked = [...new Set(rules)];
    const judged = asked.filter((rule) => allowed.includes(rule));
    const { z, firings } = judgeValues(values, centre, sigma, judged, changes);
    return { z: [...z], rules: judged, leftOut: asked.filter((rule) => !judged.includes(rule)), firings: [...firings] };
  }),
  computes(runLengthRules, ({ rules, shifts, survivalAt }, progress) => {
    const lengths = runLengthsOfRules(rules, shifts, { survivalAt, progress });
    return {
      falseAlarm: lengths[0]?.falseAlarm ?? 0,
      lengths: lengths.map(({ arl, steadyStateArl, percentiles, survival }, i) => ({ shift: shifts[i] ?? 0, arl, steadyStateArl, percentiles: [...percentiles], survival: [...survival] })),
    };
  }),
  computes(operatingCharacteristicRules, ({ rules, shifts, points }) => ({ curve: operatingCharacteristicOfRules(rules, shifts, points) })),
];
