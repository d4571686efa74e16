import { z } from 'zod';
import { endpoint } from './endpoint.js';
import { causeCategory, incidentLife, incidentState, incidentStep } from './incident-shapes.js';
import { noteLink } from './knowledge.js';
import { closers, investigators, readers } from './roles.js';
import { code, finite, id, idParams, idText, longText, moment, shortText } from './shapes.js';

const cans = z.number().int('a whole number of cans').min(0, '0 or more cans').max(100_000_000);
export const incidentKind = z.enum(['complaint', 'in-house']);

/** What was found on the cans: may be corrected while the incident is open, as the examination goes on. */
const findings = z.object({
  cansExamined: cans, cansLeaking: cans,
  /** One of the leak places of GET /api/defects. */
  leakPlace: shortText,
  /** A code of the defect taxonomy, see GET /api/defects. */
  defect: code,
});

export const newIncident = findings.extend({
  kind: incidentKind,
  customer: shortText, productId: id, lineId: id,
  /** As it stands on the can; empty where it cannot be read. */
  canCode: z.string().trim().max(60).default(''),
  /** When the code says the can was made, as the plant reads it. */
  madeAt: moment,
  /** The end of the span that the code names; null = a moment. */
  madeUntil: moment.nullable().default(null),
  /** Where that moment was put on the can. Half and head as far as the can tells: unknown is allowed, a guess is not. */
  codedAtStepId: id.nullable().default(null), laneId: id.nullable().default(null), unitId: id.nullable().default(null),
  receivedAt: moment,
  cansComplained: cans,
  description: longText.min(1),
  containment: longText.default(''),
  /** When the first step, the containment, is due. */
  dueAt: moment.nullable().default(null),
}).meta({ id: 'NewIncident' });
export type NewIncident = z.infer<typeof newIncident>;

export const incidentRow = z.object({
  id, kind: incidentKind, state: incidentState, customer: z.string(), productId: id, product: z.string(), productName: z.string(), lineId: id, line: z.string(), lineName: z.string(),
  canCode: z.string(), madeAt: moment, madeUntil: moment.nullable(), codedAtStepId: id.nullable(), codedAtStepKind: z.string().nullable(),
  laneId: id.nullable(), lane: z.string().nullable(), unitId: id.nullable(), unit: z.string().nullable(), unitMachine: z.string().nullable(), receivedAt: moment, closedAt: moment.nullable(),
  /** When the next step is due; null where nobody set a date, and once it is closed. */
  dueAt: moment.nullable(), causeCategory: causeCategory.nullable(),
  cansComplained: cans, cansExamined: cans, cansLeaking: cans, leakPlace: z.string(), defect: z.string(), defectName: z.string(), description: z.string(),
  photos: z.number().int(), signals: z.number().int(), revision: z.number().int(), changedAt: moment,
}).meta({ id: 'IncidentRow' });
export type IncidentRow = z.infer<typeof incidentRow>;

const tally = z.array(z.object({ value: z.string(), name: z.string(), incidents: z.number().int(), cansComplained: z.number().int() }));

export const listIncidents = endpoint({
  method: 'GET', path: '/api/incidents', feature: 'incidents', access: readers, auditor: 'filtered',
  summary: 'Incidents, open ones first, then the newest', description: 'The tallies count all incidents that the filters leave, not one page.',
  query: z.object({
    state: z.enum([...incidentState.options, 'not-closed']).optional(), customer: z.string().max(200).optional(), defect: code.optional(), lineId: idText.optional(),
    take: z.coerce.number().int().min(1).max(200).default(50), skip: z.coerce.number().int().min(0).max(1_000_000).default(0),
  }),
  answer: z.object({
    total: z.number().int(), /** Not closed. */ open: z.number().int(), rows: z.array(incidentRow), byCustomer: tally, byDefect: tally,
    /** Every customer and defect that has an incident, for the filters. */
    customers: z.array(z.string()), defects: z.array(z.object({ value: z.string(), name: z.string() })),
  }),
});

export const incidentPhoto = z.object({ id, fileName: z.string(), contentType: z.string(), bytes: z.number().int(), addedBy: z.string(), addedAt: moment });
export const incidentSignal = z.object({
  id, chart: z.string(), rule: z.string(), side: z.string(), state: z.string(), firedAt: moment, lastAt: moment,
  characteristicName: z.string(), machine: z.string(), machineName: z.string(), machineUnit: z.string().nullable(), lane: z.string().nullable(),
  /** Why it was linked; empty where nobody said. */
  reason: z.string(),
});
export type IncidentSignal = z.infer<typeof incidentSignal>;

export const incident = incidentRow.extend({
  ...incidentLife.shape,
  containment: z.string(), cause: z.string(), action: z.string(), closingNote: z.string(), loggedBy: z.string(), loggedAt: moment,
  /** Where none of the examined cans leaked: the proportion that may still leak, at 95 % confidence; null when some leaked or none was examined. */
  zeroFoundUpperBound: finite.nullable(),
  steps: z.array(incidentStep),
  photoList: z.array(incidentPhoto), signalList: z.array(incidentSignal), notes: z.array(noteLink),
}).meta({ id: 'Incident' });
export type Incident = z.infer<typeof incident>;

export const logIncident = endpoint({
  method: 'POST', path: '/api/incidents', feature: 'incidents', access: investigators, status: 201,
  summary: 'Log a leaker complaint or an in-house finding', body: newIncident, answer: incident, problems: ['not-found'],
});
export const getIncident = endpoint({
  method: 'GET', path: '/api/incidents/:id', feature: 'incidents', access: readers, auditor: { thing: 'incident', at: 'params.id' },
  summary: 'An incident with its steps, photos, signals and notes', params: idParams, answer: incident, problems: ['not-found'],
});

