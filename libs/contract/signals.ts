import { z } from 'zod';
import { dueCheck } from './due-checks.js';
import { endpoint } from './endpoint.js';
import { holdRow } from './holds.js';
import { incidentState } from './incident-shapes.js';
import { noteLink } from './knowledge.js';
import { lineEvent } from './production.js';
import { firingSide, ruleName } from './rule-names.js';
import { closers, investigators, readers, recorders, type Role } from './roles.js';
import { finite, id, idParams, idText, moment } from './shapes.js';

const count = z.number().int().nonnegative();
const named = z.object({ id, code: z.string(), name: z.string() });
const part = z.object({ id, code: z.string() });
const band = z.object({ lower: finite, centre: finite, upper: finite });
const text = z.string().trim().min(3, 'at least 3 characters').max(4000);

export const signalState = z.enum(['open', 'acknowledged', 'cause-assigned', 'closed']);
export type SignalState = z.infer<typeof signalState>;

/** The numbers of the pattern, kept as they were when the rule fired; in the unit of the characteristic. */
export const signalSeen = z.object({
  limits: z.object({ mean: band.extend({ sigma: finite }), spread: band.nullable() }).nullable(),
  points: z.array(z.object({ at: moment, mean: finite.nullable(), range: finite.nullable(), sd: finite.nullable(), n: count, z: finite.nullable() })),
});
export type SignalSeen = z.infer<typeof signalSeen>;

export const signalStream = z.object({
  id, chartKind: z.string(), line: named, machine: named.extend({ stepKind: z.string() }), unit: part.nullable(), lane: part.nullable(), product: named,
  characteristic: named.extend({ unit: z.string(), decimals: count }),
});

export const signalRow = z.object({
  id, stream: signalStream,
  chart: z.enum(['mean', 'spread']), rule: ruleName, side: firingSide, state: signalState,
  firedAt: moment, firstAt: moment, lastAt: moment, raisedAt: moment, closedAt: moment.nullable(),
  firings: count,
  /** From the first firing until now, or until it was closed. */
  ageMinutes: count,
  assignee: z.object({ id, name: z.string() }).nullable(),
  cause: z.string().nullable(),
  seen: signalSeen,
  /** Other signals of the same machine and characteristic whose span overlaps this one's. */
  together: z.array(id),
}).meta({ id: 'SignalRow' });
export type SignalRow = z.infer<typeof signalRow>;

export const listSignals = endpoint({
  method: 'GET', path: '/api/signals', feature: 'signals', access: readers, auditor: 'filtered',
  summary: 'Signals, newest first', description: '`before` is the id of the last row of the page before. State "not-closed" is the default; "all" leaves none out.',
  query: z.object({
    state: z.enum([...signalState.options, 'not-closed', 'all']).default('not-closed'),
    line: idText.optional(), machine: idText.optional(), characteristic: idText.optional(), assigned: idText.optional(), stream: idText.optional(),
    before: idText.optional(), take: z.coerce.number().int().min(1).max(200).default(50),
  }),
  answer: z.object({ total: count, signals: z.array(signalRow), next: id.nullable() }),
  problems: ['not-found'],
});

/** From the last subgroup known good before the pattern to what ended the doubt; `from` null means that none is known. */
export const suspectWindow = z.object({
  from: moment.nullable(), until: moment, untilBasis: z.enum(['next-good-subgroup', 'stop', 'now']),
  /** Cans that the machine counted in the window, rounded outward; null with the reason. */
  cans: z.object({
    counted: count, atRisk: count, shareOf: z.number().int().positive(), units: count, lanes: count,
    /** True where the beginning is not known: counted from the first point of the pattern, so at least so many. */
    atLeast: z.boolean(),
    /** Minutes of the window without a count: a stop, or a counter that was away. */
    uncoveredMinutes: finite,
  }).nullable(),
  noCans: z.enum(['no-counts']).nullable(),
});

/** How many of the like signalled in the same window: the first question is whether it is one or all. */
const spread = z.object({ of: count, signalled: z.array(z.string()) });

export const signalPage = z.object({
  signal: signalRow, window: suspectWindow, eventsFrom: moment,
  events: z.array(lineEvent),
  steps: z.array(z.object({ id, at: moment, actor: z.string(), action: z.string(), comment: z.string().nullable() })),
  notes: z.array(noteLink),
  incidents: z.array(z.object({ id, kind: z.string(), state: z.string(), customer: z.string(), defect: z.string(), receivedAt: moment })),
  units: spread, lanes: spread, machines: spread,
}).meta({ id: 'SignalPage' });
export type SignalPage = z.infer<typeof signalPage>;

