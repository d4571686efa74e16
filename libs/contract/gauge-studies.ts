import { z } from 'zod';
import { endpoint } from './endpoint.js';
import { gaugeStanding, gaugeVerdict } from './gauge-standing.js';
import { closers, correctors, readers, recorders } from './roles.js';
import { finite, id, idText, moment, shortText } from './shapes.js';

const count = z.number().int().nonnegative();
const share = z.number().min(0).max(10);
const label = z.string().trim().min(1, 'a name').max(60, 'at most 60 characters');
const distinct = (list: readonly unknown[]) => new Set(list).size === list.length;
export const MOST_TRIALS = 600;

/** What ratings there are; absent where a gauge gives a number. */
export const ratingScale = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('ordinal'), grades: z.array(z.number().finite()).min(2).max(30).refine((grades) => grades.every((grade, i) => i === 0 || grade > (grades[i - 1] as number)), 'grades that rise'), steps: count.max(29).default(1), least: z.number().finite().nullable().default(null) }),
  z.object({ kind: z.literal('nominal'), categories: z.array(label).min(2, 'at least 2 ratings').max(30).refine(distinct, 'each rating once'), reject: z.array(label).default([]) })
    .refine(({ categories, reject }) => reject.every((one) => categories.includes(one)), { path: ['reject'], message: 'ratings of the list' }),
]);
export type RatingScale = z.infer<typeof ratingScale>;
export const gaugeDesign = z.enum(['crossed', 'nested', 'agreement', 'bias']);
export type GaugeDesign = z.infer<typeof gaugeDesign>;

export const newGaugeStudy = z.object({
  title: shortText, note: z.string().trim().max(4000).default(''), supersedesId: id.nullable().default(null),
  design: gaugeDesign, characteristicId: id, gaugeId: id.nullable().default(null), productId: id.nullable().default(null),
  /** At least 2; one is enough for bias. */
  people: z.array(label).min(1, 'at least one person').max(10).refine(distinct, 'each person once'),
  /** Nested: the parts of all people together, dealt out at random; a repeat is then a can that counts as the same part. */
  parts: z.array(label).min(2, 'at least 2 parts').max(100).refine(distinct, 'each part once'),
  /** At most 10; 50 of each master for bias. */
  repeats: z.number().int().min(1).max(50),
  scale: ratingScale.nullable().default(null),
  /** What each part is, by a reference: the place of its rating in the scale. */
  standard: z.array(count).nullable().default(null),
  /** Bias: what each part (a master) is by a reference, in the unit of the characteristic. */
  references: z.array(z.number().finite().min(-1e9).max(1e9)).nullable().default(null),
  confidence: z.number().min(0.5).max(0.999).default(0.95),
}).superRefine((plan, context) => {
  const wrong = (field: string, message: string) => context.addIssue({ code: 'custom', path: [field], message });
  const rates = plan.design === 'agreement';
  if (rates !== (plan.scale !== null)) wrong('scale', rates ? 'the ratings that there are' : 'none: this design measures');
  if (plan.design !== 'bias' && plan.repeats > 10) wrong('repeats', 'at most 10');
  if (plan.design !== 'bias' && plan.people.length < 2) wrong('people', 'at least 2 people');
  if (plan.design === 'bias' && (plan.references === null || plan.references.length !== plan.parts.length || !plan.references.some((value) => value !== plan.references?.[0]))) wrong('references', `one reference value for each of ${plan.parts.length} parts, at least 2 different ones`);
  if (plan.design !== 'bias' && plan.references !== null) wrong('references', 'none: only a study of bias has them');
  if (!rates && plan.gaugeId === null) wrong('gaugeId', 'the gauge that measures');
  if (!rates && plan.repeats < 2) wrong('repeats', '2 or more');
  if (plan.design === 'nested' && (plan.parts.length % plan.people.length !== 0 || plan.parts.length < 2 * plan.people.length)) wrong('parts', `the same number for each of ${plan.people.length} people, at least 2 each`);
  const size = plan.scale === null ? 0 : plan.scale.kind === 'ordinal' ? plan.scale.grades.length : plan.scale.categories.length;
  if (plan.standard !== null && (!rates || plan.standard.length !== plan.parts.length || plan.standard.some((place) => place >= size))) wrong('standard', 'one rating of the list for each part');
  if (plan.parts.length * plan.repeats * (plan.design === 'nested' ? 1 : plan.people.length) > MOST_TRIALS) wrong('parts', `at most ${MOST_TRIALS} readings in all`);
});
export type NewGaugeStudy = z.output<typeof newGaugeStudy>;

