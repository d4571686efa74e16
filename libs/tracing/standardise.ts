import type { TracedStream } from './evidence.js';

/** A stream in sigmas of one charted member away from its centre, with what each point weighs. */
export type StandardStream = {
  readonly stream: TracedStream;
  readonly at: Float64Array;
  readonly z: Float64Array;
  /** 1 over the variance of the point: of its members, and of the checks among each other. */
  readonly weight: Float64Array;
  /** Variance of the centre line itself, which is an estimate. */
  readonly centreVariance: number;
};

/** Limits are taken as made from so many subgroups: enough to be frozen, few enough not to be the truth. */
const SUBGROUPS_OF_LIMITS = 25;
/** Every level wanders a little (sd in sigmas), and stays off for some hours: so many checks of those hours err together, and weigh less each. Common practice, no source. */
const [WANDER, WANDERS_FOR, MOST_AT_ONCE] = [0.35, 6 * 3_600_000, 24];
/** Without frozen limits a stream is measured by itself, and needs so many points for it. */
const FEWEST = 12;

/**
 * Readings of a stream against its frozen limits. Checks that differ more than their members explain weigh less: that
 * variance is taken from the differences of neighbours (median, so that a shift in between does not count). Checks that follow each
 * other closely weigh less, too: what wanders slowly is in all of them.
 * Without limits the stream's own middle and spread take their place, and its centre counts as unknown.
 * @returns null where the stream cannot be used: no spread, or too few points
 */
export function standardise(stream: TracedStream): StandardStream | null {
  const points = stream.points.filter((point): point is typeof point & { mean: number } => point.mean !== null && Number.isFinite(point.mean) && point.n >= 1);
  const basis = stream.limits ?? ownBasis(points);
  if (points.length === 0 || basis === null || !(basis.sigma > 0) || !Number.isFinite(basis.sigma)) return null;
  const z = Float64Array.from(points, ({ mean }) => (mean - basis.centre) / basis.sigma);
  const sampling = points.map(({ n }) => 1 / n);
  const among = Math.max(0, neighbourVariance(z) - average(sampling));
  const gaps = Float64Array.from(points.slice(1), ({ at }, i) => at - (points[i]?.at ?? at)).filter((gap) => gap > 0);
  const wander = gaps.length === 0 ? 0 : WANDER ** 2 * Math.min(MOST_AT_ONCE, WANDERS_FOR / medianOf(gaps));
  const weight = Float64Array.from(sampling, (own) => 1 / (own + among + wander));
  return {
    stream, z, weight, at: Float64Array.from(points, ({ at }) => at),
    centreVariance: stream.limits === null ? 1e3 : (average(sampling) + among) / SUBGROUPS_OF_LIMITS,
  };
}

function ownBasis(points: readonly { mean: number; n: number }[]): { centre: number; sigma: number } | null {
  if (points.length < FEWEST) return null;
  const means = Float64Array.from(points, ({ mean }) => mean);
  const sigma = Math.sqrt(neighbourVariance(means) * average(points.map(({ n }) => n)));
  return { centre: medianOf(means), sigma };
}

/** Variance of single values from the median step between neighbours: 1.4826 median |step| / sqrt(2), squared (normal). */
function neighbourVariance(values: Float64Array): number {
  if (values.length < 3) return 0;
  const steps = values.subarray(1).map((value, i) => Math.abs(value - (values[i] as number)));
  return (1.4826 * medianOf(steps)) ** 2 / 2;
}

function medianOf(values: Float64Array): number {
  const sorted = Float64Array.from(values).sort();
  const half = sorted.length >> 1;
  return sorted.length % 2 === 1 ? (sorted[half] as number) : ((sorted[half - 1] as number) + (sorted[half] as number)) / 2;
}

const average = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;
