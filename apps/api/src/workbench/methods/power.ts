import { designedCusum, designedEwma, detectionPlan as detectionPlanEndpoint, operatingCharacteristic, runLengthCusum, runLengthEwma } from '#contract/workbench/power';
import { designCusum, designEwma } from '#statistics/power/design-scheme';
import { detectionPlan } from '#statistics/power/detection-plan';
import { countOperatingCharacteristic, meanOperatingCharacteristic, type Miss, proportionOperatingCharacteristic, sdOperatingCharacteristic } from '#statistics/power/operating-characteristic';
import type { RunLength } from '#statistics/power/follow-walks';
import { runLengthsOfCusum } from '#statistics/power/run-length-of-cusum';
import { runLengthsOfEwma } from '#statistics/power/run-length-of-ewma';
import { computes, type Method } from '../method.js';

const answerOf = (shifts: readonly number[], lengths: readonly RunLength[]) => ({
  falseAlarm: lengths[0]?.falseAlarm ?? 0,
  lengths: lengths.map(({ arl, steadyStateArl, percentiles, survival }, i) => ({ shift: shifts[i] ?? 0, arl, steadyStateArl, percentiles: [...percentiles], survival: [...survival] })),
});
const pointsOf = (misses: readonly Miss[]) => ({ points: [...misses] });

export const powerMethods: readonly Method[] = [
  computes(runLengthEwma, ({ shifts, survivalAt, ...scheme }, progress) => answerOf(shifts, runLengthsOfEwma(scheme, shifts, { survivalAt, progress }))),
  computes(runLengthCusum, ({ shifts, survivalAt, ...scheme }, progress) => answerOf(shifts, runLengthsOfCusum(scheme, shifts, { survivalAt, progress }))),
  computes(designedEwma, ({ lambda, arl }) => designEwma(lambda, arl)),
  computes(designedCusum, ({ k, arl, sides }) => designCusum(k, arl, sides)),
  computes(operatingCharacteristic, (body) => {
    switch (body.chart) {
      case 'mean': return pointsOf(meanOperatingCharacteristic(body.n, body.shifts, body.width));
      case 'sd': return pointsOf(sdOperatingCharacteristic(body.n, body.ratios));
      case 'p': return pointsOf(proportionOperatingCharacteristic(body.n, body.centre, body.shares));
      case 'c': return pointsOf(countOperatingCharacteristic(body.centre, body.means));
    }
  }),
  computes(detectionPlanEndpoint, ({ shifts, ...plan }, progress) => {
    const { falseAlarm, perShift, ...rest } = detectionPlan({ ...plan, progress }, shifts);
    return { ...rest, falseAlarm, perShift: [...perShift] };
  }),
];
