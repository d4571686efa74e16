import type { Endpoint } from '#contract/endpoint';
import { capabilityIndices, capabilityOfUnits, fitDistributions, fractionOutside, histogramOfValues, normality, probabilityPlotOfValues, sampleSizeForIndex } from '#contract/workbench/capability';

const widths = [
  [1.3235, 1.4128, 1.6744, 1.4573, 1.6914], [1.4314, 1.3592, 1.6075, 1.4666, 1.6109], [1.4284, 1.4871, 1.4932, 1.4324, 1.5674],
  [1.5028, 1.6352, 1.3841, 1.2831, 1.5507], [1.5604, 1.2735, 1.5265, 1.4363, 1.6441], [1.5955, 1.5451, 1.3574, 1.3281, 1.4198],
];
const concentration = [102, 94.8, 98.3, 98.4, 102, 98.5, 99, 97.7, 100, 98.1, 101.3, 98.7, 101.1, 98.4, 97, 96.7, 100.3, 101.4, 97.2, 101];
const endurance = [17.88, 28.92, 33, 41.52, 42.12, 45.6, 48.48, 51.84, 51.96, 54.12, 55.56, 67.8, 68.64, 68.64, 68.88, 84.12, 93.12, 98.64, 105.12, 105.84, 127.92, 128.04, 173.4];

/**
 * Widths: Montgomery, table 6.1 (first rows); concentration: Montgomery & Runger, 3rd ed., table 16-3; endurance: ball
 * bearings of Lieblein & Zelen 1956 (from memory). Units, limits and grades are our own invention.
 */
export const capabilityExamples: readonly { endpoint: Endpoint; body: unknown }[] = [
  { endpoint: capabilityIndices, body: { subgroups: widths, lsl: 1, usl: 2, target: 1.5 } },
  { endpoint: capabilityIndices, body: { subgroups: concentration.map((value) => [value]), chart: 'i-mr', lsl: 90 } },
  { endpoint: capabilityOfUnits, body: { units: [{ unit: 'chuck 1', subgroups: widths.slice(0, 3) }, { unit: 'chuck 2', subgroups: widths.slice(3) }], chart: 'xbar-s', lsl: 1, usl: 2 } },
  { endpoint: normality, body: { values: concentration } },
  { endpoint: fitDistributions, body: { values: endurance, lsl: 10, usl: 400 } },
  { endpoint: probabilityPlotOfValues, body: { values: endurance, family: 'weibull' } },
  { endpoint: histogramOfValues, body: { values: concentration, gaugeStep: 0.1 } },
  { endpoint: sampleSizeForIndex, body: { index: 'location', target: 1.33, assumed: 1.5 } },
  { endpoint: sampleSizeForIndex, body: { index: 'spread', target: 1.33, assumed: 1.67, power: 0.8 } },
  { endpoint: fractionOutside, body: { values: [100, 90, 85, 80, 70, 75, 100, 95, 60, 69.9], lsl: 70 } },
];
