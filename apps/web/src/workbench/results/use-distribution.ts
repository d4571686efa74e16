import { useMemo } from 'react';
import { capabilityIndices, fitDistributions, fractionOutside, histogramOfValues, normality, probabilityPlotOfValues } from '#contract/workbench/capability';
import { call } from '../../shared/http.js';
import type { Choices, Kind } from '../choices.js';
import { distributionBodies, membersOf, probabilityBody, readingsOf } from '../compute/distribution-requests.js';
import { useMethod } from '../compute/use-method.js';
import { useSteady } from '../compute/use-steady.js';
import type { FormedData } from '../form/form-data.js';
import type { Specification } from '../form/specification.js';

/** All that is asked about readings beside their chart. The probability plot follows the distribution that was chosen. */
export function useDistribution(data: FormedData | null, kind: Kind | null, { scale, confidence }: Pick<Choices, 'scale' | 'confidence'>, specification: Specification | null) {
  const readings = useMemo(() => readingsOf(data), [data]);
  const members = useMemo(() => membersOf(data), [data]);
  const bodies = useMemo(() => distributionBodies(readings, members, data, kind, { scale, confidence }, specification), [readings, members, data, kind, scale, confidence, specification]);
  const histogramBody = useSteady(bodies.histogram);
  const normalityBody = useSteady(bodies.normality);
  const fitsBody = useSteady(bodies.fits);
  const capabilityBody = useSteady(bodies.capability);
  const fractionBody = useSteady(bodies.fraction);
  const histogram = useMethod(histogramOfValues.path, histogramBody, (given) => call(histogramOfValues, given));
  const normal = useMethod(normality.path, normalityBody, (given) => call(normality, given));
  const fits = useMethod(fitDistributions.path, fitsBody, (given) => call(fitDistributions, given));
  const capability = useMethod(capabilityIndices.path, capabilityBody, (given) => call(capabilityIndices, given));
  const fraction = useMethod(fractionOutside.path, fractionBody, (given) => call(fractionOutside, given));
  const settled = fitsBody === null || fits.query.data !== undefined || fits.query.isError;
  const family = fits.query.data?.chosen ?? 'normal';
  const plotBody = useSteady(settled && scale !== 'ordinal' ? probabilityBody(readings, family, confidence) : null);
  const plot = useMethod(probabilityPlotOfValues.path, plotBody, (given) => call(probabilityPlotOfValues, given));
  return {
    readings, histogram, normal, fits, capability, fraction, plot, family,
    bodies: { histogram: histogramBody, normality: normalityBody, 'fit-distributions': fitsBody, capability: capabilityBody, 'fraction-nonconforming': fractionBody, 'probability-plot': plotBody },
    answers: { histogram: histogram.query.data, normality: normal.query.data, 'fit-distributions': fits.query.data, capability: capability.query.data, 'fraction-nonconforming': fraction.query.data, 'probability-plot': plot.query.data },
  };
}
export type DistributionAnswers = ReturnType<typeof useDistribution>;
