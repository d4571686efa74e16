import { z } from 'zod';
import { endpoint } from './endpoint.js';
import { hoursAround, surroundingsAnswer } from './incidents.js';
import { investigators, readers } from './roles.js';
import { code, finite, id, idParams, longText, moment } from './shapes.js';
import { seenOrigin } from './trace-places.js';

const count = z.number().int().nonnegative();
const named = z.object({ id, code: z.string(), name: z.string() });
const part = z.object({ id, code: z.string() });
const times = finite.describe('factor by which it makes the origin likelier than a place of which nothing is known; below 1: less likely');
const streams = z.array(id).describe('streams behind it, see `streams`');

export const traceFinding = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('taxonomy'), share: finite.describe('of such defects that begin at this kind of step, 0 to 1; common practice, no source') }),
  z.object({ kind: z.literal('material'), material: z.enum(['plate', 'wire', 'ends', 'lacquer']), share: finite.describe('of such faults of the step that come with the material, 0 to 1; common practice, no source') }),
  z.object({
    kind: z.literal('shifted'), characteristic: z.string(), streamIds: streams, points: count, times, size: finite.describe('in sigmas of a charted member'),
    lastGoodAt: moment.nullable(), firstBadAt: moment, lastBadAt: moment, nextGoodAt: moment.nullable(),
  }),
  z.object({ kind: z.literal('steady'), characteristic: z.string(), streamIds: streams, points: count, times }),
  z.object({ kind: z.literal('periodic'), characteristic: z.string(), streamIds: streams, period: count.describe('bodies'), size: finite, members: count, times }),
  z.object({ kind: z.literal('no-readings'), characteristics: z.array(z.string()) }),
  z.object({ kind: z.literal('signals'), signalIds: z.array(id) }),
  z.object({ kind: z.literal('entry'), eventId: id, at: moment, eventKind: z.string(), text: z.string(), times }),
  z.object({ kind: z.literal('no-entry'), times }),
  z.object({ kind: z.literal('missed-checks'), plan: z.string(), lastAt: moment.nullable(), nextAt: moment.nullable(), everyMinutes: finite.nullable(), everyCans: finite.nullable().default(null), openedBy: z.string().nullable().default(null).describe('kind of the line event') }),
  z.object({ kind: z.literal('mark'), of: z.enum(['unit', 'lane']), fits: z.boolean(), times }),
]);
export type TraceFinding = z.infer<typeof traceFinding>;

/** From the last check known good to the next one known good at the origin, and the same span where the cans were coded. */
export const traceSuspect = z.object({
  from: moment.nullable().describe('null: no good check is known before it'), until: moment, openEnded: z.boolean().describe('no good check is known after it: until now'),
  codedFrom: moment.nullable(), codedUntil: moment,
  counted: count.nullable().describe('cans that the machine counted in it, rounded outward; null = no counts'), uncoveredMinutes: finite, shareOf: count, atRisk: count.nullable(),
});
export type TraceSuspect = z.infer<typeof traceSuspect>;

export const traceOrigin = z.object({
  stepKind: z.string(), machine: named, unit: part.nullable(), lane: part.nullable(), pattern: z.enum(['all', 'one', 'periodic', 'lot', 'undecided']),
  lot: z.object({ eventId: id, kind: z.string(), text: z.string(), from: moment, until: moment.nullable().describe('the next change; null: none on record') }).nullable().default(null).describe('the material lot, by the log-book entry that brought it'),
  share: finite.describe('among all places looked at, 0 to 1; they add up to 1'), enoughData: z.boolean(), findings: z.array(traceFinding), suspect: traceSuspect.nullable(),
});
export type TraceOrigin = z.infer<typeof traceOrigin>;

export const traceWindow = z.object({
  stepId: id, stepKind: z.string(), from: moment, until: moment, basis: z.enum(['code', 'counts', 'transit', 'unknown']),
  machines: z.array(named.extend({ good: count.nullable().describe('cans counted while they passed; null = no counts'), rejected: count.nullable(), checks: count, signals: count, entries: count, missed: z.array(z.string()) })),
});
export type TraceWindow = z.infer<typeof traceWindow>;

/** A coil, wire, end or lacquer lot that was on while the cans passed its machine; each is a place of the ranking, too. */
export const traceLot = z.object({
  eventId: id, machine: z.object({ id, code: z.string() }), stepKind: z.string(), kind: z.string(), text: z.string(), from: moment, until: moment.nullable().describe('the next change; null: none on record'),
  moved: z.object({ characteristic: z.string(), size: finite.describe('sigmas of a charted member'), times: finite.describe('how much likelier the readings are if they moved just while it was on'), points: count }).nullable(),
});
export type TraceLot = z.infer<typeof traceLot>;

