import { z } from 'zod';
import { endpoint } from './endpoint.js';
import { causeCategory, dueDate, incidentState, keptVerification, verificationAnswer, verificationAsked, whyNeeded, whys } from './incident-shapes.js';
import { incident, incidentKind, incidentRow } from './incidents.js';
import { closers, investigators, readers } from './roles.js';
import { code, finite, id, idParams, idText, longText, moment } from './shapes.js';

const revision = z.number().int().positive();
const changing = ['not-found', 'changed-meanwhile', 'wrong-state'] as const;
const count = z.number().int().nonnegative();

const step = z.object({
  revision,
  /** What shows it: records, numbers, names of documents. */
  evidence: longText.default(''),
  /** When the next step is due; null leaves it without a date. */
  dueAt: dueDate.default(null),
});
export const takeIncidentStep = endpoint({
  method: 'POST', path: '/api/incidents/:id/step', feature: 'incidents', access: investigators,
  summary: 'Take an incident one step forward', description: 'Contained needs the containment; cause found the cause and its category; action taken the action; effect verified a comparison that was kept with this incident, and the verdict of the person who read it. Closing has an endpoint of its own.',
  params: idParams, answer: incident, problems: [...changing],
  body: z.discriminatedUnion('to', [
    step.extend({ to: z.literal('contained'), containment: longText.min(1, 'what is held back, and where') }),
    step.extend({ to: z.literal('cause-found'), cause: longText.min(1, 'the cause'), causeCategory, causeMachineId: id.nullable().default(null) }),
    step.extend({ to: z.literal('action-taken'), action: longText.min(1, 'what was done') }),
    step.extend({ to: z.literal('effect-verified'), verificationId: id, verdict: longText.min(1, 'why this comparison shows the effect') }),
  ]),
});
export const takeIncidentBack = endpoint({
  method: 'POST', path: '/api/incidents/:id/back', feature: 'incidents', access: closers,
  summary: 'Take an incident one step back, with the reason', description: 'What was written stays. A closed incident is opened again by its own endpoint.',
  params: idParams, body: z.object({ revision, reason: whyNeeded, dueAt: dueDate.default(null) }), answer: incident, problems: [...changing],
});
export const setIncidentDue = endpoint({
  method: 'PUT', path: '/api/incidents/:id/due', feature: 'incidents', access: investigators,
  summary: 'Set another date for the next step, with the reason', params: idParams, body: z.object({ revision, dueAt: dueDate, reason: whyNeeded }), answer: incident, problems: [...changing],
});
export const setIncidentWhys = endpoint({
  method: 'PUT', path: '/api/incidents/:id/whys', feature: 'incidents', access: investigators,
  summary: 'Write the chain of whys', description: 'One to seven questions with their answers, in order; an empty list takes the chain away, and the audit trail keeps it.',
  params: idParams, body: z.object({ revision, whys }), answer: incident, problems: [...changing],
});

export const linkIncidentEvent = endpoint({
  method: 'POST', path: '/api/incidents/:id/events', feature: 'incidents', access: investigators,
  summary: 'Link a line event to an incident', params: idParams, body: z.object({ eventId: id, reason: longText.default('') }), answer: incident, problems: ['not-found'],
});
export const unlinkIncidentEvent = endpoint({
  method: 'POST', path: '/api/incidents/:id/events/:eventId/unlink', feature: 'incidents', access: investigators,
  summary: 'Take a linked line event away, with the reason', params: idParams.extend({ eventId: idText }), body: z.object({ reason: whyNeeded }), answer: incident, problems: ['not-found'],
});
export const removeIncidentPhoto = endpoint({
  method: 'POST', path: '/api/incidents/:id/photos/:photoId/remove', feature: 'incidents', access: investigators,
  summary: 'Take a photo away from the page, with the reason', description: 'The picture stays in the database and the audit trail names it.',
  params: idParams.extend({ photoId: idText }), body: z.object({ reason: whyNeeded }), answer: incident, problems: ['not-found'],
});

export const previewVerification = endpoint({
  method: 'POST', path: '/api/incidents/:id/verifications/preview', feature: 'incidents', access: readers,
  summary: 'Compare a stream before and after a change; nothing is stored', params: idParams, body: verificationAsked, answer: verificationAnswer, problems: ['not-found', 'too-little-data', 'cannot-compute'],
});
export const keepVerification = endpoint({
  method: 'POST', path: '/api/incidents/:id/verifications', feature: 'incidents', access: investigators, status: 201,
  summary: 'Compare a stream before and after a change, and keep the answer with the incident',
  description: 'Computed here from the readings on record: Welch, permutation and ranks with the size of the effect, and whether the readings after the change are in control. Kept for good, with the version of the program. It shows a difference, never what caused it.',
  params: idParams, body: verificationAsked, answer: keptVerification, problems: ['not-found', 'wrong-state', 'too-little-data', 'cannot-compute'],
});

export const listOverdueIncidents = endpoint({
  method: 'GET', path: '/api/incidents/overdue', feature: 'incidents', access: readers,
  summary: 'Incidents whose next step was due before now, longest overdue first', answer: z.object({ at: moment, rows: z.array(incidentRow) }),
});