export const studyThresholds = z.object({ gaugeAccept: share, gaugeReject: share, categories: z.number().int().min(1).max(100), kappaAccept: z.number().min(-1).max(1), kappaReject: z.number().min(-1).max(1), source: shortText });
export type StudyThresholds = z.infer<typeof studyThresholds>;
const thresholdsChange = studyThresholds.extend({ reason: z.string().trim().min(3, 'a reason, at least 3 characters').max(500) }).superRefine((given, context) => {
  if (!(given.gaugeAccept > 0)) context.addIssue({ code: 'custom', path: ['gaugeAccept'], message: 'a share above 0' });
  if (given.gaugeAccept > given.gaugeReject) context.addIssue({ code: 'custom', path: ['gaugeReject'], message: 'a share not below the acceptable one' });
  if (given.kappaReject > given.kappaAccept) context.addIssue({ code: 'custom', path: ['kappaReject'], message: 'a kappa not above the acceptable one' });
});

const bounds = z.object({ low: finite, high: finite }).nullable();
const source = z.enum(['repeatability', 'appraiser', 'interaction', 'reproducibility', 'gauge', 'part', 'total']);
/** Sds in the unit of the readings; shares as parts of 1. */
const variation = z.object({ source, sd: finite, interval: bounds, ofVariance: finite.nullable(), ofStudy: finite.nullable(), ofTolerance: finite.nullable(), ofToleranceInterval: bounds });
const proportion = z.object({ found: count, of: count, fraction: finite, low: finite, high: finite });
const kappa = z.object({ kappa: finite.nullable(), low: finite.nullable(), high: finite.nullable() });
const agreementOf = z.object({ first: z.string(), second: z.string(), exact: proportion, within: proportion.nullable(), meanDifference: finite.nullable(), kappa, missed: proportion.nullable(), falseAlarms: proportion.nullable() });
export const gaugeCautions = ['destructive', 'few-masters', 'bias-only', 'bias-at-master', 'few-parts', 'few-people', 'no-tolerance', 'out-of-calibration', 'calibration-not-known', 'no-standard', 'parts-alike', 'coarse', 'retaken', 'interaction'] as const;

export const gaugeResult = z.object({
  thresholds: studyThresholds, tolerance: finite.nullable(),
  verdict: gaugeVerdict.nullable(),
  /** What the verdict rests on, each figure with its own. */
  judged: z.array(z.object({ figure: z.enum(['of-tolerance', 'of-study', 'categories', 'kappa']), value: finite, verdict: gaugeVerdict })),
  measured: z.object({
    rows: z.array(variation), ofStudyInterval: bounds, categories: finite.nullable(), categoriesInterval: z.object({ low: finite, high: finite.nullable() }).nullable(),
    interaction: z.enum(['kept', 'pooled']).nullable(), pInteraction: finite.nullable(),
    /** The same by averages and ranges, for crossed studies. */
    byRanges: z.object({ gaugeSd: finite, ofStudy: finite.nullable(), ofTolerance: finite.nullable() }).nullable(),
  }).nullable(),
  /** Reading minus reference, in the unit of the characteristic; the line of bias on the reference, with its band at each master. */
  bias: z.object({
    masters: z.array(z.object({ part: z.string(), reference: finite, n: count, bias: finite, sd: finite.nullable(), low: finite.nullable(), high: finite.nullable(), fitted: finite, bandLow: finite, bandHigh: finite, zeroInside: z.boolean() })),
    averageBias: finite, slope: finite, slopeLow: finite, slopeHigh: finite, slopeP: finite.nullable(), intercept: finite, rSquared: finite.nullable(),
    /** The line of no bias lies inside the band at every master: no bias is shown over the range. */
    unbiased: z.boolean(),
  }).nullable().default(null),
  rated: z.object({ raters: z.array(z.string()), allAgree: proportion, fleiss: kappa.nullable(), pairs: z.array(agreementOf), againstStandard: z.array(agreementOf), lowestKappa: finite.nullable() }).nullable(),
  /** Person, part, readings in the order of repeats. */
  readings: z.array(z.object({ person: count, part: count, values: z.array(finite) })),
  calibration: gaugeStanding.shape.calibration, cautions: z.array(z.enum(gaugeCautions)),
}).meta({ id: 'GaugeStudyResult' });
export type GaugeResult = z.infer<typeof gaugeResult>;

const planOf = z.object({
  design: gaugeDesign, people: z.array(z.string()), parts: z.array(z.string()), repeats: count, scale: ratingScale.nullable(), standard: z.array(count).nullable(), references: z.array(finite).nullable().default(null), confidence: finite,
  /** The order is made from this number: the same number gives the same order. */
  seed: z.number().int(), tolerance: finite.nullable(), specificationId: id.nullable(), unit: z.string(), decimals: z.number().int(), gaugeStep: finite,
});
export const storedGaugePlan = planOf;
export type GaugePlan = z.infer<typeof planOf>;
export const gaugeContent = z.object({ kind: z.literal('gauge'), plan: planOf, taken: count, of: count, retakes: count, result: gaugeResult.nullable() });

