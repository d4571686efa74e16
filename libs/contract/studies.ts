import { z } from 'zod';
import { endpoint } from './endpoint.js';
import { gaugeStanding } from './gauge-standing.js';
import { readers, recorders } from './roles.js';
import { finite, id, idText, moment } from './shapes.js';

const count = z.number().int().nonnegative();
const named = z.object({ id, code: z.string(), name: z.string() });
const interval = z.object({ low: finite, high: finite }).nullable();
const eachSide = z.object({ below: finite.nullable(), above: finite.nullable() });

/** The period holds `from` and ends before `to`. */
export const capabilityQuery = z.object({
  product: idText, machine: idText, characteristic: idText,
  from: moment, to: moment,
  unit: idText.optional(), lane: idText.optional(),
  confidence: z.coerce.number().min(0.5, 'a confidence from 0.5 to 0.999').max(0.999, 'a confidence from 0.5 to 0.999').default(0.95),
}).refine(({ from, to }) => new Date(from) < new Date(to), { path: ['to'], message: 'a moment after the beginning of the period' });
export type CapabilityQuery = z.infer<typeof capabilityQuery>;

/** Why there is no figure: fewer data than it needs, readings by different formulas, no limit to compare with, streams charted in different ways, subgroups beyond what chart factors exist for. */
export const refusal = z.object({ code: z.enum(['too-little-data', 'mixed-formulas', 'no-specification', 'mixed-charts', 'subgroups-too-large']), needed: count.nullable() });

export const studySignal = z.object({
  id, streamId: id, chart: z.string(), rule: z.string(), side: z.string(), state: z.string(),
  firedAt: moment, firstAt: moment, lastAt: moment, cause: z.string().nullable(),
});
export const studyGauge = z.object({
  id, code: z.string(), name: z.string(), resolution: finite, unit: z.string(), calibrationDue: moment.nullable(),
  subgroups: count,
  /** Subgroups measured after the day on which calibration was due. */
  overdue: count,
});

export const capabilityFigures = z.object({
  cp: finite.nullable(), cpk: finite.nullable(), pp: finite.nullable(), ppk: finite.nullable(), cpm: finite.nullable(),
  intervals: z.object({ cp: interval, cpk: interval, pp: interval, ppk: interval }),
  /** One-sided: with this confidence Ppk is not below it. */
  ppkLowerBound: finite.nullable(),
  expectedPpm: z.object({ within: eachSide, overall: eachSide }),
  withinGap: z.enum(['no-variation', 'too-few-subgroups', 'several-members-an-individual']).nullable(),
});

/** One stream, or all of them pooled. Lengths in the unit of the characteristic; n counts charted members (readings, or cans). */
export const capabilityEntry = z.object({
  streamId: id.nullable(),
  unit: z.object({ id, code: z.string() }).nullable(),
  lane: z.object({ id, code: z.string() }).nullable(),
  chartKind: z.string(), basis: z.enum(['can', 'reading']), severalPositions: z.boolean(),
  method: z.enum(['two-sided', 'one-sided', 'fraction']).nullable(),
  refusal: refusal.nullable(),
  n: count, subgroups: count, readings: count,
  mean: finite.nullable(), sdWithin: finite.nullable(), sdOverall: finite.nullable(),
  minimum: finite.nullable(), maximum: finite.nullable(),
  /** Readings outside the specification limits, as measured. */
  readingsOutside: eachSide,
  /** Units with a reading outside (a can counts once), with exact bounds of their share. */
  outside: z.object({ found: count, units: count, fraction: finite, low: finite, high: finite, upperBound: finite }).nullable(),
  figures: capabilityFigures.nullable(),
  normality: z.object({ n: count, a2: finite, p: finite, pIsUpperBound: z.boolean(), wording: z.enum(['may-be-normal', 'not-normal']) }).nullable(),
  histogram: z.object({
    edges: z.array(finite), counts: z.array(count),
    curves: z.object({ within: z.object({ x: z.array(finite), count: z.array(finite) }).nullable(), overall: z.object({ x: z.array(finite), count: z.array(finite) }).nullable() }),
  }).nullable(),
  stability: z.object({ state: z.enum(['stable', 'not-stable', 'not-judged']), judged: count, notJudged: count, rules: z.array(z.string()), signals: z.array(studySignal) }),
  formulas: z.array(z.string()),
  gauges: z.array(studyGauge), withoutGauge: count,
  /** Subgroups in which a correction replaced a value: the newest values are used. */
  corrected: count,
  /** Below what a first study asks for (25 subgroups or 100 readings: common practice, no source). */
  fewData: z.boolean(),
});
export type CapabilityEntry = z.infer<typeof capabilityEntry>;

export const studyRevision = z.object({ id, revision: z.number().int(), lsl: finite.nullable(), target: finite.nullable(), usl: finite.nullable(), effectiveFrom: moment, reason: z.string() });

export const capabilityCautions = z.enum([
  'not-stable', 'not-judged', 'few-data', 'no-specification', 'specification-changed', 'specification-began', 'can-means', 'not-normal',
  'several-members-an-individual', 'pooled-hides', 'mixed-formulas', 'calibration-overdue', 'gauge-unknown', 'coarse-gauge', 'corrected', 'no-gauge-study', 'gauge-study-failed', 'no-legal-minimum',
]);

