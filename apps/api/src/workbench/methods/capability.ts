import { capabilityIndices, capabilityOfUnits, fitDistributions, fractionOutside, histogramOfValues, normality, probabilityPlotOfValues, sampleSizeForIndex } from '#contract/workbench/capability';
import { andersonDarling } from '#statistics/capability/anderson-darling';
import { type Capability, capability } from '#statistics/capability/capability';
import { capabilityByUnit } from '#statistics/capability/capability-by-unit';
import { chooseDistribution } from '#statistics/capability/fits/choose';
import { fractionNonconforming } from '#statistics/capability/fraction-nonconforming';
import { histogram } from '#statistics/capability/histogram';
import { oneSidedIndexInterval, oneSidedIndexLowerBound } from '#statistics/capability/one-sided-index';
import { probabilityPlot } from '#statistics/capability/probability-plot';
import { capabilitySampleSize } from '#statistics/capability/sample-size';
import { shape } from '#statistics/capability/shape';
import { computes, type Method } from '../method.js';

/** With both limits the nearer side is not one side, and the exact interval is not that of Ppk. */
function exactOneSided({ ppl, ppu, ppk, n, confidence }: Capability): { low: number; high: number; lowerBound: number } | null {
  if (ppk === null || (ppl !== null && ppu !== null) || n > 1_000_000 || Math.abs(ppk) > 100) return null;
  return { ...oneSidedIndexInterval(ppk, n, confidence), lowerBound: oneSidedIndexLowerBound(ppk, n, confidence) };
}

export const capabilityMethods: readonly Method[] = [
  computes(capabilityIndices, ({ subgroups, chart, ...rest }) => {
    const figures = capability({ members: subgroups, kind: chart, ...rest });
    return { ...figures, exactOneSided: exactOneSided(figures) };
  }),
  computes(capabilityOfUnits, ({ units, chart, confidence, scale, ...specification }) => {
    const answer = capabilityByUnit(units.map(({ unit, subgroups }) => ({ unit, members: subgroups })), chart, specification, confidence, scale);
    return { ...answer, units: [...answer.units] };
  }),
  computes(normality, ({ values }) => ({ andersonDarling: andersonDarling(values), shape: shape(values) })),
  computes(fitDistributions, (body) => {
    const answer = chooseDistribution(body);
    return { ...answer, candidates: [...answer.candidates], notToldApart: [...answer.notToldApart] };
  }),
  computes(probabilityPlotOfValues, ({ values, family, ...options }) => {
    const answer = probabilityPlot(values, family, options);
    return { ...answer, points: [...answer.points] };
  }),
  computes(histogramOfValues, ({ values, gaugeStep }) => histogram(values, gaugeStep)),
  computes(sampleSizeForIndex, ({ power, ...body }) => capabilitySampleSize({ ...body, ...(power === undefined ? {} : { power }) })),
  computes(fractionOutside, ({ values, lsl, usl, confidence }) => fractionNonconforming(values, lsl, usl, confidence)),
];