export const trace = z.object({
  asOf: moment, line: named, codedAtStepId: id, recordsFrom: moment, recordsUntil: moment, clockMinutes: finite,
  windows: z.array(traceWindow), origins: z.array(traceOrigin).describe('the likeliest, ten unless more are asked for'), others: finite.describe('share of all places that are not listed'),
  // Rankings that were kept before these were stated have none of them.
  lots: z.array(traceLot).default([]),
  places: count.default(0).describe('all places that were looked at'),
  defect: z.object({ code: z.string(), name: z.string(), by: z.enum(['complaint', 'characteristic', 'asked', 'unknown']).describe('unknown: the signal has no usual name, all places count alike') }).nullable().default(null),
  weights: z.object({ id, version: count, author: z.string(), at: moment, reason: z.string() }).nullable().default(null).describe('the plant’s version of where the defect begins; null: the shares of the trade'),
  streams: z.array(z.object({ id, characteristic: z.string(), characteristicName: z.string(), unit: z.string(), decimals: count, machine: z.string(), part: z.string().nullable(), sigma: finite.nullable(), points: count })),
  howToCheck: z.string(), caution: z.string(),
}).meta({ id: 'Trace' });
export type Trace = z.infer<typeof trace>;

const described = [
  'Walks the can code back through the line (by cumulative counts where two steps are counted, else by shortest and longest transit) and weighs each machine, unit, half of a body, every-n-th-body fault and material lot by Bayes\' rule:',
  'share of such defects that begin there (common practice, no source), marks on the can, likelihood of the readings under a shift against under the frozen limits, log-book entries where the fault can have begun, checks that are missing.',
  'It informs; cause, hold and release are decided by people.',
].join(' ');

const take = z.coerce.number().int().min(1).max(500).default(10);
export const traceIncident = endpoint({
  method: 'GET', path: '/api/incidents/:id/trace', feature: 'traces', access: readers,
  summary: 'Where the fault of an incident most likely began, and what is suspect', description: described, params: idParams, query: z.object({ take }), answer: trace, problems: ['not-found', 'cannot-compute'],
});
export const traceSignal = endpoint({
  method: 'GET', path: '/api/signals/:id/trace', feature: 'traces', access: readers,
  summary: 'Where what a signal shows most likely began: its own machine or a step before it',
  description: `The cans are those between the first point of the pattern and the one that fired. The defect is the usual name of what the characteristic shows, unless \`defect\` names another. ${described}`,
  params: idParams, query: z.object({ take, defect: code.optional() }), answer: trace, problems: ['not-found', 'cannot-compute'],
});

export const getSignalSurroundings = endpoint({
  method: 'GET', path: '/api/signals/:id/surroundings', feature: 'traces', access: readers,
  summary: 'Checks, signals, line events and missed checks of the line around the first point of a signal', params: idParams, query: hoursAround, answer: surroundingsAnswer, problems: ['not-found'],
});
const acted = { chosen: seenOrigin.nullable().describe('the origin that is acted on, as it stood when it was seen; null: the ranking as a whole'), comment: longText.min(1, 'what is done about it') };
const kept = 'Computed anew by the server, kept with the version of the software, never changed. Where the chosen origin is gone, stands at another place or has a share that moved by more than ten points since it was seen, nothing is kept: changed-meanwhile.';
export const keepTrace = endpoint({
  method: 'POST', path: '/api/incidents/:id/traces', feature: 'traces', access: investigators, status: 201,
  summary: 'Keep the ranking as it stands, since somebody acts on it', description: kept,
  params: idParams, body: z.object({ ...acted }),
  answer: z.object({ id }), problems: ['not-found', 'cannot-compute', 'changed-meanwhile'],
});
export const keepSignalTrace = endpoint({
  method: 'POST', path: '/api/signals/:id/traces', feature: 'traces', access: investigators, status: 201,
  summary: 'Keep the ranking of a signal as it stands, since somebody acts on it', description: kept,
  params: idParams, body: z.object({ ...acted, defect: code.nullable().default(null).describe('as it was asked for') }),
  answer: z.object({ id }), problems: ['not-found', 'cannot-compute', 'changed-meanwhile'],
});

const keptRow = z.object({ id, keptAt: moment, actor: z.string(), chosen: count.nullable().describe('place in the ranking as it was kept, from 0'), comment: z.string(), software: z.string(), origin: z.string().nullable().describe('machine and part that was chosen') });
export const listKeptTraces = endpoint({
  method: 'GET', path: '/api/incidents/:id/traces', feature: 'traces', access: readers,
  summary: 'Rankings of an incident that were acted on, newest first', params: idParams, answer: z.object({ traces: z.array(keptRow) }), problems: ['not-found'],
});
export const listKeptSignalTraces = endpoint({
  method: 'GET', path: '/api/signals/:id/traces', feature: 'traces', access: readers,
  summary: 'Rankings of a signal that were acted on, newest first', params: idParams, answer: z.object({ traces: z.array(keptRow) }), problems: ['not-found'],
});
export const keptTrace = keptRow.extend({ incidentId: id.nullable(), signalId: id.nullable(), trace }).meta({ id: 'KeptTrace' });
export type KeptTrace = z.infer<typeof keptTrace>;
export const getKeptTrace = endpoint({
  method: 'GET', path: '/api/traces/:id', feature: 'traces', access: readers,
  summary: 'A kept ranking as it stood', params: idParams, answer: keptTrace, problems: ['not-found'],
});
