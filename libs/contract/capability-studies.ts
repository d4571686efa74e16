import { z } from 'zod';
import { endpoint } from './endpoint.js';
import { gaugeContent } from './gauge-studies.js';
import { gaugeVerdict } from './gauge-standing.js';
import { verificationAnswer, verificationAsked } from './incident-shapes.js';
import { closers, investigators, readers } from './roles.js';
import { id, idText, moment, shortText } from './shapes.js';
import { capabilityStudy } from './studies.js';

export const studyKind = z.enum(['capability', 'gauge', 'before-after']);
export const studyRecordState = z.enum(['measuring', 'draft', 'checked', 'approved', 'superseded']);
export type StudyRecordState = z.infer<typeof studyRecordState>;

const named = z.object({ id, code: z.string(), name: z.string() });
const note = z.string().trim().max(4000, 'at most 4000 characters are expected').default('');
const supersedesId = id.nullable().default(null);
const hash = z.string().regex(/^[0-9a-f]{64}$/, '64 digits of 0-9 and a-f');

export const excludedCheck = z.object({ checkId: id, reason: z.string().trim().min(3, 'why it is left out, at least 3 characters').max(500) });
export type ExcludedCheck = z.infer<typeof excludedCheck>;

/** The period holds `from` and ends before `to`. */
export const newCapabilityStudy = z.object({
  title: shortText, note, supersedesId,
  product: id, machine: id, characteristic: id, unit: id.optional(), lane: id.optional(),
  from: moment, to: moment, confidence: z.number().min(0.5).max(0.999).default(0.95),
  excluded: z.array(excludedCheck).max(200, 'at most 200 checks left out').default([]),
}).refine(({ from, to }) => new Date(from) < new Date(to), { path: ['to'], message: 'a moment after the beginning of the period' })
  .refine(({ excluded }) => new Set(excluded.map(({ checkId }) => checkId)).size === excluded.length, { path: ['excluded'], message: 'each check once' });
export type NewCapabilityStudy = z.output<typeof newCapabilityStudy>;

export const newBeforeAfterStudy = z.object({ title: shortText, note, supersedesId, asked: verificationAsked });

export const studyRecordListed = z.object({
  id, kind: studyKind, title: z.string(), state: studyRecordState,
  product: named.nullable(), machine: named.nullable(), characteristic: named, gauge: named.nullable(),
  author: z.string(), createdAt: moment, approvedAt: moment.nullable(), verdict: gaugeVerdict.nullable(),
  supersedesId: id.nullable(), supersededById: id.nullable(),
  /** A reading that it rests on was corrected, added or taken back since; null where nothing can change. */
  stale: z.boolean().nullable(),
});
export type StudyRecordListed = z.infer<typeof studyRecordListed>;

export const studyContent = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('capability'), excluded: z.array(excludedCheck.extend({ by: z.string(), subgroups: z.number().int() })), study: capabilityStudy }),
  gaugeContent,
  z.object({ kind: z.literal('before-after'), asked: verificationAsked, answer: verificationAnswer }),
]);
export const studyRecord = studyRecordListed.extend({
  note: z.string(), version: z.string(), inputsHash: z.string().nullable(), inputsCount: z.number().int().nullable(), authorId: id,
  content: studyContent,
  steps: z.array(z.object({ id, state: studyRecordState, actor: z.string(), comment: z.string(), at: moment })),
}).meta({ id: 'StudyRecord' });
export type StudyRecord = z.infer<typeof studyRecord>;

const made = z.object({ id });

export const keepCapabilityStudy = endpoint({
  method: 'POST', path: '/api/studies/capability', feature: 'studies', access: closers, status: 201,
  summary: 'Keep a capability study as a draft',
  description: 'The server computes it from the readings as they are now and keeps results, what they rest on by reference, and the SHA-256 of that. A check that is left out needs a reason; the chart and its signals are judged with all points.',
  body: newCapabilityStudy, answer: made, problems: ['not-found', 'too-little-data'],
});

export const keepBeforeAfterStudy = endpoint({
  method: 'POST', path: '/api/studies/before-after', feature: 'studies', access: investigators, status: 201,
  summary: 'Keep a comparison before and after a change as a draft', body: newBeforeAfterStudy, answer: made, problems: ['not-found', 'too-little-data', 'cannot-compute'],
});

export const listStudyRecords = endpoint({
  method: 'GET', path: '/api/studies/records', feature: 'studies', access: readers,
  summary: 'Capability, gauge and before/after studies, newest first', description: 'At most 50; `before` is the id to go on from.',
  query: z.object({ before: idText.optional(), kind: studyKind.optional(), state: studyRecordState.optional() }), answer: z.object({ studies: z.array(studyRecordListed) }),
});

export const getStudyRecord = endpoint({
  method: 'GET', path: '/api/studies/records/:recordId', feature: 'studies', access: readers,
  summary: 'One study with what was asked, what came out and who did what', params: z.object({ recordId: idText }), answer: studyRecord, problems: ['not-found'],
});

export const stepStudyRecord = endpoint({
  method: 'POST', path: '/api/studies/records/:recordId/steps', feature: 'studies', access: closers, status: 201,
  summary: 'Check or approve a study by signature',
  description: 'draft to checked, checked to approved. Both by somebody other than its author, with the password asked anew. Approved, it takes the place of the study that it names. An approval is no release of product.',
  params: z.object({ recordId: idText }),
  body: z.object({ state: z.enum(['checked', 'approved']), contentHash: hash, password: z.string().min(1, 'the password').max(200), comment: z.string().trim().max(2000).default('') }),
  answer: z.object({ id, state: studyRecordState }), problems: ['not-found', 'wrong-credentials', 'too-many-attempts', 'changed-meanwhile', 'wrong-state'],
});

export const setStudyAside = endpoint({
  method: 'POST', path: '/api/studies/records/:recordId/set-aside', feature: 'studies', access: closers, status: 201,
  summary: 'Set a study aside that is not approved, with the reason', description: 'It stays on record as superseded. An approved study is only superseded by a newer one.',
  params: z.object({ recordId: idText }), body: z.object({ reason: z.string().trim().min(3, 'a reason, at least 3 characters').max(2000) }),
  answer: z.object({ id, state: studyRecordState }), problems: ['not-found', 'wrong-state'],
});