const revision = z.number().int().positive();
export const changeIncident = endpoint({
  method: 'PUT', path: '/api/incidents/:id', feature: 'incidents', access: investigators,
  summary: 'Write containment, cause and action, or correct the findings', description: 'Send the revision that was read. A closed incident is opened again first.',
  params: idParams, body: findings.partial().extend({ revision, containment: longText.optional(), cause: longText.optional(), action: longText.optional(), causeCategory: causeCategory.optional(), causeMachineId: id.nullable().optional() }),
  answer: incident, problems: ['not-found', 'changed-meanwhile', 'wrong-state'],
});
export const closeIncident = endpoint({
  method: 'POST', path: '/api/incidents/:id/close', feature: 'incidents', access: closers,
  summary: 'Close an incident', description: 'Needs a verified effect, or the reason of the person who closes it without one once an action is on record. It releases no product.',
  params: idParams, body: z.object({ revision, closingNote: longText.min(1), withoutVerification: longText.default('') }), answer: incident, problems: ['not-found', 'changed-meanwhile', 'wrong-state'],
});
export const reopenIncident = endpoint({
  method: 'POST', path: '/api/incidents/:id/reopen', feature: 'incidents', access: closers,
  summary: 'Open a closed incident again', description: 'It goes back to the state it was closed from.', params: idParams, body: z.object({ revision, reason: longText.min(1) }), answer: incident, problems: ['not-found', 'changed-meanwhile', 'wrong-state'],
});

export const linkIncidentSignal = endpoint({
  method: 'POST', path: '/api/incidents/:id/signals', feature: 'incidents', access: investigators,
  summary: 'Link a signal to an incident', params: idParams, body: z.object({ signalId: id, reason: longText.default('') }), answer: incident, problems: ['not-found'],
});
export const unlinkIncidentSignal = endpoint({
  method: 'DELETE', path: '/api/incidents/:id/signals/:signalId', feature: 'incidents', access: investigators,
  summary: 'Take a linked signal away', params: idParams.extend({ signalId: idText }), query: z.object({ reason: z.string().max(2000).default('') }), answer: incident, problems: ['not-found'],
});

export const addIncidentPhoto = endpoint({
  method: 'POST', path: '/api/incidents/:id/photos', feature: 'incidents', access: investigators, status: 201,
  summary: 'Add photos to an incident', description: 'Fields named "photo": JPEG, PNG or WebP, recognised by content, 10 MB each.',
  params: idParams, bodyType: 'multipart', body: z.object({ photo: z.string().meta({ format: 'binary' }) }),
  answer: z.object({ photos: z.array(incidentPhoto) }), problems: ['not-found', 'too-large', 'wrong-file-type'],
});
export const getIncidentPhoto = endpoint({
  method: 'GET', path: '/api/incidents/:id/photos/:photoId', feature: 'incidents', access: readers, auditor: { thing: 'incident', at: 'params.id' },
  summary: 'A photo', params: idParams.extend({ photoId: idText }), answer: z.unknown(), answerType: 'image/*', problems: ['not-found'],
});

/** Which shift was on by the plant's clocks, as shifts are set up now; null outside all of them. */
const shift = z.string().nullable().default(null);
const onMachine = { shift, at: moment, machineId: id, machine: z.string(), machineName: z.string(), stepKind: z.string() };
export const surrounding = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('check'), ...onMachine, checkId: id, inspector: z.string(), gauges: z.array(z.object({ code: z.string(), overdue: z.boolean().describe('its calibration was due before the check, as the date stands now') })).default([]), status: z.enum(['steady', 'signal', 'not-judged']), subgroups: z.number().int() }),
  z.object({ kind: z.literal('signal'), ...onMachine, signalId: id, chart: z.string(), rule: z.string(), side: z.string(), state: z.string(), lastAt: moment, characteristicName: z.string(), machineUnit: z.string().nullable(), lane: z.string().nullable(), linked: z.boolean() }),
  z.object({ kind: z.literal('event'), shift, at: moment, until: moment.nullable(), machineId: id.nullable(), machine: z.string().nullable(), machineName: z.string().nullable(), stepKind: z.string().nullable(), eventId: id, eventKind: z.string(), text: z.string(), actor: z.string() }),
  /** A stretch in which checks of a plan were due and none is on record: by minutes of running (of the clock where nothing is counted), by cans, or opened by a line event of that kind. */
  z.object({ kind: z.literal('missed'), ...onMachine, until: moment, plan: z.string(), everyMinutes: finite.nullable(), everyCans: finite.nullable(), openedBy: z.string().nullable(), due: z.number().int() }),
]);
export type Surrounding = z.infer<typeof surrounding>;

export const hoursAround = z.object({ before: z.coerce.number().min(0).max(336).default(24), after: z.coerce.number().min(0).max(336).default(4) });
export const surroundingsAnswer = z.object({ from: moment, to: moment, madeAt: moment, entries: z.array(surrounding), leftOut: z.number().int() });
export type SurroundingsAnswer = z.infer<typeof surroundingsAnswer>;
export const getIncidentSurroundings = endpoint({
  method: 'GET', path: '/api/incidents/:id/surroundings', feature: 'incidents', access: readers,
  summary: 'Checks, signals, line events and missed checks of the line around the time the cans were made', params: idParams,
  query: hoursAround, answer: surroundingsAnswer, problems: ['not-found'],
});
