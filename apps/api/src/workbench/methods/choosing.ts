import { chartToUse, memoryOfReadings, partOfVariation, revisionsOfLimits, trialLimits } from '#contract/workbench/choosing';
import { subgroupStatistics } from '#statistics/charts/subgroup';
import { autocorrelation } from '#statistics/choosing/autocorrelation';
import { recommendChart } from '#statistics/choosing/recommend-chart';
import { varianceComponents } from '#statistics/choosing/variance-components';
import { compareLimits } from '#statistics/phase-one/compare-limits';
import { studyLimits } from '#statistics/phase-one/study-limits';
import { computes, type Method } from '../method.js';

export const choosingMethods: readonly Method[] = [
  computes(partOfVariation, ({ values, levels, confidence }) => {
    const answer = varianceComponents({ names: levels.map(({ name }) => name), labels: levels.map(({ labels }) => labels), values }, confidence);
    return { ...answer, components: [...answer.components] };
  }),
  computes(chartToUse, (body) => recommendChart(body)),
  computes(memoryOfReadings, ({ values, lags, ...options }) => {
    const answer = autocorrelation(values, { ...options, ...(lags === null ? {} : { lags }) });
    return { ...answer, lags: [...answer.lags] };
  }),
  computes(trialLimits, ({ kind, subgroups, causes, needed }) => {
    const answer = studyLimits(kind, subgroups.map(subgroupStatistics), causes, { needed });
    return {
      ...answer, outWithoutCause: [...answer.outWithoutCause], unused: [...answer.unused],
      rounds: answer.rounds.map(({ basis, out, removed }) => ({ basis, out: [...out], removed: [...removed] })),
    };
  }),
  computes(revisionsOfLimits, ({ before, after }) => compareLimits(before, after)),
];
