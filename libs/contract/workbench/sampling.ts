import { z } from 'zod';
import { confidence, method, probability, real, whole } from './method.js';

const count = z.number().int().nonnegative();
const share = z.number().min(0).max(1);
const shares = z.array(z.number({ error: 'a share from 0 to 1 is expected' }).min(0, 'a share from 0 to 1 is expected').max(1, 'a share from 0 to 1 is expected')).min(1, 'at least one share is expected').max(1000, 'at most 1,000 shares are expected').describe('incoming shares defective');
const units = whole(1, 1_000_000_000);
const lot = units.nullable().default(null).describe('units in a lot; null: a process without lots');
const model = z.enum(['binomial', 'hypergeometric', 'poisson']).default('binomial').describe('lots from a steady process; one finite lot; defects a unit');
const informs = 'A plan informs: which quality and which risks are right, and what is done with a lot, the specification, its owner and the process authority decide.';

const curvePoint = {
  share, accept: share.describe('probability of acceptance'), outgoing: share.describe('average share that leaves when rejected lots are screened and defectives replaced (AOQ)'),
  inspected: real.nullable().describe('average units looked at a lot, screened lots included (ATI); null without lots'),
};
const outgoingLimit = z.object({ share: share.describe('AOQL'), incoming: share });

export const zeroAcceptance = method('zero-acceptance', {
  summary: 'Units to look at so that a lot this bad passes with no more than the risk, accepting on none defective',
  description: `Exact: hypergeometric for a number of defectives in a lot, binomial for a share of a process. The smallest whole n. Source: Schilling & Neubauer, Acceptance Sampling in Quality Control. ${informs}`,
  body: z.union([
    z.object({ lot: units, defective: units, risk: probability.describe('allowed probability of acceptance at that number, such as 0.05') }),
    z.object({ share: probability, risk: probability }),
  ]),
  answer: z.object({ n: count, accept: share.describe('probability of acceptance that is left') }),
});

export const singlePlanCurve = method('single-plan', {
  summary: 'What a single sampling plan accepts: operating characteristic, outgoing quality, inspection',
  description: `Look at n units, accept with c defectives or fewer. AOQ = p Pa (1 - n/N), ATI = n + (1 - Pa)(N - n) (Dodge & Romig 1929; NIST/SEMATECH e-Handbook 6.2.3.2). \`levels\`: incoming shares accepted with probability 0.95, 0.5 and 0.1. ${informs}`,
  body: z.object({ n: units, c: whole(0, 10_000), lot, model, shares }),
  answer: z.object({ points: z.array(z.object(curvePoint)), outgoingLimit, levels: z.array(z.object({ accept: share, share: real })) }),
});

export const doublePlanCurve = method('double-plan', {
  summary: 'What a double sampling plan accepts, and how much it looks at',
  description: `First n1 units: accept with c1 or fewer, reject with r1 or more (null: c2 + 1); else n2 more, accept with c2 or fewer in both. ASN counts every sample finished (NIST/SEMATECH e-Handbook 6.2.4). ${informs}`,
  body: z.object({ n1: units, c1: whole(0, 10_000), r1: whole(1, 10_001).nullable().default(null), n2: units, c2: whole(0, 10_000), lot, model, shares }),
  answer: z.object({ points: z.array(z.object({ ...curvePoint, decidedFirst: share.describe('probability that the first sample decides'), sampled: real.describe('average sample number, units') })), outgoingLimit }),
});

export const planForTwoPoints = method('find-plan', {
  summary: 'The smallest single plan that holds the risks of producer and consumer',
  description: `Smallest acceptance number, then smallest sample, with P(accept | good) >= 1 - producerRisk and P(accept | bad) <= consumerRisk (Guenther 1969, Journal of Quality Technology 1). \`largestN\`: up to it both risks hold with this c. ${informs}`,
  body: z.object({ good: probability.describe('share (AQL)'), producerRisk: probability.default(0.05), bad: probability.describe('share (LTPD)'), consumerRisk: probability.default(0.1), lot, model }),
  answer: z.object({ n: count, c: count, largestN: count, acceptGood: share, acceptBad: share }),
});

export const exactShare = method('exact-fraction', {
  summary: 'Share of units with a property, with exact bounds; also when none was found',
  description: `Clopper & Pearson 1934 for a process; with \`lot\` also the number in that finite lot (Buonaccorsi 1987, The American Statistician 41). \`upperBound\` is one-sided: with the confidence, not more than this. ${informs}`,
  body: z.object({ found: whole(0, 1_000_000_000), n: units, lot, confidence }),
  answer: z.object({ fraction: share, low: share, high: share, upperBound: share, inLot: z.object({ low: count, high: count, upperBound: count }).nullable().describe('units; null without a lot') }),
});
