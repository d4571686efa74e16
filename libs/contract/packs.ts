import { z } from 'zod';
import { endpoint } from './endpoint.js';
import { engineers, readers } from './roles.js';
import { finite, id, idText, moment } from './shapes.js';

const count = z.number().int().nonnegative();
const hash = z.string().regex(/^[0-9a-f]{64}$/, '64 digits of 0-9 and a-f');

/** In the order of proof: capability means nothing before the measurement and the stability are shown. */
export const packSections = ['scope', 'specification', 'measurement', 'stability', 'distribution', 'capability', 'signals', 'incidents', 'missed', 'changes', 'signatures', 'method'] as const;
export const packSection = z.enum(packSections);
export type PackSection = z.infer<typeof packSection>;
export const packLanguage = z.enum(['en', 'de']);
export type PackLanguage = z.infer<typeof packLanguage>;

const period = { from: moment, to: moment };
const inOrder = ({ from, to }: { from: string; to: string }) => new Date(from) < new Date(to);
const notTooLong = ({ from, to }: { from: string; to: string }) => new Date(to).getTime() - new Date(from).getTime() <= 800 * 86_400_000;
const late = { path: ['to'], message: 'a moment after the beginning of the period' };
const long = { path: ['to'], message: 'at most 800 days after the beginning of the period' };

export const packRequest = z.object({
  customer: z.string().trim().min(1, 'the name of a customer').max(200), title: z.string().trim().min(1, 'a title is expected').max(200, 'at most 200 characters are expected'),
  products: z.array(id).min(1, 'at least one product is expected').max(50, 'at most 50 products are expected'), ...period,
  /** Kept studies that belong to it, gauge studies among them. The approved studies of the gauges that were used come by themselves. */
  studies: z.array(id).max(50).default([]),
}).refine(inOrder, late).refine(notTooLong, long);
export type PackRequest = z.output<typeof packRequest>;

/** What would fail the audit, or must be explained in it. */
export const findingKind = z.enum(['no-data', 'not-stable', 'not-judged', 'signal-without-cause', 'missed-checks', 'few-data', 'below-threshold', 'no-gauge-study', 'gauge-study-failed', 'gauge-unknown', 'calibration-overdue', 'no-specification', 'specification-changed', 'unsigned']);
export type FindingKind = z.infer<typeof findingKind>;
export const packFinding = z.object({
  kind: findingKind,
  /** What it is about, as the plant names it. */
  about: z.string(),
  count: count.nullable(), at: moment.nullable(), value: finite.nullable(), needed: finite.nullable(),
  streamId: id.nullable(), signalId: id.nullable(), productId: id.nullable(), machineId: id.nullable(), characteristicId: id.nullable(),
});
export type PackFinding = z.infer<typeof packFinding>;

/** An auditor sees the packs of their customer whose period lies within theirs. */
const ofPack = { thing: 'pack', at: 'params.id' } as const;

export const getReadiness = endpoint({
  method: 'GET', path: '/api/packs/readiness', feature: 'packs', access: readers,
  summary: 'What would fail an audit of these products and this period', description: 'Computed as the pack would be, nothing stored. `products`: ids with commas between them.',
  query: z.object({ customer: z.string().trim().min(1).max(200), products: z.string().regex(/^\d{1,9}(,\d{1,9}){0,49}$/, 'ids of products with commas between them'), studies: z.string().regex(/^(\d{1,9}(,\d{1,9}){0,49})?$/, 'ids of studies with commas between them').default(''), ...period }).refine(inOrder, late).refine(notTooLong, long),
  answer: z.object({ subjects: count, readings: count, findings: z.array(packFinding) }).meta({ id: 'PackReadiness' }), problems: ['not-found', 'too-little-data'],
});

export const packCustomer = z.object({ customer: z.string(), products: z.array(z.object({ id, code: z.string(), name: z.string() })), first: moment.nullable(), last: moment.nullable() });
export const listPackChoices = endpoint({
  method: 'GET', path: '/api/packs/choices', feature: 'packs', access: readers,
  summary: 'Customers, their products and when these have readings', answer: z.object({ customers: z.array(packCustomer) }),
});

export const packState = z.enum(['draft', 'checked', 'approved']);
export const packListed = z.object({
  id, customer: z.string(), title: z.string(), products: z.array(z.string()), from: moment, to: moment, sha256: hash,
  subjects: count, readings: count, findings: count, softwareVersion: z.string(), madeBy: z.string(), madeAt: moment,
  /** Draft until a second person reviewed it, then checked; approved after an approval. */
  state: packState,
  /** Readings of its period were corrected, added or taken back since. */
  stale: z.boolean(),
});
export type PackListed = z.infer<typeof packListed>;
export const packJob = z.object({ id, customer: z.string(), title: z.string(), state: z.enum(['waiting', 'running', 'done', 'failed', 'cancelled']), done: count, total: count, packId: id.nullable(), error: z.string().nullable(), createdAt: moment, askedBy: z.string() });
export type PackJobView = z.infer<typeof packJob>;