const recordParams = z.object({ recordId: idText });
export const planGaugeStudy = endpoint({
  method: 'POST', path: '/api/studies/gauge', feature: 'studies', access: correctors, status: 201,
  summary: 'Plan a gauge study: who measures which part in which order',
  description: 'crossed: everybody measures every part. nested: the measurement destroys the can, so each person has parts of their own, and adjacent cans of one head count as one part. agreement: ratings by eye. bias: masters with known values, which shows how far the gauge is off over its range; it does not say how much the gauge scatters, and so is no study that proves the gauge by itself. The order is random and kept with its seed.',
  body: newGaugeStudy, answer: z.object({ id }), problems: ['not-found'],
});

export const blindSheet = z.object({
  id, title: z.string(), state: z.string(), design: gaugeDesign, characteristic: z.string(), gauge: z.string().nullable(), unit: z.string(), decimals: z.number().int(), gaugeStep: finite, scale: ratingScale.nullable(),
  people: z.array(z.object({ name: z.string(), taken: count, of: count })),
  /** The next reading of the person; null: all are taken, or nobody was chosen. Earlier values are never sent. */
  next: z.object({ sequence: z.number().int(), part: z.string(), place: count }).nullable(),
  last: z.object({ sequence: z.number().int(), part: z.string() }).nullable(),
});
export type BlindSheet = z.infer<typeof blindSheet>;
export const getBlindSheet = endpoint({
  method: 'GET', path: '/api/studies/gauge/:recordId/sheet', feature: 'studies', access: readers,
  summary: 'What a person measures next, without any value that was measured', params: recordParams,
  query: z.object({ person: z.coerce.number().int().min(0).max(9).optional() }), answer: blindSheet, problems: ['not-found', 'wrong-state'],
});

export const enterTrial = endpoint({
  method: 'POST', path: '/api/studies/gauge/:recordId/readings', feature: 'studies', access: recorders, status: 201,
  summary: 'Enter the next reading of a gauge study',
  description: 'In the order of the plan only. A rating is its place in the list. A reading that was taken wrongly is taken anew with a reason; the old value stays in the audit trail.',
  params: recordParams,
  body: z.object({ sequence: z.number().int().positive().max(MOST_TRIALS), value: z.number().finite().min(-1e9).max(1e9), unusual: z.boolean().default(false), retakeReason: z.string().trim().min(3, 'a reason, at least 3 characters').max(500).optional() }),
  answer: z.object({ taken: count, of: count }), problems: ['not-found', 'wrong-state', 'implausible-reading'],
});

export const finishGaugeStudy = endpoint({
  method: 'POST', path: '/api/studies/gauge/:recordId/finish', feature: 'studies', access: correctors, status: 201,
  summary: 'Close the sheet and compute', description: 'Needs every reading of the plan. The readings never change after it.', params: recordParams, body: z.object({}), answer: z.object({ id }), problems: ['not-found', 'wrong-state', 'cannot-compute'],
});

const thresholdsView = studyThresholds.extend({ setBy: z.string().nullable(), setAt: moment.nullable(), reason: z.string().nullable() });
export const getStudyThresholds = endpoint({ method: 'GET', path: '/api/studies/thresholds', feature: 'studies', access: readers, summary: 'From which figures the plant calls a gauge acceptable', answer: thresholdsView });
export const changeStudyThresholds = endpoint({ method: 'PUT', path: '/api/studies/thresholds', feature: 'studies', access: closers, summary: 'Set the thresholds of gauge studies, with the reason', description: 'Studies that were computed keep the ones that they were judged by.', body: thresholdsChange, answer: thresholdsView });

export const listGaugeStandings = endpoint({
  method: 'GET', path: '/api/studies/gauges', feature: 'studies', access: readers,
  summary: 'Every gauge in use: calibration now, and approved studies by characteristic',
  answer: z.object({ gauges: z.array(z.object({ id, code: z.string(), name: z.string(), calibration: gaugeStanding.shape.calibration, calibratedAt: moment.nullable(), dueAt: moment.nullable(), certificate: z.string().nullable(), studies: z.array(z.object({ id, characteristic: z.string(), design: gaugeDesign, /** Of a bias study: whether no bias is shown over its range. */ unbiased: z.boolean().nullable(), verdict: gaugeVerdict.nullable(), approvedAt: moment })) })) }),
});
