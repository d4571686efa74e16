import type { SeedSpecification } from './plant-types.js';

type Limits = [lsl: number | null, target: number | null, usl: number | null];

// Invented for the three demo cans; no supplier's guideline, standard or law stands behind any of them.
const limits: Record<string, Record<string, Limits>> = {
  A65: {
    'weld-overlap': [0.33, 0.42, 0.51], 'weld-thickness': [0.188, 0.21, 0.232], 'weld-current': [3270, 3320, 3370], 'stripe-film': [35, 60, 85], 'flange-width': [2.25, 2.4, 2.55],
    'seam-thickness': [0.93, 0.99, 1.05], 'seam-length': [2.45, 2.55, 2.65], 'body-hook': [1.6, 1.75, 1.9], 'cover-hook': [1.45, 1.65, null],
    countersink: [2.6, 2.7, 2.8], tightness: [75, null, null],
    'seam-overlap': [0.85, 1.04, null], 'percent-overlap': [42, null, null], 'body-hook-butting': [70, null, null], 'free-space': [null, null, 0.19],
  },
  B73: {
    'weld-overlap': [0.36, 0.45, 0.54], 'weld-thickness': [0.2, 0.224, 0.248], 'weld-current': [3350, 3400, 3450], 'stripe-film': [35, 60, 85], 'flange-width': [2.5, 2.7, 2.9],
    'seam-thickness': [1.0, 1.06, 1.12], 'seam-length': [2.81, 2.95, 3.09], 'body-hook': [1.8, 2.0, 2.2], 'cover-hook': [1.7, 1.95, null],
    countersink: [3.03, 3.15, 3.27], tightness: [75, null, null],
    'seam-overlap': [1.0, 1.2, null], 'percent-overlap': [42, null, null], 'body-hook-butting': [70, null, null], 'free-space': [null, null, 0.21],
  },
  C99: {
    'weld-overlap': [0.39, 0.48, 0.57], 'weld-thickness': [0.226, 0.252, 0.278], 'weld-current': [3570, 3620, 3670], 'stripe-film': [35, 60, 85], 'flange-width': [2.6, 2.8, 3.0],
    'seam-thickness': [1.09, 1.16, 1.23], 'seam-length': [2.86, 3.0, 3.14], 'body-hook': [1.85, 2.05, 2.25], 'cover-hook': [1.75, 1.98, null],
    countersink: [3.1, 3.22, 3.34], tightness: [75, null, null],
    'seam-overlap': [1.05, 1.25, null], 'percent-overlap': [44, null, null], 'body-hook-butting': [70, null, null], 'free-space': [null, null, 0.21],
  },
};

export const seedSpecifications: SeedSpecification[] = Object.entries(limits).flatMap(([productCode, rows]) =>
  Object.entries(rows).map(([characteristicCode, [lsl, target, usl]]) => ({
    productCode, characteristicCode, lsl, target, usl, reason: 'First issue, agreed with the customer at line trial',
  })),
);
