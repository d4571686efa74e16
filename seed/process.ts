/**
 * How one measured characteristic varies, in its own unit: around `mean`, a fixed offset for each head or spindle
 * (`unit`; for weld and stripe: machine and lane), from can to can, within one can, and by the gauge. Cans are independent of each other: a stream that no
 * fault touches is steady, so that its alarms are the rules' own false alarms and nothing else.
 */
export type Variation = {
  mean: number; unit: number; can: number; within: number; gauge: number;
  /** Fixed offset of a position, the same on each can. */
  positionOffsets?: Record<string, number>;
};

const flangeAtWeld = { 'beside weld': -0.05 };
const wedge = { front: -0.01, back: 0.01 };
// Lanes of the slitter (sigma 0.010) come in no fixed order, so they add to the spread from can to can: √(0.012² + 0.010²).
const weldOverlap = { unit: 0.006, can: 0.0156, within: 0.015, gauge: 0.008, positionOffsets: wedge };
const weldThickness = { unit: 0.0015, can: 0.004, within: 0.005, gauge: 0.002 };
// As the display shows it: it wanders over a roll of wire.
const weldCurrent = { unit: 0, can: 12, within: 0, gauge: 5 };
const stripeFilm = { unit: 1.5, can: 5, within: 6, gauge: 2 };
const flangeWidth = { unit: 0.02, can: 0.025, within: 0.03, gauge: 0.01, positionOffsets: flangeAtWeld };
const seamThickness = { unit: 0.01, can: 0.008, within: 0.01, gauge: 0.006 };
const seamLength = { unit: 0.015, can: 0.015, within: 0.02, gauge: 0.008 };
const hook = { unit: 0.025, can: 0.02, within: 0.03, gauge: 0.012 };
const countersink = { unit: 0.012, can: 0.01, within: 0.012, gauge: 0.008 };
// Judged by eye in steps of five: most of the spread is the reader's.
const tightness = { mean: 88, unit: 2, can: 3.5, within: 0, gauge: 4 };

// Invented on a scale that is common practice, no source.
const variations: Record<string, Record<string, Variation>> = {
  A65: {
    'weld-overlap': { mean: 0.42, ...weldOverlap }, 'weld-thickness': { mean: 0.21, ...weldThickness }, 'weld-current': { mean: 3320, ...weldCurrent }, 'stripe-film': { mean: 60, ...stripeFilm },
    'flange-width': { mean: 2.41, ...flangeWidth }, 'seam-thickness': { mean: 0.99, ...seamThickness }, 'seam-length': { mean: 2.55, ...seamLength },
    'body-hook': { mean: 1.75, ...hook }, 'cover-hook': { mean: 1.65, ...hook }, countersink: { mean: 2.7, ...countersink }, tightness,
  },
  B73: {
    'weld-overlap': { mean: 0.45, ...weldOverlap }, 'weld-thickness': { mean: 0.224, ...weldThickness }, 'weld-current': { mean: 3400, ...weldCurrent }, 'stripe-film': { mean: 60, ...stripeFilm },
    'flange-width': { mean: 2.71, ...flangeWidth }, 'seam-thickness': { mean: 1.06, ...seamThickness }, 'seam-length': { mean: 2.95, ...seamLength },
    'body-hook': { mean: 2.0, ...hook }, 'cover-hook': { mean: 1.95, ...hook }, countersink: { mean: 3.15, ...countersink }, tightness,
  },
  C99: {
    'weld-overlap': { mean: 0.48, ...weldOverlap }, 'weld-thickness': { mean: 0.252, ...weldThickness }, 'weld-current': { mean: 3620, ...weldCurrent }, 'stripe-film': { mean: 60, ...stripeFilm },
    'flange-width': { mean: 2.81, ...flangeWidth }, 'seam-thickness': { mean: 1.16, ...seamThickness }, 'seam-length': { mean: 3.0, ...seamLength },
    'body-hook': { mean: 2.05, ...hook }, 'cover-hook': { mean: 1.98, ...hook }, countersink: { mean: 3.22, ...countersink }, tightness,
  },
};

export function variationOf(productCode: string, characteristicCode: string): Variation {
  const found = variations[productCode]?.[characteristicCode];
  if (found === undefined) throw new RangeError(`no variation of ${characteristicCode} on ${productCode}`);
  return found;
}
