import { z } from 'zod';
import { endpoint } from './endpoint.js';
import { closers, investigators, readers } from './roles.js';
import { finite, id, idParams, idText, longText, moment } from './shapes.js';

const text = z.string().trim().min(3, 'at least 3 characters').max(4000);
const count = z.number().int().nonnegative();
export const holdState = z.enum(['proposed', 'placed', 'under-examination', 'decided', 'withdrawn']);
export type HoldState = z.infer<typeof holdState>;
export const disposition = z.enum(['released', 'scrapped', 'reworked', 'returned']);
export type Disposition = z.infer<typeof disposition>;

const bounds = z.object({ shortestSeconds: z.number().min(0, '0 or more seconds').max(604_800), longestSeconds: z.number().min(0, '0 or more seconds').max(604_800) });
const noTransit = { shortestSeconds: 0, longestSeconds: 0 };
/** Both moments, or neither where only the code on the pallet is known. */
export const holdPallet = z.object({ code: z.string().trim().min(1, 'the code of the pallet').max(60), from: moment.nullable().default(null), until: moment.nullable().default(null) });
const pallets = z.array(holdPallet).max(2000, 'at most 2000 pallets');

const untilBasis = z.enum(['next-good', 'stop', 'now', 'stated']);
/** What a hold is computed from. */
export const holdQuestion = z.object({
  lineId: id,
  /** Where the span was sampled and is counted; a machine narrows it to one of its step. */
  stepId: id.nullable().default(null), machineId: id.nullable().default(null),
  /** The one head or lane that is suspect; null = all. */
  unitId: id.nullable().default(null), laneId: id.nullable().default(null),
  /** Last known good, first known bad where there is one, and what ended the doubt. */
  from: moment, firstBadAt: moment.nullable().default(null), until: moment, untilBasis: untilBasis.default('stated'),
  /** From the suspect step to where it was sampled, and on to the palletizer. */
  back: bounds.default(noTransit), forward: bounds.default(noTransit),
  pallets: pallets.default([]),
});
export type HoldQuestionBody = z.infer<typeof holdQuestion>;

const span = z.object({ from: moment, until: moment });
export const holdArithmetic = z.object({
  question: holdQuestion.omit({ pallets: true }), minutes: finite, atFault: span, atPallets: span,
  counted: z.array(z.object({ machineId: id, machine: z.string(), cans: count, uncoveredMinutes: finite })),
  units: z.number().int().positive(), lanes: z.number().int().positive(),
  cans: z.object({ counted: count, shareOf: z.number().int().positive(), suspect: count }).nullable(),
  pallets: z.object({ listed: count, withoutSpan: count, outside: z.array(z.string()), gapMinutes: finite }),
  /** True where nothing good is known after it: the doubt may go on. */
  openEnded: z.boolean(),
}).meta({ id: 'HoldArithmetic' });
export type HoldArithmetic = z.infer<typeof holdArithmetic>;

export const computeHold = endpoint({
  method: 'POST', path: '/api/holds/arithmetic', feature: 'holds', access: investigators,
  summary: 'What a hold would cover: cans counted, share, spans and pallets', description: 'Stores nothing. Counts that are touched count whole; with a figure of pallets per minute the pallets are computed, rounded outward.',
  body: holdQuestion.extend({ figure: z.object({ palletsPerMinute: z.number().positive('a figure above 0').max(60), boundaryAt: moment.nullable().default(null), prefix: z.string().trim().max(20).default('') }).nullable().default(null) }),
  answer: z.object({ arithmetic: holdArithmetic, computed: z.object({ count, pallets: z.array(holdPallet) }).nullable() }), problems: ['not-found'],
});

export const holdRow = z.object({
  id, state: holdState, disposition: z.enum([...disposition.options, 'mixed']).nullable(), lineId: id, line: z.string(), lineName: z.string(), stepKind: z.string().nullable(), machine: z.string().nullable(), unit: z.string().nullable(), lane: z.string().nullable(),
  from: moment, until: moment, reason: z.string(), suspectCans: count.nullable(), openEnded: z.boolean(), pallets: count, palletsLeft: count,
  signalId: id.nullable(), incidentId: id.nullable(), openedBy: z.string(), openedAt: moment, changedAt: moment, revision: z.number().int(),
}).meta({ id: 'HoldRow' });
export type HoldRow = z.infer<typeof holdRow>;

export const holdSample = z.object({
  what: z.string(), lotCans: count.nullable(), share: finite, risk: finite, needed: count, examined: z.number().int().positive(), found: count,
  /** The share that may still be there, at confidence 1 - risk; never 0. */
  upperBound: finite,
});
export type HoldSample = z.infer<typeof holdSample>;
export const holdDecision = z.object({ disposition, pallets: z.array(z.string()).nullable(), decidedBy: z.string(), decidedRole: z.string(), cautionAcknowledged: z.literal(true) });

