/** The zone tests of the Western Electric Statistical Quality Control Handbook, 1956, by what they look for. */
export type RuleName = 'beyond-limits' | 'two-of-three' | 'four-of-five' | 'eight-in-a-row';

export type Side = 'above' | 'below';

/** One rule met at one point. Both positions are 0-based in the series that was judged. */
export type Firing = {
  /** The last point of the pattern, which itself lies in the zone: the signal belongs to it. */
  readonly index: number;
  readonly rule: RuleName;
  readonly side: Side;
  /** The first point that contributes to the pattern; where a search for the cause begins. */
  readonly firstIndex: number;
};

/**
 * One rule as a machine that is fed point after point. Its whole memory is one whole number, so it costs the same at
 * the millionth point as at the first, and what a live chart knows is what a replay knows.
 * z is the plotted value less the centre line over the sigma of the plotted statistic, a finite number.
 */
export type RunRule = {
  /** Memory before the first point and after every gap or change of limits. */
  readonly start: number;
  readonly step: (state: number, z: number) => number;
  /** What the last point set off: the side, and how many points back the pattern began. Null when nothing. */
  readonly fired: (state: number) => { readonly side: Side; readonly back: number } | null;
};

/** "Beyond" means beyond by more than rounding: this far, in z. A point exactly on a line is not beyond it. */
export const BEYOND_TOLERANCE = 1e-9;
