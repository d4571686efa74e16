import { averageRangeGauge, biasAndLinearity, crossedGauge, nestedGauge, nominalRatings, ordinalRatings, repeatabilityOfGauge, stabilityOfGauge } from '#contract/workbench/gauges';
import type { Panel } from '#statistics/charts/panel';
import { gaugeAverageRange } from '#statistics/gauges/average-range';
import { biasLinearity } from '#statistics/gauges/bias-linearity';
import type { FleissKappa } from '#statistics/gauges/fleiss-kappa';
import { gaugeCrossed } from '#statistics/gauges/crossed';
import { gaugeNested } from '#statistics/gauges/nested';
import { nominalAgreement } from '#statistics/gauges/nominal-agreement';
import { ordinalAgreement } from '#statistics/gauges/ordinal-agreement';
import { repeatability } from '#statistics/gauges/repeatability';
import { gaugeStability } from '#statistics/gauges/stability';
import { computes, type Method } from '../method.js';

/** The contract's lists may be written to, those of the statistics may not. */
const copied = (panel: Panel) => ({
  ...panel, points: [...panel.points], centre: [...panel.centre], lower: [...panel.lower], upper: [...panel.upper], sigma: [...panel.sigma], out: [...panel.out],
});
const withCategories = (fleiss: FleissKappa) => ({ ...fleiss, categories: [...fleiss.categories] });

export const gaugesMethods: readonly Method[] = [
  computes(crossedGauge, ({ readings, ...options }) => gaugeCrossed(readings, options)),
  computes(averageRangeGauge, ({ readings, ...options }) => gaugeAverageRange(readings, options)),
  computes(nestedGauge, ({ readings, ...options }) => gaugeNested(readings, options)),
  computes(biasAndLinearity, ({ masters, processVariation, confidence }) => {
    const answer = biasLinearity(masters, processVariation, confidence);
    return { ...answer, masters: [...answer.masters] };
  }),
  computes(stabilityOfGauge, ({ checks, reference, confidence }) => {
    const answer = gaugeStability(checks, reference, confidence);
    return { ...answer, panels: answer.panels?.map(copied) ?? null };
  }),
  computes(repeatabilityOfGauge, ({ values, reference, ...options }) => repeatability(values, reference, options)),
  computes(nominalRatings, (body) => {
    const answer = nominalAgreement(body);
    return { ...answer, categories: [...answer.categories], fleiss: withCategories(answer.fleiss), pairs: [...answer.pairs], againstStandard: answer.againstStandard && [...answer.againstStandard] };
  }),
  computes(ordinalRatings, (body) => {
    const answer = ordinalAgreement(body);
    return { ...answer, categories: [...answer.categories], pairs: [...answer.pairs], againstStandard: answer.againstStandard && [...answer.againstStandard] };
  }),
];