export const hold = holdRow.extend({
  arithmetic: holdArithmetic,
  palletList: z.array(z.object({ id, code: z.string(), from: moment.nullable(), until: moment.nullable(), disposition: disposition.nullable() })),
  steps: z.array(z.object({ id, at: moment, actor: z.string(), role: z.string(), action: z.string(), comment: z.string().nullable(), sample: holdSample.nullable(), decision: holdDecision.nullable() })),
}).meta({ id: 'Hold' });
export type Hold = z.infer<typeof hold>;

export const listHolds = endpoint({
  method: 'GET', path: '/api/holds', feature: 'holds', access: readers, summary: 'Holds, those not decided first, then the newest',
  query: z.object({ state: z.enum([...holdState.options, 'open']).optional(), lineId: idText.optional(), incidentId: idText.optional(), signalId: idText.optional(), take: z.coerce.number().int().min(1).max(200).default(50), skip: z.coerce.number().int().min(0).max(1_000_000).default(0) }),
  answer: z.object({ total: count, open: count, rows: z.array(holdRow) }),
});
export const getHold = endpoint({ method: 'GET', path: '/api/holds/:id', feature: 'holds', access: readers, summary: 'A hold with its arithmetic, pallets and steps', params: idParams, answer: hold, problems: ['not-found'] });
export const placeHold = endpoint({
  method: 'POST', path: '/api/holds', feature: 'holds', access: investigators, status: 201,
  summary: 'Propose or place a hold', description: 'The arithmetic is computed here and kept; `shownCans` is what the person saw, refused when the counts say something else by now.',
  body: holdQuestion.extend({ reason: text, signalId: id.nullable().default(null), incidentId: id.nullable().default(null), state: z.enum(['proposed', 'placed']), shownCans: count.nullable() }),
  answer: hold, problems: ['not-found', 'changed-meanwhile'],
});
const revision = z.number().int().positive();
export const moveHold = endpoint({
  method: 'POST', path: '/api/holds/:id/move', feature: 'holds', access: investigators,
  summary: 'Place a proposed hold, begin its examination, or withdraw a proposal', description: 'Only a proposal can be withdrawn: what was held is decided on, not forgotten.',
  params: idParams, body: z.object({ revision, to: z.enum(['placed', 'under-examination', 'withdrawn']), comment: longText.default('') }), answer: hold, problems: ['not-found', 'changed-meanwhile', 'wrong-state'],
});
export const addHoldPallets = endpoint({
  method: 'POST', path: '/api/holds/:id/pallets', feature: 'holds', access: investigators,
  summary: 'Add pallets that were found to belong to a hold', params: idParams, body: z.object({ revision, pallets: pallets.min(1, 'one pallet or more') }), answer: hold, problems: ['not-found', 'changed-meanwhile', 'wrong-state'],
});

const share = z.number().gt(0, 'above 0').lt(1, 'below 1');
const lot = z.number().int().min(1).max(100_000_000);
export const planHoldSample = endpoint({
  method: 'GET', path: '/api/holds/sample-size', feature: 'holds', access: readers,
  summary: 'How many cans to look at, none of which may be defective', description: 'Zero acceptance: a lot with `share` of defectives passes with no more than `risk`. Of a lot without replacement where its size is given.',
  query: z.object({ share: z.coerce.number().pipe(share), risk: z.coerce.number().pipe(share), lotCans: z.coerce.number().pipe(lot).optional() }), answer: z.object({ n: z.number().int(), accept: finite }),
});
export const sampleHold = endpoint({
  method: 'POST', path: '/api/holds/:id/samples', feature: 'holds', access: investigators,
  summary: 'Record a re-inspection of held cans', description: 'It informs: a clean sample bounds the share of defectives, it does not make it zero, and it releases nothing.',
  params: idParams, body: z.object({ revision, what: text, lotCans: lot.nullable().default(null), share, risk: share, examined: z.number().int().min(1).max(10_000_000), found: count, comment: longText.default('') }),
  answer: hold, problems: ['not-found', 'changed-meanwhile', 'wrong-state'],
});
export const disposeHold = endpoint({
  method: 'POST', path: '/api/holds/:id/dispositions', feature: 'holds', access: closers,
  summary: 'Record what the plant’s people decided on held product', description: 'All pallets that are left, or the named ones. The tool releases nothing: it records who decided what, and defers to process authority, law and the customer’s specification. Release and rework need an examination.',
  params: idParams,
  body: z.object({
    revision, disposition, pallets: z.array(z.string().trim().min(1)).min(1, 'one pallet or more').max(2000).nullable().default(null), reason: text, decidedBy: z.string().trim().min(2, 'the name of the person who decided').max(200), decidedRole: z.string().trim().min(2, 'the role in which that was decided').max(200),
    acknowledged: z.literal(true, 'true: the caution has to be read and acknowledged'),
  }),
  answer: hold, problems: ['not-found', 'changed-meanwhile', 'wrong-state'],
});
export const reopenHold = endpoint({
  method: 'POST', path: '/api/holds/:id/reopen', feature: 'holds', access: closers,
  summary: 'Take a decided hold back under examination', description: 'Decisions on its pallets no longer stand; they stay in the steps. Product that left is not called back by this.',
  params: idParams, body: z.object({ revision, reason: text }), answer: hold, problems: ['not-found', 'changed-meanwhile', 'wrong-state'],
});
