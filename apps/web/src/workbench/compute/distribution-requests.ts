import type { RequestOf } from '#contract/endpoint';
import type { capabilityIndices, fitDistributions, fractionOutside, histogramOfValues, normality, probabilityPlotOfValues } from '#contract/workbench/capability';
import type { Choices, Kind } from '../choices.js';
import type { FormedData } from '../form/form-data.js';
import type { Specification } from '../form/specification.js';

type BodyOf<E> = RequestOf<E>['body'];

/** All readings in order without the missing ones; null for counts and gaps, which have no distribution of readings, and for several products, which have no common one. */
export function readingsOf(data: FormedData | null): number[] | null {
  if (data === null || ('products' in data && data.products !== null)) return null;
  if (data.type === 'values') return data.values.filter((value) => value !== null);
  if (data.type === 'subgroups') return data.subgroups.flatMap((members) => members.filter((value) => value !== null));
  return null;
}

/** Readings by subgroup, as capability takes them: individuals are subgroups of one. */
export function membersOf(data: FormedData | null): (number | null)[][] | null {
  if (data === null) return null;
  if (data.type === 'values') return data.values.map((value) => [value]);
  return data.type === 'subgroups' ? data.subgroups : null;
}

/** How sigma within is estimated, in keeping with the chart that is shown. */
const sigmaBy = (data: FormedData, kind: Kind): 'xbar-r' | 'xbar-s' | 'i-mr' => {
  if (data.type === 'values') return 'i-mr';
  // Factors for ranges are for small subgroups only.
  return kind === 'xbar-s' || (data.type === 'subgroups' && data.subgroups.some((members) => members.length > 10)) ? 'xbar-s' : 'xbar-r';
};

export type DistributionBodies = {
  histogram: BodyOf<typeof histogramOfValues> | null;
  normality: BodyOf<typeof normality> | null;
  fits: BodyOf<typeof fitDistributions> | null;
  capability: BodyOf<typeof capabilityIndices> | null;
  fraction: BodyOf<typeof fractionOutside> | null;
};
const NOTHING: DistributionBodies = { histogram: null, normality: null, fits: null, capability: null, fraction: null };

/** What can be asked about readings of this number, scale and specification. */
export function distributionBodies(readings: number[] | null, members: (number | null)[][] | null, data: FormedData | null, kind: Kind | null, choices: Pick<Choices, 'scale' | 'confidence'>, specification: Specification | null): DistributionBodies {
  if (!data || !kind || !readings || !members || readings.length === 0) return NOTHING;
  const { scale, confidence } = choices;
  const hasLimit = specification !== null && (specification.lsl !== null || specification.usl !== null);
  const { lsl, usl, target } = specification ?? { lsl: null, usl: null, target: null };
  const isOpen = scale === 'open';
  return {
    histogram: { values: readings, ...(data.decimals <= 6 ? { gaugeStep: 10 ** -data.decimals } : {}) },
    normality: readings.length >= 8 && scale !== 'ordinal' ? { values: readings } : null,
    fits: readings.length >= 3 && isOpen ? { values: readings, lsl: hasLimit ? lsl : null, usl: hasLimit ? usl : null } : null,
    capability: hasLimit && isOpen && readings.length >= 2 ? { subgroups: members, chart: sigmaBy(data, kind), lsl, usl, target, confidence, scale } : null,
    fraction: hasLimit ? { values: readings, lsl, usl, confidence } : null,
  };
}

type Family = NonNullable<BodyOf<typeof probabilityPlotOfValues>['family']>;
export const probabilityBody = (readings: number[] | null, family: Family, confidence: number): BodyOf<typeof probabilityPlotOfValues> | null => (readings && readings.length >= 3 ? { values: readings, family, confidence } : null);
