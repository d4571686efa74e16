import { BEYOND_TOLERANCE } from './verdict.js';

/** Bits of a code: what fired at the point, by rule and side. */
export const CODE = {
  'beyond-limits': { above: 1, below: 16 },
  'two-of-three': { above: 2, below: 32 },
  'four-of-five': { above: 4, below: 64 },
  'eight-in-a-row': { above: 8, below: 128 },
} as const;

/** Code of a gap. No point can be on both sides at once, so no firing has it, and it cannot be taken for steady (0). */
export const NOT_JUDGED = 255;

/** Number of set bits of a five-bit window, and whether four or more are set with the newest (lowest) among them. */
const FOUR_OF_FIVE = Uint8Array.from({ length: 32 }, (_, bits) => {
  const count = (bits & 1) + ((bits >> 1) & 1) + ((bits >> 2) & 1) + ((bits >> 3) & 1) + ((bits >> 4) & 1);
  return (bits & 1) === 1 && count >= 4 ? 1 : 0;
});

/**
 * The four rules over a long series in one pass: what evaluateRules says, as bits, for replays of years of checks.
 * z in a Float64Array; NaN (or an infinity, which no frozen limits can give) is a gap: NOT_JUDGED, windows emptied.
 * Equality with evaluateRules is a property test.
 */
export function fireCodes(z: Float64Array): Uint8Array {
  const codes = new Uint8Array(z.length);
  const one = 1 + BEYOND_TOLERANCE;
  const two = 2 + BEYOND_TOLERANCE;
  const three = 3 + BEYOND_TOLERANCE;
  // Windows as bits, newest lowest; runs count up on their own side and are 0 on the other.
  let twoAbove = 0;
  let twoBelow = 0;
  let oneAbove = 0;
  let oneBelow = 0;
  let runAbove = 0;
  let runBelow = 0;
  for (let i = 0; i < z.length; i += 1) {
    const value = z[i] as number;
    if (value > BEYOND_TOLERANCE && value < Number.POSITIVE_INFINITY) {
      runAbove += 1;
      runBelow = 0;
      const beyondOne = value > one ? 1 : 0;
      const beyondTwo = value > two ? 1 : 0;
      twoAbove = ((twoAbove << 1) | beyondTwo) & 7;
      oneAbove = ((oneAbove << 1) | beyondOne) & 31;
      twoBelow = (twoBelow << 1) & 7;
      oneBelow = (oneBelow << 1) & 31;
      codes[i] =
        (value > three ? 1 : 0) |
        (beyondTwo === 1 && (twoAbove & 6) !== 0 ? 2 : 0) |
        ((FOUR_OF_FIVE[oneAbove] as number) << 2) |
        (runAbove >= 8 ? 8 : 0);
    } else if (value < -BEYOND_TOLERANCE && value > Number.NEGATIVE_INFINITY) {
      runBelow += 1;
      runAbove = 0;
      const beyondOne = value < -one ? 1 : 0;
      const beyondTwo = value < -two ? 1 : 0;
      twoBelow = ((twoBelow << 1) | beyondTwo) & 7;
      oneBelow = ((oneBelow << 1) | beyondOne) & 31;
      twoAbove = (twoAbove << 1) & 7;
      oneAbove = (oneAbove << 1) & 31;
      codes[i] =
        (value < -three ? 16 : 0) |
        (beyondTwo === 1 && (twoBelow & 6) !== 0 ? 32 : 0) |
        ((FOUR_OF_FIVE[oneBelow] as number) << 6) |
        (runBelow >= 8 ? 128 : 0);
    } else {
      runAbove = 0;
      runBelow = 0;
      if (Math.abs(value) <= BEYOND_TOLERANCE) {
        twoAbove = (twoAbove << 1) & 7;
        twoBelow = (twoBelow << 1) & 7;
        oneAbove = (oneAbove << 1) & 31;
        oneBelow = (oneBelow << 1) & 31;
      } else {
        twoAbove = 0;
        twoBelow = 0;
        oneAbove = 0;
        oneBelow = 0;
        codes[i] = NOT_JUDGED;
      }
    }
  }
  return codes;
}
