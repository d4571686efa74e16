import type { Endpoint } from '#contract/endpoint';
import { adjustPs, compareMany, compareTwo } from '#contract/workbench/association';

// Hours of sleep gained under two drugs: Student 1908, in R's datasets as `sleep`, from memory.
const [first, second] = [[0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0, 2], [1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4]];

/** Flange widths of the heads are our own invention. */
export const associationExamples: readonly { endpoint: Endpoint; body: unknown }[] = [
  { endpoint: compareTwo, body: { first, second } },
  { endpoint: compareTwo, body: { first: [2, 2, 2], second: [2, 2, 2] } },
  { endpoint: compareMany, body: { samples: [[2.45, 2.47, 2.44, 2.46], [2.44, 2.46, 2.45, 2.47], [2.52, 2.5, 2.53, 2.51]] } },
  { endpoint: compareMany, body: { samples: [[2.5, 2.5, 2.5], [2.44, 2.46, 2.45]], adjust: 'holm' } },
  { endpoint: adjustPs, body: { ps: [0.001, 0.02, 0.03, 0.6] } },
];
