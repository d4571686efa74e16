import type { Endpoint } from '#contract/endpoint';
import { chartToUse, memoryOfReadings, partOfVariation, revisionsOfLimits, trialLimits } from '#contract/workbench/choosing';

const widths = [
  [1.3235, 1.4128, 1.6744, 1.4573, 1.6914], [1.4314, 1.3592, 1.6075, 1.4666, 1.6109], [1.4284, 1.4871, 1.4932, 1.4324, 1.5674],
  [1.5028, 1.6352, 1.3841, 1.2831, 1.5507], [1.5604, 1.2735, 1.5265, 1.4363, 1.6441], [1.5955, 1.5451, 1.3574, 1.3281, 1.4198],
  [1.6274, 1.5064, 1.8366, 1.4177, 1.5144], [1.419, 1.4303, 1.6637, 1.6067, 1.5519], [1.3884, 1.7277, 1.5355, 1.5176, 1.3688],
  [1.4039, 1.6697, 1.5089, 1.4627, 1.522], [1.4158, 1.7667, 1.4278, 1.5928, 1.4181], [1.5821, 1.3355, 1.5777, 1.3908, 1.7559],
  [1.2856, 1.4106, 1.4447, 1.6398, 1.1928], [1.4951, 1.4036, 1.5893, 1.6458, 1.4969], [1.3589, 1.2863, 1.5996, 1.2497, 1.5471],
  [1.5747, 1.5301, 1.5171, 1.1839, 1.8662], [1.368, 1.7269, 1.3957, 1.5014, 1.4449], [1.4163, 1.3864, 1.3057, 1.621, 1.5573],
  [1.5796, 1.4185, 1.6541, 1.5116, 1.7247], [1.7106, 1.4412, 1.2361, 1.382, 1.7601], [1.4371, 1.5051, 1.3485, 1.567, 1.488],
  [1.4738, 1.5936, 1.6583, 1.4973, 1.472], [1.5917, 1.4333, 1.5551, 1.5295, 1.6866], [1.6399, 1.5243, 1.5705, 1.5563, 1.553],
  [1.5797, 1.3663, 1.624, 1.3732, 1.6887],
];
const thickness = [546, 540, 566, 564, 577, 546, 543, 529, 561, 556, 577, 553, 563, 577, 556, 540, 515, 520, 548, 542, 505, 487, 506, 514, 568, 584, 570, 545, 589, 562, 569, 571];
const runs = [1, 1, 1, 1, 1, 1, 1, 1, 2, 2, 2, 2, 2, 2, 2, 2, 3, 3, 3, 3, 3, 3, 3, 3, 4, 4, 4, 4, 4, 4, 4, 4];
const zones = [1, 1, 2, 2, 3, 3, 4, 4, 1, 1, 2, 2, 3, 3, 4, 4, 1, 1, 2, 2, 3, 3, 4, 4, 1, 1, 2, 2, 3, 3, 4, 4];
const flow = [1120, 1160, 963, 1210, 1160, 1160, 813, 1230, 1370, 1140, 995, 935, 1110, 994, 1020, 960, 1180, 799, 958, 1140];

/**
 * Widths: Montgomery, table 6.1; thickness: NIST/SEMATECH e-Handbook 3.5.1.4, first four runs; flow of the Nile 1871 to
 * 1890 from R's datasets (Cobb 1978). Causes and revisions are our own invention.
 */
export const choosingExamples: readonly { endpoint: Endpoint; body: unknown }[] = [
  { endpoint: partOfVariation, body: { values: thickness, levels: [{ name: 'run', labels: runs }, { name: 'zone', labels: zones }] } },
  { endpoint: chartToUse, body: { subgroups: widths } },
  { endpoint: memoryOfReadings, body: { values: flow } },
  { endpoint: trialLimits, body: { kind: 'xbar-r', subgroups: widths.map((readings, check) => (check === 4 ? readings.map((value) => value + 0.9) : readings)), causes: [{ index: 4, cause: 'tool changed' }] } },
  { endpoint: revisionsOfLimits, body: { before: { centre: 1.5056, sigma: 0.1398, readings: 125, freedom: 90.7 }, after: { centre: 1.489, sigma: 0.121, readings: 125, freedom: 90.7 } } },
];
