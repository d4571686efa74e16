/** Three points of a distribution, in the unit of the values: what lies below x0.135, x50 and x99.865 is 0.135 %, 50 % and 99.865 %. */
export type ReferencePoints = { readonly low: number; readonly middle: number; readonly high: number };

/** Without unit; null where the limit that a figure needs does not exist. */
export type PercentileCapability = { readonly pp: number | null; readonly ppl: number | null; readonly ppu: number | null; readonly ppk: number | null };

/** The share below the lower point, as the standards print it; three sigma of a normal would be 0.1349898 %. */
export const REFERENCE_SHARE = 0.00135;

/**
 * Indices of any distribution by its percentiles: Pp = (USL-LSL)/(x99.865-x0.135), Ppu = (USL-x50)/(x99.865-x50),
 * Ppl = (x50-LSL)/(x50-x0.135), Ppk the smaller existing one. For a normal they are Pp and Ppk themselves.
 * They are as good as the fit is in its far tails, where there are no values to check it: see chooseDistribution.
 * Source: ISO 22514-2:2017 and ISO/TR 22514-4:2016, the percentile (general geometric) method; Clements 1989, "Process
 * capability calculations for non-normal distributions", Quality Progress 22(9).
 * @throws RangeError when the points do not rise, a number is not finite, no limit is given or they are in the wrong order
 */
export function percentileCapability(points: ReferencePoints, lsl: number | null, usl: number | null): PercentileCapability {
  const { low, middle, high } = points;
  if (![low, middle, high].every(Number.isFinite) || !(low < middle && middle < high)) throw new RangeError(`percentileCapability: needs three rising finite points, ${low}, ${middle}, ${high} given`);
  for (const [name, limit] of [['lower', lsl], ['upper', usl]] as const) {
    if (limit !== null && !Number.isFinite(limit)) throw new RangeError(`percentileCapability: needs a finite ${name} specification limit or none, ${limit} given`);
  }
  if (lsl === null && usl === null) throw new RangeError('percentileCapability: needs at least one specification limit, none given');
  if (lsl !== null && usl !== null && !(lsl < usl)) throw new RangeError(`percentileCapability: needs the lower specification limit below the upper one, ${lsl} and ${usl} given`);
  const ppl = lsl === null ? null : quotient(middle, lsl, middle, low);
  const ppu = usl === null ? null : quotient(usl, middle, high, middle);
  const pp = lsl === null || usl === null ? null : quotient(usl, lsl, high, low);
  return { pp, ppl, ppu, ppk: ppl === null || ppu === null ? (ppl ?? ppu) : Math.min(ppl, ppu) };
}

function quotient(a: number, b: number, c: number, d: number): number {
  const value = (a - b) / (c - d);
  if (!Number.isFinite(value)) throw new RangeError('percentileCapability: needs limits and points of like size, the index of those given is beyond the range of numbers');
  return value;
}