export const capabilityStudy = z.object({
  plant: z.object({ name: z.string(), timeZone: z.string() }),
  product: named.extend({ customer: z.string() }),
  machine: named.extend({ line: z.string() }),
  characteristic: named.extend({ unit: z.string(), decimals: z.number().int(), gaugeStep: finite, kind: z.string() }),
  period: z.object({ from: moment, to: moment }),
  confidence: finite,
  specification: z.object({
    /** The one that everything is compared with: the last in force. */
    used: studyRevision.nullable(),
    /** All that were in force at some time in the period, oldest first. */
    revisions: z.array(studyRevision),
  }),
  /** Worst first. */
  streams: z.array(capabilityEntry),
  /** All streams together; null when there is one. */
  pooled: capabilityEntry.nullable(),
  /** How each gauge stood at the end of the period; an entry without a gauge stands for readings that name none. */
  measurement: z.array(gaugeStanding),
  cautions: z.array(capabilityCautions),
  softwareVersion: z.string(),
}).meta({ id: 'CapabilityStudy' });
export type CapabilityStudy = z.infer<typeof capabilityStudy>;

export const getCapability = endpoint({
  method: 'GET', path: '/api/capability', feature: 'studies', access: readers, auditor: { thing: 'product', at: 'query.product' },
  summary: 'Capability of a characteristic on one machine, stability first',
  description: 'For each stream (unit, lane), worst first, and pooled: whether it was stable in the period, then indices with intervals, expected and observed parts outside, normality and histogram. Ratings and percentages get an exact fraction instead of an index; formula versions are never mixed.',
  query: capabilityQuery, answer: capabilityStudy, problems: ['not-found', 'too-little-data'],
});

export const getCapabilityCsv = endpoint({
  method: 'GET', path: '/api/capability.csv', feature: 'studies', access: readers, auditor: { thing: 'product', at: 'query.product' },
  summary: 'The same figures as a table, one row a stream', description: 'CSV (RFC 4180, UTF-8): lines that say what it is of, an empty line, a heading and one row for each stream and for all pooled.',
  query: capabilityQuery, answer: z.string(), answerType: 'text/csv', problems: ['not-found', 'too-little-data'],
});

export const capabilityChoice = z.object({
  product: named, machine: named.extend({ line: z.string() }), characteristic: named,
  units: z.array(z.object({ id, code: z.string() })), lanes: z.array(z.object({ id, code: z.string() })),
  first: moment, last: moment,
});
export type CapabilityChoice = z.infer<typeof capabilityChoice>;

export const listCapabilityChoices = endpoint({
  method: 'GET', path: '/api/capability/choices', feature: 'studies', access: readers, auditor: 'filtered',
  summary: 'What has readings: product, machine, characteristic, with first and last moment', answer: z.object({ choices: z.array(capabilityChoice) }),
});

const methodName = z.string().regex(/^[a-z-]{1,60}$/, 'the name of a Workbench method, the last part of its address');
/** Data and choices as the Workbench screen writes them; the server keeps them as they are. */
const studyState = z.record(z.string(), z.unknown());

export const newStudy = z.object({
  title: z.string().trim().min(1, 'a title is expected').max(200, 'at most 200 characters are expected'),
  note: z.string().trim().max(4000, 'at most 4000 characters are expected').default(''),
  state: studyState,
  requests: z.array(z.object({ method: methodName, body: z.record(z.string(), z.unknown()) })).min(1, 'at least one computation is expected').max(10, 'at most 10 computations are expected'),
});

export const saveStudy = endpoint({
  method: 'POST', path: '/api/studies', feature: 'studies', access: recorders,
  summary: 'Keep what is on the Workbench as a study',
  description: 'The server computes each request itself and keeps numbers, answers, author and program version together. A study is never changed; keep another one instead. At most 4 MB of numbers.',
  body: newStudy, answer: z.object({ id }), status: 201, problems: ['cannot-compute', 'too-large', 'takes-too-long', 'busy', 'not-found'],
});

export const studyListed = z.object({ id, title: z.string(), note: z.string(), author: z.string(), createdAt: moment, methods: z.array(z.string()) });
export type StudyListed = z.infer<typeof studyListed>;

export const listStudies = endpoint({
  method: 'GET', path: '/api/studies', feature: 'studies', access: readers,
  summary: 'Studies that were kept, newest first', description: 'At most 200; `before` is the id to go on from.',
  query: z.object({ before: idText.optional() }), answer: z.object({ studies: z.array(studyListed) }),
});

export const getStudy = endpoint({
  method: 'GET', path: '/api/studies/:studyId', feature: 'studies', access: readers,
  summary: 'One study: the screen as it stood, the numbers and the answers of that moment',
  params: z.object({ studyId: idText }), problems: ['not-found'],
  answer: studyListed.extend({ version: z.string(), state: studyState, answers: z.array(z.object({ method: z.string(), body: z.unknown(), answer: z.unknown() })) }),
});
