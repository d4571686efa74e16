/**
 * The run rules, by what they look for: the zone tests of the Western Electric Statistical Quality Control Handbook,
 * 1956 (first four), and what Nelson 1984 adds to them or counts otherwise.
 */
export type RuleName =
  | 'beyond-limits' | 'two-of-three' | 'four-of-five' | 'eight-in-a-row'
  | 'nine-in-a-row' | 'six-in-a-trend' | 'fourteen-alternating' | 'fifteen-inside' | 'eight-outside';

export type Side = 'above' | 'below';

/** Where a pattern lies. A trend is above when it rises and below when it falls; what has no side of its own is on both. */
export type FiringSide = Side | 'both';

/** One rule met at one point. Both positions are 0-based in the series that was judged. */
export type Firing = {
  /** The last point of the pattern, which itself lies in the zone: the signal belongs to it. */
  readonly index: number;
  readonly rule: RuleName;
  readonly side: FiringSide;
  /** The first point that contributes to the pattern; where a search for the cause begins. */
  readonly firstIndex: number;
};

/**
 * One rule as a machine that is fed point after point. Its memory is one whole number and, for rules that look at the
 * step from point to point, the point before; so it costs the same at the millionth point as at the first, and what a
 * live chart knows is what a replay knows.
 * z is the plotted value less the centre line over the sigma of the plotted statistic, a finite number.
 */
export type RunRule = {
  /** Whether a point counts by the zone it lies in, or by its step from the point before. */
  readonly sees: 'zone' | 'step';
  /** Memory before the first point and after every gap, declared change or change of limits. */
  readonly start: number;
  /** `before` is the z of the point before, null where there is none since the memory was emptied. */
  readonly step: (state: number, z: number, before: number | null) => number;
  /** What the last point set off: the side, and how many points back the pattern began. Null when nothing. */
  readonly fired: (state: number) => { readonly side: FiringSide; readonly back: number } | null;
};

/** "Beyond" means beyond by more than rounding: this far, in z. A point exactly on a line is not beyond it. */
export const BEYOND_TOLERANCE = 1e-9;
