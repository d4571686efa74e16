import type { Endpoint } from '#contract/endpoint';
import { designedCusum, designedEwma, detectionPlan, operatingCharacteristic, runLengthCusum, runLengthEwma } from '#contract/workbench/power';

/** Schemes of Lucas & Saccucci 1990 and Vance 1986; the plan is our own invention. */
export const powerExamples: readonly { endpoint: Endpoint; body: unknown }[] = [
  { endpoint: runLengthEwma, body: { lambda: 0.1, width: 2.814, shifts: [0, 0.25, 1], survivalAt: [100] } },
  { endpoint: runLengthCusum, body: { k: 0.5, h: 5, shifts: [0, 0.25, 1], headStart: 2.5 } },
  { endpoint: designedEwma, body: { lambda: 0.2, arl: 370 } },
  { endpoint: designedCusum, body: { k: 0.5, arl: 370 } },
  { endpoint: operatingCharacteristic, body: { chart: 'mean', n: 5, shifts: [1, 2] } },
  { endpoint: operatingCharacteristic, body: { chart: 'sd', n: 5, ratios: [1, 2] } },
  { endpoint: operatingCharacteristic, body: { chart: 'p', n: 50, centre: 0.2, shares: [0.2, 0.35] } },
  { endpoint: operatingCharacteristic, body: { chart: 'c', centre: 19.67, means: [19.67, 30] } },
  {
    endpoint: detectionPlan,
    body: {
      components: { check: 0.0001, piece: 0.0004, position: 0.0009 }, piecesPerCheck: 5, positionsPerPiece: 3, intervalMinutes: 30, piecesPerMinute: 400, hoursPerDay: 16,
      scheme: { kind: 'rules', rules: ['beyond-limits', 'two-of-three', 'four-of-five', 'eight-in-a-row'] }, shifts: [0.01, 0.02, 0.04], limitsInclude: 'short-term',
    },
  },
];
