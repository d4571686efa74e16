import { z } from 'zod';
import { endpoint } from './endpoint.js';
import { checkPlanView } from './plant.js';
import { engineers, readers } from './roles.js';
import { ruleName } from './rule-names.js';
import { finite, id, idParams, moment } from './shapes.js';
import { chartKind, streamView } from './specifications.js';

const count = z.number().int().nonnegative();
const positive = z.number().positive('a number above 0');

/** From the outside in: what differs between checks, between cans of one check, between positions of one can. */
export const variationSource = z.enum(['check', 'can', 'position']);
export type VariationSource = z.infer<typeof variationSource>;

export const variationComponent = z.object({
  /** Several where the readings cannot tell them apart, for example check and can where every check had one can. */
  sources: z.array(variationSource).min(1),
  /** Squared unit; `raw` is what the mean squares give and may be negative, `variance` is cut at 0. */
  raw: finite, variance: finite,
  share: z.number().min(0).max(1).nullable(),
  groups: count, df: count,
  /** 95 % interval of the variance; null where the numbers of cans or readings are uneven. */
  interval: z.object({ low: finite, high: finite }).nullable(),
});
export type VariationComponent = z.infer<typeof variationComponent>;

/** The newest checks of a span; at most so many are taken. */
export const mostVariationChecks = 300;

export const streamVariation = z.object({
  stream: streamView,
  used: z.object({
    checks: count, cans: count, readings: count, from: moment.nullable(), to: moment.nullable(),
    /** The span holds older checks that were not taken. */
    older: z.boolean(),
    /** Checks of the span whose readings were derived by another formula version than the newest ones. */
    otherFormula: count,
  }),
  mean: finite.nullable(),
  components: z.array(variationComponent),
  /** Why there are no components. */
  refusal: z.enum(['too-little-data', 'cannot-compute']).nullable(),
  steadiness: z.object({ openSignals: count, signalled: count.describe('checks with at least one signal, whatever became of it'), notJudged: count }),
  /** What is measured now, for this machine, product and characteristic; null where no plan in use asks for it. */
  plan: checkPlanView.extend({
    /** Times that `cans` are pulled in one check of the machine: its units or lanes where the plan is kept apart by them, else 1. */
    parts: z.number().int().positive(),
    /** Other streams that this plan feeds, and that a changed plan changes too. */
    otherStreams: count,
  }).nullable(),
  /** From the machine's production counts of the last 7 days before the newest check; null where there are none. */
  speed: z.object({
    machineCansPerMinute: positive.describe('while it made cans'), share: z.number().int().positive().describe('units and lanes that make equal shares, where the stream is kept apart by them'),
    cansPerMinute: positive.describe('of this stream'), hoursPerDay: positive.max(24), days: z.number().int().positive(), from: moment, to: moment,
  }).nullable(),
}).meta({ id: 'StreamVariation' });
export type StreamVariation = z.infer<typeof streamVariation>;

export const getStreamVariation = endpoint({
  method: 'GET', path: '/api/streams/:id/variation', feature: 'specifications', access: readers,
  summary: 'What the variation of a stream consists of, how it is checked now and how fast its machine runs',
  description: [
    `The newest ${mostVariationChecks} checks of the span (all time unless given); voided checks are left out. Nested analysis of variance, check / can / position, all random: mean squares set equal to their expectations (Searle, Casella & McCulloch 1992, Variance Components, 3.6 and 5.2).`,
    'A lasting difference between positions counts as variation between positions; a shift of the process counts as variation between checks.',
  ].join(' '),
  params: idParams,
  query: z.object({ from: moment.optional(), to: moment.optional() }).refine(({ from, to }) => !from || !to || new Date(from) <= new Date(to), { path: ['to'], message: 'a moment not before the beginning' }),
  answer: streamVariation, problems: ['not-found'],
});

const reason = z.string().trim().min(3, 'a reason of at least 3 characters').max(1000, 'a reason of at most 1000 characters');
const rules = z.array(ruleName).min(1, 'at least one rule').max(20, 'at most 20 rules');

const rulesFrom = {
  /** New rules judge checks from now on. What was judged stays judged, unless a late check or a correction makes its stretch be judged anew. */
  judgesFrom: z.literal('next-check'),
  revision: count,
};

export const changeStream = endpoint({
  method: 'PUT', path: '/api/streams/:id', feature: 'specifications', access: engineers,
  summary: 'Change the rules of a stream, or its kind of chart as long as it has no frozen limits',
  description: 'New rules judge from the next check on. A late check or a correction is judged, with the points after it that it touches, by the rules that hold then.',
  params: idParams, body: z.object({ rules, chartKind: chartKind.optional(), reason }).meta({ id: 'StreamChange' }),
  answer: z.object({ id, rules, chartKind, ...rulesFrom }), problems: ['not-found', 'wrong-state'],
});

/** The chart that a plan was computed for. A stream holds run rules; the other two can be compared, not taken over. */
export const plannedScheme = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('rules'), rules }),
  z.object({ kind: z.literal('ewma'), lambda: z.number().gt(0).max(1), width: positive }),
  z.object({ kind: z.literal('cusum'), k: z.number().min(0), h: positive }),
]);
export type PlannedScheme = z.infer<typeof plannedScheme>;

const plannedPositions = z.array(z.string().trim().min(1, 'a name').max(40, 'a name of at most 40 characters')).min(1, 'at least one position').max(24, 'at most 24 positions');

export const planTakeOver = z.object({
  checkPlanId: id,
  cans: z.number().int('a whole number of cans').min(1, '1 can or more').max(100, 'at most 100 cans'),
  positions: plannedPositions,
  everyMinutes: z.number().int('whole minutes').min(1, '1 minute or more').max(10_080, 'at most a week'),
  scheme: plannedScheme,
  /** What the Planner showed for this plan; it is kept with the interval as its source. */
  figures: z.object({
    falseAlarmDays: finite.nonnegative().nullable(), shift: positive.describe('unit of the characteristic'),
    cansUntilSeen: finite.nonnegative().nullable().describe('mean'), hoursUntilSeen: finite.nonnegative().nullable().describe('mean'), tornDownPerDay: finite.nonnegative(),
  }),
  reason,
}).meta({ id: 'PlanTakeOver' });
export type PlanTakeOver = z.output<typeof planTakeOver>;

export const takeOverPlan = endpoint({
  method: 'PUT', path: '/api/streams/:id/plan', feature: 'specifications', access: engineers,
  summary: 'Take a plan of the Planner over: check plan and rules of the stream change together, or not at all',
  description: 'Cans, positions and interval hold for the next check of the machine; rules judge from the next check on. Every stream that the check plan feeds is measured by the changed plan; only the rules of this stream change.',
  params: idParams, body: planTakeOver,
  answer: z.object({
    checkPlanId: id, intervalSource: z.string(), rules, otherStreams: count,
    /** Frozen limits came from a mean of other cans or positions: they no longer fit, freeze new ones when enough checks are there. */
    limitsStillFit: z.boolean(), ...rulesFrom,
  }).meta({ id: 'PlanTakenOver' }),
  problems: ['not-found', 'wrong-state'],
});
