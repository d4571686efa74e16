import { requireFinite, requirePositive } from './require-number.js';

export type PlausibleRange = { low: number | null; high: number | null; gaugeStep: number | null };

export type ImplausibleCode = 'slipped-decimal' | 'below-range' | 'above-range' | 'off-gauge-step';

/** `suggestion` is what was probably meant; it is a question to the person, never a silent correction. */
export type Implausible = { code: ImplausibleCode; suggestion: number | null };

// Common slips: one place of the decimal, and hundredths of a millimetre typed as millimetres (or the reverse).
const slips = [0.1, 10, 0.01, 100];
// Relative to one gauge step: 2.55 / 0.01 is 254.99999999999997, an honest multiple.
const stepTolerance = 1e-6;

/**
 * Whether a reading is one that the can or the gauge does not allow. Null means plausible.
 * The range is what the can makes possible, much wider than any specification.
 * A value outside the range that would be inside after a slip of the decimal is reported as the slip.
 * @throws RangeError when the value is not finite, the step is not above zero, or low exceeds high.
 */
export function implausible(value: number, { low, high, gaugeStep }: PlausibleRange): Implausible | null {
  requireFinite('value', value);
  if (low !== null) requireFinite('low', low);
  if (high !== null) requireFinite('high', high);
  if (low !== null && high !== null && low > high) throw new RangeError(`low must not exceed high ${high}, got ${low}`);
  if (gaugeStep !== null) requirePositive('gaugeStep', gaugeStep);

  const inside = (candidate: number) => (low === null || candidate >= low) && (high === null || candidate <= high);
  if (!inside(value)) {
    const suggestion = slips.map((factor) => withoutNoise(value * factor)).find(inside) ?? null;
    if (suggestion !== null) return { code: 'slipped-decimal', suggestion };
    return { code: low !== null && value < low ? 'below-range' : 'above-range', suggestion: null };
  }
  if (gaugeStep !== null) {
    const steps = value / gaugeStep;
    if (Math.abs(steps - Math.round(steps)) > stepTolerance) {
      return { code: 'off-gauge-step', suggestion: withoutNoise(Math.round(steps) * gaugeStep) };
    }
  }
  return null;
}

// 25.5 × 0.1 is 2.5500000000000003 in binary; twelve digits are far beyond any gauge.
function withoutNoise(value: number): number {
  return Number(value.toPrecision(12));
}
