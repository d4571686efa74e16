import { z } from 'zod';
import { attributeCount, checkSkip, ratingGrid, secondReading } from './check-extras.js';
import { checkPhoto } from './check-photos.js';
import { endpoint } from './endpoint.js';
import { reactionPlan } from './reaction-plans.js';
import { correctors, readers, recorders } from './roles.js';
import { machineIdOrCode, needIdOrCode } from './id-or-code.js';
import { firingSide, ruleName } from './rule-names.js';
import { code, finite, id, idParams, idText, longText, moment } from './shapes.js';

/** One reading. The bound keeps sums of squares finite; what the can or the gauge allows is the characteristic's own, narrower range. */
export const reading = finite.min(-1e9).max(1e9);
/** Readings of one characteristic over the check's cans and positions: can by can, position by position; null is a missing reading. */
export const readings = z.array(reading.nullable()).max(5000);

export const newCheck = z.object({
  /** Chosen by the sender, kept by the server: the same key and content stores once and answers the same. */
  key: z.string().trim().min(8).max(120),
  machineId: id,
  productId: id,
  planId: id.optional(),
  /** When the cans were picked. */
  takenAt: moment,
  inspector: z.string().trim().min(1).max(80).optional(),
  cans: z.array(z.object({ number: z.number().int().min(1).max(100_000), unitId: id.optional(), laneId: id.optional() })).min(1).max(200),
  positions: z.array(z.string().trim().min(1).max(40)).min(1).max(24),
  /** May be empty where counts or ratings are given. */
  characteristics: z.array(z.object({ code, gaugeId: id.optional(), readings })).max(40),
  note: longText.optional(),
  /** Set after the person was asked: readings outside what the gauge or the can allows are stored as they are. */
  confirmed: z.boolean().default(false),
  /** When the person began to enter it and was done, by the clock of their device. */
  begunAt: moment.optional(),
  finishedAt: moment.optional(),
  /** True where it was entered without the network: the stored check says so as its source, and keeps the device's times. */
  offline: z.boolean().optional(),
  counts: z.array(attributeCount).max(40).optional(),
  ratings: z.array(ratingGrid).max(40).optional(),
  skips: z.array(checkSkip).max(500).optional(),
  secondReadings: z.array(secondReading).max(500).optional(),
}).meta({ id: 'NewCheck' });
export type NewCheck = z.infer<typeof newCheck>;

/** As a gauge sends it: machine, product, unit, lane and gauge by id or by the code that stands in the set-up. */
export const sentCheck = newCheck.extend({
  ...machineIdOrCode, productId: id.optional(), product: code.optional(),
  cans: z.array(newCheck.shape.cans.element.extend({ unit: code.optional(), lane: code.optional() })).min(1).max(200),
  characteristics: z.array(newCheck.shape.characteristics.element.extend({ gauge: code.optional() })).max(40),
}).superRefine((check, context) => {
  const one = (path: (string | number)[], byId: number | undefined, byCode: string | undefined, needed = false) => needIdOrCode(context, path, byId, byCode, needed);
  one(['machine'], check.machineId, check.machine, true);
  one(['product'], check.productId, check.product, true);
  check.cans.forEach((can, index) => { one(['cans', index, 'unit'], can.unitId, can.unit); one(['cans', index, 'lane'], can.laneId, can.lane); });
  check.characteristics.forEach((entry, index) => { one(['characteristics', index, 'gauge'], entry.gaugeId, entry.gauge); });
}).meta({ id: 'SentCheck' });
export type SentCheck = z.infer<typeof sentCheck>;

export const verdictStatus = z.enum(['steady', 'signal', 'not-judged']);