export const listPacks = endpoint({
  method: 'GET', path: '/api/packs', feature: 'packs', access: readers, auditor: 'filtered',
  summary: 'Packs that were made, newest first, and those being made', answer: z.object({ packs: z.array(packListed), jobs: z.array(packJob) }),
});
export const getPack = endpoint({
  method: 'GET', path: '/api/packs/:id', feature: 'packs', access: readers, auditor: ofPack, summary: 'One pack: its facts and findings',
  params: z.object({ id: idText }), answer: packListed.extend({ findingList: z.array(packFinding), chainHead: z.object({ seq: z.string(), hash: z.string() }).nullable() }), problems: ['not-found'],
});
export const makePack = endpoint({
  method: 'POST', path: '/api/packs', feature: 'packs', access: engineers, status: 202,
  summary: 'Freeze the evidence of a customer, products and period', description: 'Goes on in the background; the job says how far it is. Informs only: a pack releases no product.',
  body: packRequest, answer: z.object({ job: id }), problems: ['not-found'],
});
export const getPackJob = endpoint({ method: 'GET', path: '/api/packs/jobs/:id', feature: 'packs', access: readers, summary: 'How far the making of a pack is', params: z.object({ id: idText }), answer: packJob, problems: ['not-found'] });
export const cancelPackJob = endpoint({ method: 'POST', path: '/api/packs/jobs/:id/cancel', feature: 'packs', access: engineers, summary: 'Stop making a pack; nothing of it is kept', params: z.object({ id: idText }), answer: packJob, problems: ['not-found', 'wrong-state'] });

const fileOf = (kind: 'json' | 'pdf' | 'xlsx', answerType: string, what: string) => endpoint({
  method: 'GET', path: `/api/packs/:id/pack.${kind}`, feature: 'packs', access: readers, auditor: ofPack, summary: what,
  description: 'Made from the frozen content only: the same bytes each time.', params: z.object({ id: idText }), query: z.object({ language: packLanguage.default('en') }), answer: z.unknown(), answerType, problems: ['not-found'],
});
export const getPackJson = fileOf('json', 'application/json', 'Inputs and results of a pack as canonical JSON (RFC 8785) with its SHA-256');
export const getPackPdf = fileOf('pdf', 'application/pdf', 'A pack as a tagged PDF');
export const getPackXlsx = fileOf('xlsx', 'application/vnd.openxmlformats-officedocument.spreadsheetml.sheet', 'A pack as a spreadsheet that recomputes its figures');

export const packDifference = z.object({
  /**
   * Serious: hash (the bytes are not what was hashed), stored (not a pack of this installation), recomputed (a result is not what its inputs give), altered, added and removed (stored otherwise, and the audit trail does not say why).
   * By acts of the audit trail since: corrected, recorded-later, taken-back (import undone, or deleted past its retention), changed-since (master data, a specification). moved-on: a signal, incident, calibration, gauge study, signature or plan went on.
   */
  kind: z.enum(['hash', 'stored', 'recomputed', 'altered', 'added', 'removed', 'corrected', 'recorded-later', 'taken-back', 'changed-since', 'moved-on']),
  where: z.string(), pack: z.string(), now: z.string(),
});
export type PackDifference = z.infer<typeof packDifference>;
export type DifferenceClass = 'serious' | 'corrected' | 'movedOn';
const byActs: readonly PackDifference['kind'][] = ['corrected', 'recorded-later', 'taken-back', 'changed-since'];
export const differenceClass = (kind: PackDifference['kind']): DifferenceClass => (kind === 'moved-on' ? 'movedOn' : byActs.includes(kind) ? 'corrected' : 'serious');
export const packVerification = z.object({
  at: moment,
  /** Nothing serious and nothing corrected: the evidence is what it was. */
  equal: z.boolean(),
  stale: z.boolean(), sha256: hash, figures: count, readings: count,
  /** How many of each class there are; `differences` lists the first of each, the serious ones first. */
  serious: count, corrected: count, movedOn: count, differences: z.array(packDifference), more: count,
  softwareVersion: z.object({ pack: z.string(), now: z.string() }),
}).meta({ id: 'PackVerification' });
export type PackVerification = z.infer<typeof packVerification>;
export const verifyPackEndpoint = endpoint({
  method: 'GET', path: '/api/packs/:id/verification', feature: 'packs', access: readers, auditor: ofPack,
  summary: 'Recompute every number of a pack from the stored readings', description: 'The same as `npm run verify-pack FILE`. At most 100 differences of each class are listed: serious ones, what acts of the audit trail corrected since, and what went on by itself.',
  params: z.object({ id: idText }), answer: packVerification, problems: ['not-found'],
});

const threshold = z.number().min(0, 'an index from 0 to 10').max(10, 'an index from 0 to 10');
export const packTemplate = z.object({
  sections: z.array(packSection).min(1, 'at least one section is expected').max(packSections.length), cpk: threshold, ppk: threshold, subgroups: z.number().int().min(2).max(1000),
});
export type PackTemplateView = z.infer<typeof packTemplate>;
const templateVersion = packTemplate.extend({ customer: z.string(), version: z.number().int(), by: z.string(), reason: z.string(), at: moment });
export const listPackTemplates = endpoint({ method: 'GET', path: '/api/pack-templates', feature: 'packs', access: readers, summary: 'What each customer asks of a pack', description: 'The newest version of each; without one the usual holds.', answer: z.object({ usual: packTemplate, templates: z.array(templateVersion) }) });
export const setPackTemplate = endpoint({
  method: 'PUT', path: '/api/pack-templates', feature: 'packs', access: engineers, summary: 'Say what a customer asks of a pack', description: 'Writes the next version; packs that were made keep theirs.',
  body: packTemplate.extend({ customer: z.string().trim().min(1).max(200), reason: z.string().trim().min(1, 'a reason is expected').max(500) }), answer: z.object({ version: z.number().int() }),
});
