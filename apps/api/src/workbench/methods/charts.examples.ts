import type { Endpoint } from '#contract/endpoint';
import { chart } from '#contract/workbench/charts';

const flowRate = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1];
const concentration = [102, 94.8, 98.3, 98.4, 102, 98.5, 99, 97.7, 100, 98.1, 101.3, 98.7, 101.1, 98.4, 97, 96.7, 100.3, 101.4, 97.2, 101];
const widths = [
  [1.3235, 1.4128, 1.6744, 1.4573, 1.6914], [1.4314, 1.3592, 1.6075, 1.4666, 1.6109], [1.4284, 1.4871, 1.4932, 1.4324, 1.5674],
  [1.5028, 1.6352, 1.3841, 1.2831, 1.5507], [1.5604, 1.2735, 1.5265, 1.4363, 1.6441],
];
const defectives = [12, 15, 8, 10, 4, 7, 16, 9, 14, 10];

/**
 * A body for every kind of chart. Flow rate and defective chips: NIST/SEMATECH e-Handbook 6.3.2.2 and 6.3.3.2;
 * concentration: Montgomery & Runger, 3rd ed., table 16-3; widths: Montgomery, table 6.1; the rest is our own invention.
 */
export const chartsExamples: readonly { endpoint: Endpoint; body: unknown }[] = [
  { endpoint: chart, body: { kind: 'xbar-r', subgroups: widths, rules: ['beyond-limits', 'two-of-three', 'four-of-five', 'eight-in-a-row'] } },
  { endpoint: chart, body: { kind: 'xbar-s', subgroups: widths } },
  { endpoint: chart, body: { kind: 'i-mr', values: flowRate, baseline: 5 } },
  { endpoint: chart, body: { kind: 'between-within', subgroups: widths } },
  {
    endpoint: chart, body: { kind: 'deviation-from-nominal', chart: 'xbar-r', checks: [
      { product: '73 mm', nominal: 1.15, readings: [1.14, 1.17, 1.16] }, { product: '99 mm', nominal: 1.3, readings: [1.29, 1.32, 1.28] },
      { product: '73 mm', nominal: 1.15, readings: [1.15, 1.13, 1.17] }, { product: '99 mm', nominal: 1.3, readings: [1.31, 1.3, null] },
    ] },
  },
  { endpoint: chart, body: { kind: 'p', counts: defectives, sizes: 50 } },
  { endpoint: chart, body: { kind: 'p-prime', counts: defectives, sizes: 50 } },
  { endpoint: chart, body: { kind: 'np', counts: defectives, size: 50 } },
  { endpoint: chart, body: { kind: 'c', counts: [16, 14, 28, 16, 12, 20, 10, 12] } },
  { endpoint: chart, body: { kind: 'u', counts: [14, 12, 20, 11, 7, 10], sizes: [10, 8, 13, 10, 9.5, 10] } },
  { endpoint: chart, body: { kind: 'u-prime', counts: [14, 12, 20, 11, 7, 10], sizes: [10, 8, 13, 10, 9.5, 10] } },
  { endpoint: chart, body: { kind: 'g', gaps: [12_000, 45_300, 3_210, 28_900, null, 17_450] } },
  { endpoint: chart, body: { kind: 't', times: [286, 948, 536, 124, 816, 729], method: 'power' } },
  { endpoint: chart, body: { kind: 'ewma', values: flowRate, target: 50, sigma: 2.0539, lambda: 0.3, limits: 'steady-state' } },
  { endpoint: chart, body: { kind: 'cusum', values: concentration, target: 99, sigma: 2, k: 0.5, h: 5 } },
  {
    endpoint: chart, body: { kind: 'group', heads: ['chuck 1', 'chuck 2', 'chuck 3'], run: 2, checks: [
      [[1.12, 1.14], [1.15, 1.16], [1.13, 1.12]], [[1.13, 1.13], [1.17, 1.15], [1.12, 1.14]], [[1.14, 1.12], [1.14, 1.13], [1.13, 1.15]],
    ] },
  },
];