export const getSignal = endpoint({
  method: 'GET', path: '/api/signals/:id', feature: 'signals', access: readers, auditor: { thing: 'signal', at: 'params.id' },
  summary: 'One signal: what the rule saw, suspect window, cans at risk, line events, notes, incidents, steps', params: idParams, answer: signalPage, problems: ['not-found'],
});

/** Everybody who works on the line may say that the signal was seen. */
export const acknowledgers: readonly Role[] = [...new Set([...recorders, ...investigators])];

/** The state that the person saw: refused when somebody was faster. */
const seenState = { state: signalState };

export const acknowledgeSignal = endpoint({
  method: 'POST', path: '/api/signals/:id/acknowledge', feature: 'signals', access: acknowledgers,
  summary: 'Take a signal: it is seen, and who took it looks into it', params: idParams, body: z.object({ ...seenState, comment: z.string().trim().max(4000).optional() }),
  answer: signalRow, problems: ['not-found', 'wrong-state', 'changed-meanwhile'],
});
export const assignCause = endpoint({
  method: 'POST', path: '/api/signals/:id/assign-cause', feature: 'signals', access: investigators,
  summary: 'Assign the cause, in words and by a root-cause note', description: 'Possible again while the signal is not closed: a better cause replaces the former one, which stays in the steps.',
  params: idParams, body: z.object({ ...seenState, cause: text, noteId: id.optional() }), answer: signalRow, problems: ['not-found', 'wrong-state', 'changed-meanwhile'],
});
export const closeSignal = endpoint({
  method: 'POST', path: '/api/signals/:id/close', feature: 'signals', access: closers,
  summary: 'Close a signal', description: 'The comment says how it was shown that the process is steady again, or that no cause was found. It releases no product.',
  params: idParams, body: z.object({ ...seenState, comment: text }), answer: signalRow, problems: ['not-found', 'wrong-state', 'changed-meanwhile'],
});
export const reopenSignal = endpoint({
  method: 'POST', path: '/api/signals/:id/reopen', feature: 'signals', access: closers,
  summary: 'Open a closed signal again', params: idParams, body: z.object({ ...seenState, comment: text }), answer: signalRow, problems: ['not-found', 'wrong-state', 'changed-meanwhile'],
});

export const linkSignalNote = endpoint({
  method: 'POST', path: '/api/signals/:id/notes', feature: 'signals', access: investigators, status: 201,
  summary: 'Let a root-cause note cite the signal', description: 'Linking a suggested note confirms it.',
  params: idParams, body: z.object({ noteId: id, reason: z.string().trim().max(500).default('') }), answer: z.object({ notes: z.array(noteLink) }), problems: ['not-found'],
});
export const unlinkSignalNote = endpoint({
  method: 'DELETE', path: '/api/signals/:id/notes/:linkId', feature: 'signals', access: investigators,
  summary: 'Take a linked note away, or reject a suggested one', params: idParams.extend({ linkId: idText }), answer: z.object({ notes: z.array(noteLink) }), problems: ['not-found'],
});

/** The board's states. Held: product of the machine is kept back. Null: nothing is charted at the machine, so there is nothing to judge. */
export const boardState = z.enum(['steady', 'signal', 'due', 'held', 'not-judged']).nullable();

const openIncident = z.object({ id, kind: z.string(), customer: z.string(), defect: z.string(), product: z.string(), receivedAt: moment });

export const nowBoard = z.object({
  at: moment,
  lines: z.array(named.extend({
    /** "unknown" where nothing is counted. `notRunningSince` is the end of the last span with cans. */
    running: z.enum(['running', 'not-running', 'unknown']), notRunningSince: moment.nullable(),
    steps: z.array(z.object({ id, kind: z.string(), machines: z.array(named.extend({ state: boardState, streamId: id.nullable(), openSignals: count, checksDue: count, holds: count, lastCheckAt: moment.nullable() })) })),
    incidents: z.array(openIncident),
  })),
  openSignals: count, signals: z.array(signalRow), due: z.array(dueCheck),
  /** Holds that are not decided, and incidents whose next step was due before now, longest overdue first. */
  holds: z.array(holdRow), overdue: z.array(z.object({ id, customer: z.string(), defect: z.string(), line: z.string(), state: incidentState, dueAt: moment })),
}).meta({ id: 'NowBoard' });
export type NowBoard = z.infer<typeof nowBoard>;

export const getNow = endpoint({
  method: 'GET', path: '/api/now', feature: 'production', access: readers,
  summary: 'Is anything wrong, on which machine, and what is due', description: 'Lines in order, steps in process order. An interval is advice: what is over it is late, not a violation.', answer: nowBoard,
});
