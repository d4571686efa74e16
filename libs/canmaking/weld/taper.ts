import { requireFinite, requireNotNegative } from '../require-number.js';
import type { Millimetre } from '../units.js';

export type Taper = {
  /** Overlap at the front (leading) body end less overlap at the back end: positive is a wedge that is wide in front. */
  difference: Millimetre;
  wedge: 'wide-in-front' | 'wide-at-the-back' | 'none';
  /** Middle less the mean of both ends; null without a middle reading. A skewed blank gives a wedge and no bow. */
  bow: Millimetre | null;
};

/**
 * Wedge of the weld overlap of one body. The wide end runs cold and the narrow end hot at one current, so a wedge inside
 * the limits of the overlap can still show as a cold weld at one body end. Common practice, no source.
 * @param gaugeStep differences up to the step of the gauge are not called a wedge
 * @returns millimetres
 * @throws RangeError naming the bad input.
 */
export function overlapTaper(input: { front: Millimetre; middle: Millimetre | null; back: Millimetre; gaugeStep?: Millimetre }): Taper {
  const front = requireFinite('front', input.front);
  const back = requireFinite('back', input.back);
  const step = requireNotNegative('gaugeStep', input.gaugeStep ?? 0);
  const bow = input.middle === null ? null : requireFinite('middle', input.middle) - (front + back) / 2;
  const difference = front - back;
  // Decimal readings subtract to 0.010000000000000009: a millionth of a millimetre is no difference.
  if (Math.abs(difference) <= step + 1e-6) return { difference, wedge: 'none', bow };
  return { difference, wedge: difference > 0 ? 'wide-in-front' : 'wide-at-the-back', bow };
}
