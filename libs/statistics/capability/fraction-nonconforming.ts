import { requireFinite } from '../numeric/require-finite.js';
import { type ExactFraction, exactFraction } from '../sampling/exact-fraction.js';

/** Counted units outside the specification, as measured: no distribution is assumed, so it serves percentages and grades. */
export type FractionNonconforming = {
  readonly n: number;
  readonly below: number | null;
  readonly above: number | null;
  /** Shares 0 to 1 of both sides together, with the exact interval and bound of Clopper & Pearson. */
  readonly outside: ExactFraction;
  /** The same shares in parts per million. */
  readonly ppm: { readonly fraction: number; readonly low: number; readonly high: number; readonly upperBound: number };
};

/**
 * Share of units outside the limits, for characteristics that have no capability index: bounded ones (tightness %, overlap
 * %, body hook butting %) and ordinal ones (grades). A value on a limit is inside.
 * Source: Clopper & Pearson 1934, Biometrika 26.
 * @param values one a unit; positions round one can are not independent units, give the worst of them
 * @throws RangeError without a value or a limit, with limits in the wrong order, when a number is not finite or confidence outside 0 to 1
 */
export function fractionNonconforming(values: ArrayLike<number>, lsl: number | null, usl: number | null, confidence = 0.95): FractionNonconforming {
  requireFinite(values, 1, 'fractionNonconforming');
  for (const [name, limit] of [['lower', lsl], ['upper', usl]] as const) {
    if (limit !== null && !Number.isFinite(limit)) throw new RangeError(`fractionNonconforming: needs a finite ${name} specification limit or none, ${limit} given`);
  }
  if (lsl === null && usl === null) throw new RangeError('fractionNonconforming: needs at least one specification limit, none given');
  // One grade may be the only good one, so equal limits are allowed here.
  if (lsl !== null && usl !== null && !(lsl <= usl)) throw new RangeError(`fractionNonconforming: needs the lower specification limit not above the upper one, ${lsl} and ${usl} given`);
  let below = 0;
  let above = 0;
  for (let i = 0; i < values.length; i += 1) {
    const value = values[i] as number;
    if (lsl !== null && value < lsl) below += 1;
    else if (usl !== null && value > usl) above += 1;
  }
  const outside = exactFraction(below + above, values.length, confidence);
  return {
    n: values.length, below: lsl === null ? null : below, above: usl === null ? null : above, outside,
    ppm: { fraction: 1e6 * outside.fraction, low: 1e6 * outside.low, high: 1e6 * outside.high, upperBound: 1e6 * outside.upperBound },
  };
}
