import { varies } from '../../charts/limits-basis.js';
import { mean as meanOf } from '../../numeric/mean.js';
import { requireFinite } from '../../numeric/require-finite.js';
import { standardDeviation } from '../../numeric/standard-deviation.js';

/** Values as shares of their mean above a known threshold, and what is needed to undo that. */
export type Excess = {
  readonly n: number;
  /** Mean less threshold, in the unit of the values. */
  readonly scale: number;
  /** ln((x - threshold) / scale) of each value. */
  readonly logs: Float64Array;
  /** Mean of logs; 0 or negative. */
  readonly meanLog: number;
};

/**
 * Logarithms of the excess over the threshold. Taken of quotients by the mean, so that values which differ in their
 * seventh digit only still have logarithms with nine digits.
 * @throws RangeError under 3 values, when they do not vary, or when one is not above the threshold (1-based position)
 */
export function excessOver(values: ArrayLike<number>, threshold: number, caller: string): Excess {
  requireFinite(values, 3, caller);
  if (!Number.isFinite(threshold)) throw new RangeError(`${caller}: needs a finite threshold, ${threshold} given`);
  const n = values.length;
  for (let i = 0; i < n; i += 1) {
    if (!((values[i] as number) > threshold)) throw new RangeError(`${caller}: needs values above the threshold ${threshold}, value ${i + 1} of ${n} is ${values[i]}`);
  }
  const centre = meanOf(values);
  const sd = standardDeviation(values, caller);
  const scale = centre - threshold;
  if (!(Number.isFinite(sd) && Number.isFinite(scale))) throw new RangeError(`${caller}: needs values whose squared differences stay within the range of numbers, larger ones given`);
  // A threshold far away makes the excesses alike where the values are not.
  if (!varies(sd, Math.max(Math.abs(centre), scale))) throw new RangeError(`${caller}: needs values that vary, all alike to the resolution of the gauge given`);
  const logs = new Float64Array(n);
  let sum = 0;
  for (let i = 0; i < n; i += 1) {
    const share = ((values[i] as number) - centre) / scale;
    // Near -1 the sum 1 + share has lost the small excess itself; there the quotient is taken directly.
    logs[i] = share < -0.5 ? Math.log(((values[i] as number) - threshold) / scale) : Math.log1p(share);
    // The shares add up to nothing, so leaving them out of the sum changes only its rounding.
    sum += (logs[i] as number) - share;
  }
  return { n, scale, logs, meanLog: sum / n };
}