const filters = { from: moment.optional(), to: moment.optional(), kind: incidentKind.optional(), customer: z.string().max(200).optional(), defect: code.optional(), lineId: idText.optional() };
export const paretoBy = z.enum(['customer', 'defect', 'machine', 'category', 'month']);
export const getIncidentPareto = endpoint({
  method: 'GET', path: '/api/incidents/pareto', feature: 'incidents', access: readers,
  summary: 'Incidents counted by customer, defect, machine, kind of cause or month', description: 'Largest first with the share so far; months in their order. `from` and `to` are of the day on which they were received.',
  query: z.object({ by: paretoBy.default('defect'), weight: z.enum(['incidents', 'cans']).default('incidents'), ...filters })
    .refine(({ from, to }) => !from || !to || new Date(from) <= new Date(to), { path: ['to'], message: 'a moment not before the beginning' }),
  answer: z.object({
    by: paretoBy, weight: z.enum(['incidents', 'cans']), incidents: count, cansComplained: count,
    /** `value` is null for incidents of which it is not known; a month is "2026-03" in the time of the plant. */
    bars: z.array(z.object({ value: z.string().nullable(), name: z.string(), incidents: count, cansComplained: count, share: finite, cumulative: finite })),
    customers: z.array(z.string()), lines: z.array(z.object({ id, code: z.string(), name: z.string() })),
  }),
});
export type IncidentPareto = z.infer<typeof getIncidentPareto.answer>;

/** Exact probability limits; `out` lists the gaps beyond them by their place, and "below" is too short: complaints have become more frequent. */
const gapLines = z.object({ lower: finite.nullable(), centre: finite, upper: finite, mean: finite, below: finite, above: finite, out: z.array(z.object({ index: count, side: z.enum(['above', 'below']) })) });
export const complaintGap = z.object({
  fromId: id, toId: id, from: moment, to: moment, days: finite,
  /** Good cans of the last counted step between the two; null where they were not counted. */
  cans: z.number().int().nullable(), missing: z.enum(['no-counts', 'before-counts', 'after-counts']).nullable(),
  /** The longest stretch within without a count, in hours: a stop, or a record that is missing. */
  longestHoleHours: finite,
});
export const getComplaintGaps = endpoint({
  method: 'GET', path: '/api/incidents/gaps', feature: 'incidents', access: readers,
  summary: 'Cans made on a line, and days, between one complaint of a customer and the next', description: 'By the time the cans were made, not by the day on which the complaint came in. g chart of cans and t chart of days, with exact probability limits.',
  query: z.object({ customer: z.string().min(1).max(200), lineId: idText, alpha: z.coerce.number().gt(0, 'a false-alarm probability above 0 and at most 0.1').max(0.1, 'a false-alarm probability above 0 and at most 0.1').default(0.00135) }),
  answer: z.object({
    complaints: count, countedAt: z.array(z.string()), gaps: z.array(complaintGap),
    /** Null with fewer than two counted gaps, or where all are 0. */
    cansChart: gapLines.nullable(), daysChart: gapLines.nullable(),
    /** From the last complaint to the last count: not a gap yet, and not in the limits. */
    since: z.object({ cans: z.number().int(), until: moment }).nullable(),
    few: z.boolean(),
  }),
  problems: ['not-found'],
});
export type ComplaintGaps = z.infer<typeof getComplaintGaps.answer>;

/** Languages in which the draft is offered; the facts are the same. */
export const replyLanguage = z.enum(['en', 'de']);
export type ReplyLanguage = z.infer<typeof replyLanguage>;
export const replyVersion = z.object({ version: count, language: replyLanguage, text: z.string(), counts: z.boolean(), author: z.string(), createdAt: moment });
export const getIncidentReply = endpoint({
  method: 'GET', path: '/api/incidents/:id/reply', feature: 'incidents', access: readers,
  summary: 'The answer to the customer: a draft from the facts, and the versions that people wrote', params: idParams,
  description: 'Without a language: that of the newest version, else English. The caution goes with every answer, in its language.', query: z.object({ language: replyLanguage.optional() }),
  answer: z.object({ incidentId: id, customer: z.string(), plant: z.string(), state: incidentState, language: replyLanguage, draft: z.string(), caution: z.string(), cautionTitle: z.string(), notCounting: z.string(), versions: z.array(replyVersion) }), problems: ['not-found'],
});
export type IncidentReply = z.infer<typeof getIncidentReply.answer>;
export const saveIncidentReply = endpoint({
  method: 'POST', path: '/api/incidents/:id/reply', feature: 'incidents', access: investigators, status: 201,
  summary: 'Save a version of the answer to the customer', description: 'With `counts` the person says that it may go out: it must differ from the draft, and no place in square brackets may be left open. `seen` is the number of the newest version that was read, 0 for none. It releases no product.',
  params: idParams, body: z.object({ seen: count, text: z.string().trim().min(1, 'the text of the answer').max(20_000), counts: z.boolean().default(false), language: replyLanguage.default('en') }), answer: replyVersion, problems: ['not-found', 'changed-meanwhile'],
});