export const subgroupVerdict = z.object({
  streamId: id,
  characteristic: z.string(), characteristicName: z.string(), unit: z.string(), decimals: z.number().int(),
  machineUnit: z.string().nullable(), lane: z.string().nullable(),
  takenAt: moment, sequence: z.number().int(),
  n: z.number().int(), mean: finite.nullable(), range: finite.nullable(), sd: finite.nullable(), low: finite.nullable(), high: finite.nullable(),
  formula: z.string().nullable(),
  limits: z.object({ id, lower: finite, centre: finite, upper: finite }).nullable(),
  status: verdictStatus,
  firings: z.array(z.object({ chart: z.enum(['mean', 'spread']), rule: ruleName, side: firingSide, signalId: id })),
  outsideSpecification: z.number().int(),
});
export type SubgroupVerdict = z.infer<typeof subgroupVerdict>;

export const checkVerdict = z.object({
  checkId: id,
  /** True when the key was known: nothing was stored this time. */
  repeated: z.boolean(),
  status: verdictStatus,
  subgroups: z.array(subgroupVerdict),
}).meta({ id: 'CheckVerdict' });
export type CheckVerdict = z.infer<typeof checkVerdict>;

export const recordCheck = endpoint({
  method: 'POST', path: '/api/checks', feature: 'inspections', access: recorders, feed: 'checks',
  summary: 'Log a check and get its verdict',
  description: 'One transaction stores the readings, derives overlap, butting and free space, forms a subgroup for each stream, judges it against the frozen limits and raises signals. Units: millimetres, percent or the unit of the characteristic.',
  status: 201, body: sentCheck, answer: checkVerdict,
  problems: ['not-found', 'key-reused', 'implausible-reading'],
});

/** When the plan of a check asks for the next one. `left`: what is left of its intervals, minutes of running or of the clock, and cans; 0 = due now. */
const nextDue = z.object({
  planId: id, plan: z.string(), everyMinutes: z.number().int().nullable(), everyCans: z.number().int().nullable(), basis: z.enum(['running', 'clock']),
  dueAt: moment.nullable(), minutesLeft: z.number().nullable(), cansLeft: z.number().nullable(), due: z.boolean(), openedBy: z.array(z.string()), source: z.string(),
});

export const floorVerdict = checkVerdict.extend({
  machineId: id, planId: id.nullable(),
  /** "out" where a rule signals; "unknown" where a value has no limits; "nothing" where nothing of the check is charted. */
  control: z.enum(['in', 'out', 'unknown', 'nothing']),
  counts: z.array(z.object({ name: z.string(), inspected: z.number().int(), nonconforming: z.number().int() })),
  /** One for each signalling value that has one. */
  reactions: z.array(z.object({ streamIds: z.array(id), plan: reactionPlan })),
  /** Signalling values for which the plant has written nothing. */
  withoutReaction: z.array(id),
  pastFixes: z.array(z.object({ noteId: id, title: z.string(), signalId: id, confirmed: z.boolean() })),
  next: nextDue.nullable(),
}).meta({ id: 'FloorVerdict' });
export type FloorVerdict = z.infer<typeof floorVerdict>;

export const getCheckVerdict = endpoint({
  method: 'GET', path: '/api/checks/:id/verdict', feature: 'inspections', access: readers,
  summary: 'The verdict of a stored check, with the reaction plans, the past fixes that may fit and the next due check', params: idParams, answer: floorVerdict, problems: ['not-found'],
});

/** One old state of a subgroup: what stood there, who replaced it, when and why. */
export const checkRevision = z.object({
  characteristic: z.string(), characteristicName: z.string(), unit: z.string(), decimals: z.number().int(),
  machineUnit: z.string().nullable(), lane: z.string().nullable(),
  revision: z.number().int(),
  replacedAt: moment, replacedBy: z.string(), reason: z.string(),
  /** By index of can and position; `to` is null also where the check was taken back as a whole. */
  changes: z.array(z.object({ can: z.number().int(), position: z.number().int(), from: finite.nullable(), to: finite.nullable() })),
});

