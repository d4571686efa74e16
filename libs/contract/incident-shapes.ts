import { z } from 'zod';
import { finite, id, longText, moment, shortText } from './shapes.js';

/** The life of an incident, in its order: one step forward at a time, back with a reason. */
export const incidentStates = ['open', 'contained', 'cause-found', 'action-taken', 'effect-verified', 'closed'] as const;
export const incidentState = z.enum(incidentStates);
export type IncidentState = (typeof incidentStates)[number];

/** Our own short list in the words of the trade. */
export const causeCategories = ['plate', 'tooling-wear', 'setting', 'jam-or-restart', 'maintenance', 'handling', 'measurement', 'instruction', 'customer-side', 'unknown'] as const;
export const causeCategory = z.enum(causeCategories);
export type CauseCategory = (typeof causeCategories)[number];

/** Why, and why that, and so on: fewer than five may be enough, more than seven lead nowhere. */
export const whys = z.array(z.object({ question: shortText, answer: z.string().trim().min(1, 'an answer').max(1000) })).max(7, 'at most 7 questions');
export type Whys = z.infer<typeof whys>;

export const verificationAsked = z.object({
  streamId: id,
  /** What is compared: means of subgroups, or of single cans. */
  basis: z.enum(['subgroups', 'cans']).default('subgroups'),
  /** What was changed, in words, and when. */
  change: shortText, changedAt: moment, eventId: id.nullable().default(null),
  before: z.object({ from: moment, to: moment }), after: z.object({ from: moment, to: moment }),
  /** What the action was to bring about. */
  expected: z.enum(['higher', 'lower', 'differ']).default('differ'),
}).superRefine(({ before, after, changedAt }, context) => {
  const order: [field: string[], earlier: string, later: string, expected: string, equal: boolean][] = [
    [['before', 'to'], before.from, before.to, 'a moment after the beginning of the span before', false],
    [['before', 'to'], before.to, changedAt, 'a moment not after the change', true],
    [['after', 'from'], changedAt, after.from, 'a moment not before the change', true],
    [['after', 'to'], after.from, after.to, 'a moment after the beginning of the span after', false],
  ];
  for (const [path, earlier, later, message, equal] of order) {
    const [from, to] = [Date.parse(earlier), Date.parse(later)];
    if (from > to || (!equal && from === to)) context.addIssue({ code: 'custom', path, message });
  }
});
export type VerificationAsked = z.infer<typeof verificationAsked>;

const count = z.number().int().nonnegative();
const verificationSide = z.object({
  /** Values compared, and the checks they come from. */
  n: count, checks: count, mean: finite, sd: finite, low: finite, high: finite, first: moment, last: moment,
  /** Subgroups with limits, those of them in which a rule fired, and those without limits. */
  judged: count, signalled: count, notJudged: count,
  /** Correlation of neighbouring values, and whether it is beyond chance; null under 8 values. */
  memory: z.object({ r: finite, bound: finite, beyond: z.boolean() }).nullable(),
});
export const verificationCautions = ['not-proof', 'few-values', 'memory', 'cans-of-one-check', 'no-difference-seen', 'other-way', 'after-signals', 'after-not-judged', 'limits-changed', 'other-events', 'no-variation'] as const;
export const verificationAnswer = z.object({
  stream: z.object({
    id, characteristic: z.string(), unit: z.string(), decimals: count, machine: z.string(), machineUnit: z.string().nullable(), lane: z.string().nullable(), product: z.string(),
    lsl: finite.nullable(), target: finite.nullable(), usl: finite.nullable(),
  }),
  before: verificationSide, after: verificationSide,
  /** Mean after less mean before, with its 95 % interval (Welch); null where nothing varies. */
  welch: z.object({ difference: finite, low: finite, high: finite, t: finite, df: finite, p: finite }).nullable(),
  permutation: z.object({ p: finite, divisions: count, exact: z.boolean(), standardError: finite }).nullable(),
  /** By ranks; delta is the chance that a value after is higher less that it is lower. */
  ranks: z.object({ p: finite, exact: z.boolean(), delta: finite }).nullable(),
  /** The difference in standard deviations (Hedges), with its 95 % interval. */
  size: z.object({ g: finite, low: finite, high: finite }).nullable(),
  afterControl: z.enum(['in-control', 'signals', 'partly-judged', 'not-judged']),
  /** Other line events of this machine or the whole line within the two spans: each may be what made the difference. */
  otherEvents: z.array(z.object({ id, at: moment, kind: z.string(), text: z.string() })), otherEventsLeftOut: count,
  cautions: z.array(z.enum(verificationCautions)),
}).meta({ id: 'IncidentVerification' });
export type VerificationAnswer = z.infer<typeof verificationAnswer>;
export type VerificationSide = z.infer<typeof verificationSide>;

export const keptVerification = z.object({ id, asked: verificationAsked, answer: verificationAnswer, version: z.string(), author: z.string(), createdAt: moment });
export type KeptVerification = z.infer<typeof keptVerification>;

export const incidentEvent = z.object({ id, at: moment, until: moment.nullable(), kind: z.string(), machine: z.string().nullable(), text: z.string(), actor: z.string(), reason: z.string(), linkedBy: z.string() });
export type IncidentEvent = z.infer<typeof incidentEvent>;

/** What the life of an incident adds to it. */
export const incidentLife = z.object({
  causeMachine: z.object({ id, code: z.string(), name: z.string() }).nullable(),
  whys, verificationId: id.nullable(), verdict: z.string(), closedWithout: z.string(),
  eventList: z.array(incidentEvent), verifications: z.array(keptVerification),
  /** The newest version of the answer to the customer; null where none was written. */
  reply: z.object({ version: count, counts: z.boolean(), author: z.string(), createdAt: moment }).nullable(),
});
export const incidentStep = z.object({
  id, at: moment, actor: z.string(), action: z.string(), comment: z.string().nullable(),
  state: z.string().nullable(), evidence: z.string().nullable(), dueAt: moment.nullable(),
});
export type IncidentStep = z.infer<typeof incidentStep>;

export const dueDate = moment.nullable();
export const whyNeeded = longText.min(1, 'a reason');
