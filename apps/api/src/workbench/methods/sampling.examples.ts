import type { Endpoint } from '#contract/endpoint';
import { doublePlanCurve, exactShare, planForTwoPoints, singlePlanCurve, zeroAcceptance } from '#contract/workbench/sampling';

/** The single plan is the one of NIST/SEMATECH e-Handbook 6.2.3.2; the others are our own. */
export const samplingExamples: readonly { endpoint: Endpoint; body: unknown }[] = [
  { endpoint: zeroAcceptance, body: { lot: 2000, defective: 20, risk: 0.05 } },
  { endpoint: zeroAcceptance, body: { share: 0.01, risk: 0.1 } },
  { endpoint: singlePlanCurve, body: { n: 52, c: 3, lot: 10_000, shares: [0.01, 0.03, 0.12] } },
  { endpoint: doublePlanCurve, body: { n1: 50, c1: 1, n2: 100, c2: 4, lot: 10_000, shares: [0.01, 0.05] } },
  { endpoint: planForTwoPoints, body: { good: 0.01, bad: 0.05 } },
  { endpoint: exactShare, body: { found: 0, n: 300, lot: 5000 } },
];
