import { z } from 'zod';
import { endpoint } from './endpoint.js';
import { closers, readers, roles } from './roles.js';
import { id, idText, moment } from './shapes.js';

export const recordKind = z.enum(['check', 'limits', 'specification', 'incident', 'hold', 'study', 'pack', 'study-record']);
export type RecordKind = z.infer<typeof recordKind>;
/** What the name under a record stands for (21 CFR 11.50). */
export const signatureMeaning = z.enum(['reviewed', 'approved']);
export type SignatureMeaning = z.infer<typeof signatureMeaning>;
const hash = z.string().regex(/^[0-9a-f]{64}$/, '64 digits of 0-9 and a-f');

export const signatureView = z.object({
  id, kind: recordKind, recordId: id, meaning: signatureMeaning, printedName: z.string(), role: z.enum(roles), comment: z.string(), at: moment,
  contentHash: hash, chain: z.object({ seq: z.string(), hash: z.string() }),
  /** False where the record was changed after it was signed: the signature stands for what it was. */
  covers: z.boolean(),
});
export type SignatureView = z.infer<typeof signatureView>;

export const recordSignatures = z.object({
  kind: recordKind, recordId: id, title: z.string(),
  /** SHA-256 of the record as it is now; sent back when signing, so that nobody signs what they did not see. */
  contentHash: hash,
  author: z.object({ id, name: z.string() }).nullable(),
  signatures: z.array(signatureView),
});
export type RecordSignatures = z.infer<typeof recordSignatures>;

export const listSignatures = endpoint({
  method: 'GET', path: '/api/signatures', feature: 'records', access: readers, auditor: { thing: 'query.kind', at: 'query.recordId' },
  summary: 'The signatures under one record, and whether they cover it as it is now',
  query: z.object({ kind: recordKind, recordId: idText }), answer: recordSignatures, problems: ['not-found'],
});

export const signRecords = endpoint({
  method: 'POST', path: '/api/signatures', feature: 'records', access: closers, status: 201,
  summary: 'Sign records with one’s password',
  description: 'All or none. The password is asked anew with each act of signing (21 CFR 11.200). A review needs a second person: nobody reviews what they entered or wrote themselves. A signature is never changed or taken back.',
  body: z.object({
    records: z.array(z.object({ kind: recordKind, recordId: id, contentHash: hash })).min(1).max(500),
    meaning: signatureMeaning, password: z.string().min(1, 'the password').max(200), comment: z.string().trim().max(2000).default(''),
  }),
  answer: z.object({ signed: z.number().int(), signatures: z.array(id) }),
  problems: ['not-found', 'wrong-credentials', 'too-many-attempts', 'changed-meanwhile', 'wrong-state'],
});

export const reviewEntry = z.object({
  checkId: id, takenAt: moment, enteredAt: moment, /** `id` null: a feed, by its name. */ enteredBy: z.object({ id: id.nullable(), name: z.string() }), inspector: z.string(),
  line: z.string(), machine: z.string(), product: z.string(), source: z.string(),
  subgroups: z.number().int(), outsideSpecification: z.number().int(), signals: z.array(id), corrected: z.boolean(),
  /** Reviewed once, and corrected since. */
  reviewedBefore: z.boolean(), contentHash: hash,
});
export type ReviewEntry = z.infer<typeof reviewEntry>;

export const listReviews = endpoint({
  method: 'GET', path: '/api/reviews', feature: 'records', access: readers,
  summary: 'Checks that no second person has reviewed as they are now, oldest first',
  description: 'By days of the plant. `day` narrows to one; `days` says how many checks wait on each.',
  query: z.object({ day: z.iso.date().optional(), machineId: idText.optional(), take: z.coerce.number().int().min(1).max(500).default(100) }),
  answer: z.object({ days: z.array(z.object({ day: z.iso.date(), waiting: z.number().int() })), entries: z.array(reviewEntry) }),
});

const chainFault = z.object({ kind: z.enum(['altered', 'removed', 'cut', 'unlinked', 'other-head']), seq: z.string().nullable(), auditId: z.string().nullable(), subject: z.string().nullable(), notedBy: z.string().nullable() });
/** Acts that write seals of checks: what they leave, and what they found. */
export const sealingAct = z.enum(['readings.recorded', 'reading.corrected', 'check.photo-added', 'import.undone']);
/** The act that found a check otherwise than the act before had left it, with its number in the chain. */
const sealBreak = z.object({ checkId: z.number().int(), auditId: z.string(), action: sealingAct, at: moment, seq: z.string().nullable() });
export type SealBreak = z.infer<typeof sealBreak>;
const checkFault = z.discriminatedUnion('kind', [
  z.object({ checkId: z.number().int(), kind: z.enum(['changed', 'gone', 'unsealed', 'taken-back']) }),
  sealBreak.extend({ kind: z.literal('changed-before') }),
]);
export type CheckFault = z.infer<typeof checkFault>;
/** Records besides checks whose content the audit trail holds: their values, or a seal. */
export const toldKind = z.enum(['limits', 'specification', 'study', 'study-record', 'pack', 'signature']);
export type ToldKind = z.infer<typeof toldKind>;
const recordFault = z.object({ record: toldKind, id: z.number().int(), kind: z.enum(['changed', 'gone', 'unsealed']) });
export type RecordFault = z.infer<typeof recordFault>;
export const verification = z.object({
  at: moment, auditRows: z.number().int(), head: z.object({ seq: z.string(), hash: z.string() }).nullable(),
  checks: z.number().int(), checksWithoutSeal: z.number().int(), notedHeads: z.number().int(),
  /** At most 200 of each are listed. */
  auditFaults: z.array(chainFault), checkFaults: z.array(checkFault), recordFaults: z.array(recordFault),
  /** By kind: how many were compared, and how many are from before the trail told their content. */
  records: z.array(z.object({ record: toldKind, compared: z.number().int(), untold: z.number().int() })), faults: z.number().int(),
});
export type VerificationView = z.infer<typeof verification>;

export const verifyRecordsEndpoint = endpoint({
  method: 'GET', path: '/api/records/verification', feature: 'records', access: readers,
  summary: 'Compare the audit trail, every stored check and the records that people answer for with what was written of them',
  description: 'The same as `npm run verify-audit`: computes the chain of audit rows anew (SHA-256), compares each check with its seal, limits, specifications, studies, packs and signatures with what the trail told of them, the bytes of each pack with its SHA-256, and the heads of the chain that signatures and packs noted with the chain. Not compared: master data, incidents, holds, production counts and readings of every body, beyond the acts that the trail tells. Reads everything once: some seconds for a year of checks.',
  answer: verification,
});