export const checkView = z.object({
  id, takenAt: moment, enteredAt: moment, enteredBy: z.string(), inspector: z.string(),
  machine: z.object({ id, code: z.string(), name: z.string() }),
  product: z.object({ id, code: z.string(), name: z.string() }),
  plan: z.string().nullable(),
  /** entry, offline, import or seed. */
  source: z.string(), note: z.string().nullable(),
  /** Device times, where the sender gave them; takenAt is when the cans were picked, enteredAt when the server stored the check. */
  begunAt: moment.nullable(), finishedAt: moment.nullable(),
  /** When its cans can have passed the weld, walked back over the stretches of the line; null where the line has none on record. */
  welded: z.object({ from: moment, until: moment }).nullable(),
  counts: z.array(attributeCount.extend({ name: z.string() })),
  ratings: z.array(ratingGrid.extend({ name: z.string(), unit: z.string() })),
  skips: z.array(checkSkip), secondReadings: z.array(secondReading), photos: z.array(checkPhoto),
  import: z.object({ id, fileName: z.string() }).nullable(),
  /** Set where the import that brought the check was undone: it is kept, and judged no more. */
  voidedAt: moment.nullable(),
  cans: z.array(z.object({ number: z.number().int(), unit: z.string().nullable(), lane: z.string().nullable() })),
  positions: z.array(z.string()),
  characteristics: z.array(z.object({
    code: z.string(), name: z.string(), unit: z.string(), decimals: z.number().int(),
    derived: z.boolean(), formula: z.string().nullable(), gauge: z.string().nullable(),
    /** Can by can, position by position, over all cans of the check. */
    readings: z.array(finite.nullable()),
  })),
  /** Null when nothing of the check is judged any more. */
  verdict: checkVerdict.nullable(),
  revisions: z.array(checkRevision),
}).meta({ id: 'CheckView' });
export type CheckView = z.infer<typeof checkView>;

export const getCheck = endpoint({
  method: 'GET', path: '/api/checks/:id', feature: 'inspections', access: readers, auditor: { thing: 'check', at: 'params.id' },
  summary: 'One check: header, readings, statistics, verdict, and every value that was replaced', params: idParams, answer: checkView, problems: ['not-found'],
});

export const checkListed = z.object({
  id, takenAt: moment, enteredAt: moment, inspector: z.string(), source: z.string(),
  machine: z.string(), product: z.string(), plan: z.string().nullable(), cans: z.number().int(),
  voidedAt: moment.nullable(), corrected: z.boolean(),
  status: verdictStatus,
  signalIds: z.array(id),
});

export const listChecks = endpoint({
  method: 'GET', path: '/api/checks', feature: 'inspections', access: readers, auditor: 'filtered',
  summary: 'Checks of a machine or of the whole plant, newest first',
  query: z.object({ machine: idText.optional(), product: idText.optional(), from: moment.optional(), to: moment.optional(), take: z.coerce.number().int().min(1).max(500).default(100) }),
  answer: z.object({ checks: z.array(checkListed) }),
});

export const correction = z.object({
  characteristic: code,
  /** Index of can and of position in the check, from 0. */
  can: z.number().int().min(0).max(199),
  position: z.number().int().min(0).max(23),
  /** Null takes the reading away. */
  value: reading.nullable(),
  reason: z.string().trim().min(3, 'a reason of at least 3 characters').max(1000),
  /** What the person saw there: refused when somebody else changed it in the meantime. */
  was: finite.nullable().optional(),
  confirmed: z.boolean().default(false),
}).meta({ id: 'Correction' });
export type Correction = z.infer<typeof correction>;

export const correctReading = endpoint({
  method: 'POST', path: '/api/checks/:id/corrections', feature: 'inspections', access: correctors,
  summary: 'Correct one reading of a stored check',
  description: 'The old values stay readable with who, when and why. Derived readings of that point are computed anew where the stored ones can be reproduced, and taken away (said in `notRecomputed`) where the formula factor or plate of the product changed since. The subgroup and those behind it that a rule can still see are judged again.',
  status: 201, params: idParams, body: correction,
  answer: z.object({ check: checkView, notRecomputed: z.array(z.object({ characteristic: z.string(), formula: z.string() })) }),
  problems: ['not-found', 'implausible-reading', 'wrong-state', 'changed-meanwhile'],
});
