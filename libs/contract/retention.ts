import { z } from 'zod';
import { endpoint } from './endpoint.js';
import { recordKind } from './records.js';
import { administrators, closers, type Role } from './roles.js';
import { id, idParams, moment, shortText } from './shapes.js';

/** Who sees what is kept how long, and places legal holds. */
export const keepers: readonly Role[] = closers;
/** Packs or studies that one act deletes at the most. */
export const MOST_RECORDS_IN_ACT = 1000;
const why = z.string().trim().min(3, 'a reason of at least 3 characters').max(2000, 'at most 2000 characters');

export const retentionRule = z.object({ kind: recordKind, version: z.number().int(), years: z.number().int(), source: z.string(), reason: z.string(), author: z.string(), at: moment });
export type RetentionRule = z.infer<typeof retentionRule>;

export const legalHold = z.object({
  id, name: z.string(), customer: z.string().nullable(), productId: id.nullable(), incidentId: id.nullable(), from: moment.nullable(), until: moment.nullable(), reason: z.string(),
  placedBy: z.string(), placedAt: moment, lifted: z.object({ by: z.string(), at: moment, reason: z.string() }).nullable(),
  /** Checks that it covers, whatever their age. */
  checks: z.number().int(),
});
export type LegalHold = z.infer<typeof legalHold>;

/** Besides checks. Every other kind, and the audit trail, is kept for ever, whatever a rule says. */
export const deletableKind = z.enum(['pack', 'study', 'study-record']);
export type DeletableKind = z.infer<typeof deletableKind>;

export const retentionAct = z.object({ id, at: moment, actor: z.string(), takenBefore: moment, checks: z.number().int(), subgroups: z.number().int(), kind: z.union([z.literal('check'), deletableKind]), /** Packs or studies; 0 of an act about checks. */ records: z.number().int(), hash: z.string(), reason: z.string() });

export const retentionView = z.object({
  /** All versions, the newest of each kind first: it holds. A kind without a rule is kept for ever. */
  rules: z.array(retentionRule),
  holds: z.array(legalHold),
  acts: z.array(retentionAct),
  /** Checks with readings past their retention; null without a rule for them. At most `most` go in one act, the oldest first. */
  past: z.object({ takenBefore: moment, checks: z.number().int(), kept: z.number().int(), oldest: moment.nullable(), newest: moment.nullable(), most: z.number().int() }).nullable(),
  /** Packs, kept studies and superseded studies past theirs; kinds without a rule are not listed. `kept`: by a legal hold. */
  pastRecords: z.array(z.object({ kind: deletableKind, madeBefore: moment, records: z.number().int(), kept: z.number().int(), oldest: moment.nullable(), newest: moment.nullable() })),
});
export type RetentionView = z.infer<typeof retentionView>;

export const getRetention = endpoint({
  method: 'GET', path: '/api/retention', feature: 'records', access: keepers, summary: 'Retention rules, legal holds, what is past its retention, and what was deleted',
  description: 'Lists only: nothing is ever deleted by itself. `kept` are those past their retention that a legal hold keeps.', answer: retentionView,
});

export const setRetentionRule = endpoint({
  method: 'POST', path: '/api/retention/rules', feature: 'records', access: administrators, status: 201, summary: 'Say for how many years records of a kind are kept',
  description: 'A new version: earlier ones stay readable.',
  body: z.object({ kind: recordKind, years: z.number().int('whole years').min(1, 'at least 1 year').max(100, 'at most 100 years'), source: shortText, reason: why }), answer: retentionRule,
});

export const placeLegalHold = endpoint({
  method: 'POST', path: '/api/legal-holds', feature: 'records', access: keepers, status: 201, summary: 'Keep records from being deleted, whatever their age',
  description: 'A check is covered when it fits all that is given: customer of its product, product, span of time; by an incident those of its line from seven days before to seven days after the cans were made.',
  body: z.object({ name: shortText, customer: shortText.nullable().default(null), productId: id.nullable().default(null), incidentId: id.nullable().default(null), from: moment.nullable().default(null), until: moment.nullable().default(null), reason: why })
    .refine(({ customer, productId, incidentId, from, until }) => [customer, productId, incidentId, from, until].some((given) => given !== null), { path: ['customer'], message: 'at least one of customer, product, incident, beginning and end' })
    .refine(({ from, until }) => from === null || until === null || new Date(from) < new Date(until), { path: ['until'], message: 'a moment after the beginning' }),
  answer: z.object({ id }), problems: ['not-found'],
});

export const liftLegalHold = endpoint({
  method: 'POST', path: '/api/legal-holds/:id/lift', feature: 'records', access: administrators, summary: 'Lift a legal hold, with a reason; it stays on record', params: idParams, body: z.object({ reason: why }), answer: z.object({ id }), problems: ['not-found', 'wrong-state'],
});

export const deletePastRetention = endpoint({
  method: 'POST', path: '/api/retention/deletions', feature: 'records', access: administrators, status: 201, summary: 'Delete checks with their readings that are past their retention',
  description: 'One act with count and hash in the audit trail, which names each check with its seal: a comparison of everything stored then knows that they are gone by this act. Needs the password, and the number of checks that the person saw. Refused where one of them is not as it was sealed. Signatures, signals, incidents and the audit trail stay.',
  body: z.object({ checks: z.number().int().min(1, 'the number of checks that were shown').max(1_000_000), password: z.string().min(1, 'the password').max(200), reason: why }),
  answer: retentionAct, problems: ['wrong-credentials', 'too-many-attempts', 'changed-meanwhile', 'wrong-state'],
});

export const deleteRecordsPast = endpoint({
  method: 'POST', path: '/api/retention/record-deletions', feature: 'records', access: administrators, status: 201, summary: 'Delete packs or studies that are past their retention',
  description: 'One act with count and hash in the audit trail, which names each record with the SHA-256 of its content. At most 1,000 in one act, the oldest first. Studies go only when they are superseded. Needs the password, and the number that the person saw. Refused where one of them is not as the audit trail told it. Signatures and the audit trail stay.',
  body: z.object({ kind: deletableKind, records: z.number().int().min(1, 'the number of records that were shown').max(1_000_000), password: z.string().min(1, 'the password').max(200), reason: why }),
  answer: retentionAct, problems: ['wrong-credentials', 'too-many-attempts', 'changed-meanwhile', 'wrong-state'],
});
