import type { Endpoint } from '#contract/endpoint';
import { averageRangeGauge, biasAndLinearity, crossedGauge, nestedGauge, nominalRatings, ordinalRatings, repeatabilityOfGauge, stabilityOfGauge } from '#contract/workbench/gauges';

const impedance = [
  [[21, 20], [20, 20], [19, 21]], [[24, 23], [24, 24], [23, 24]], [[20, 21], [19, 21], [20, 22]], [[27, 27], [28, 26], [27, 28]], [[19, 18], [19, 18], [18, 21]],
  [[23, 21], [24, 21], [23, 22]], [[22, 21], [22, 24], [22, 20]], [[19, 17], [18, 20], [19, 18]], [[24, 23], [25, 23], [24, 24]], [[25, 23], [26, 25], [24, 25]],
];
const thickness = [
  [[546, 540], [566, 564], [577, 546], [543, 529]], [[561, 556], [577, 553], [563, 577], [556, 540]], [[515, 520], [548, 542], [505, 487], [506, 514]], [[568, 584], [570, 545], [589, 562], [569, 571]],
];
const master = [5.1, 3.9, 4.2, 5, 3.8, 3.9, 3.9, 3.9, 3.9, 4, 4.1, 3.8];
const masters = [{ reference: 2, values: [2.7, 2.5, 2.4, 2.5, 2.7, 2.3] }, { reference: 4, values: master }, { reference: 6, values: [5.8, 5.7, 5.9, 5.9, 6, 6.1] }];

/**
 * Impedance: Montgomery & Runger 1993 (first parts); thickness: NIST/SEMATECH e-Handbook 3.5.1.4 (first runs); masters: the
 * automotive industry reference manual, linearity (shortened); all from memory. Ratings are our own invention.
 */
export const gaugesExamples: readonly { endpoint: Endpoint; body: unknown }[] = [
  { endpoint: crossedGauge, body: { readings: impedance, tolerance: 55 } },
  { endpoint: crossedGauge, body: { readings: impedance, poolAbove: null, multiplier: 5.15 } },
  { endpoint: averageRangeGauge, body: { readings: impedance, tolerance: 55 } },
  { endpoint: nestedGauge, body: { readings: thickness } },
  { endpoint: biasAndLinearity, body: { masters, processVariation: 6 } },
  { endpoint: stabilityOfGauge, body: { checks: [[4, 4.1], [3.9, 4], [4.1, 4.2], [4, null], [3.8, 4]], reference: 4 } },
  { endpoint: stabilityOfGauge, body: { checks: master.map((value) => [value]) } },
  { endpoint: repeatabilityOfGauge, body: { values: master, reference: 4, tolerance: 10 } },
  { endpoint: nominalRatings, body: { ratings: [['good', 'good'], ['droop', 'good'], ['droop', 'droop'], ['vee', 'vee'], ['good', 'good'], ['good', 'droop']], standard: ['good', 'droop', 'droop', 'vee', 'good', 'good'], reject: ['droop', 'vee'] } },
  { endpoint: ordinalRatings, body: { ratings: [[90, 80], [70, 70], [100, 90], [80, 80], [60, 80]], categories: [50, 60, 70, 80, 90, 100], standard: [90, 70, 90, 80, 60], least: 70 } },
];
