import { z } from 'zod';
import { endpoint } from './endpoint.js';
import { machineIdOrCode, needIdOrCode } from './id-or-code.js';
import { readers, recorders } from './roles.js';
import { code, id, idText, moment, shortText } from './shapes.js';

export const lineEventKinds = ['coil-change', 'wire-change', 'roll-change', 'tooling-set', 'wash-down', 'stop', 'start', 'jam', 'shift-change', 'setting', 'end-lot-change', 'lacquer-change', 'other'] as const;
export const lineEventKind = z.enum(lineEventKinds);

export const lineEvent = z.object({
  id, lineId: id, line: z.string(), machineId: id.nullable(), machine: z.string().nullable(),
  /** One of the kinds of a new one, or what an import brought. */
  kind: z.string(), at: moment, until: moment.nullable(), text: z.string(), actor: z.string(), enteredAt: moment,
}).meta({ id: 'LineEvent' });
export type LineEvent = z.infer<typeof lineEvent>;

export const listLineEvents = endpoint({
  method: 'GET', path: '/api/line-events', feature: 'production', access: readers,
  summary: 'Line events that touch a span, in order of time', description: 'At most 1000, the newest of the span.',
  query: z.object({ line: idText.optional(), from: moment.optional(), to: moment.optional() })
    .refine(({ from, to }) => !from || !to || new Date(from) <= new Date(to), { path: ['to'], message: 'a moment not before the beginning' }),
  answer: z.object({ events: z.array(lineEvent) }),
});

/** Line and machine by id or by code. Of a machine the line need not be given; without one the event is the whole line's. */
export const newLineEvent = z.object({
  lineId: id.optional(), line: code.optional(), machineId: id.nullable().default(null), machine: code.optional(), kind: lineEventKind,
  at: moment, until: moment.nullable().default(null), text: shortText,
}).refine(({ at, until }) => until === null || new Date(at) <= new Date(until), { path: ['until'], message: 'a moment not before the beginning' })
  .superRefine((event, context) => {
    needIdOrCode(context, ['machine'], event.machineId, event.machine, false);
    needIdOrCode(context, ['line'], event.lineId, event.line, event.machineId === null && event.machine === undefined);
  }).meta({ id: 'NewLineEvent' });
/** With its ids found. */
export type PlacedLineEvent = Omit<z.infer<typeof newLineEvent>, 'line' | 'machine' | 'lineId'> & { lineId: number };

export const recordLineEvent = endpoint({
  method: 'POST', path: '/api/line-events', feature: 'production', access: recorders, feed: 'line-events', status: 201,
  summary: 'Enter something that happened to a line or a machine', body: newLineEvent, answer: lineEvent, problems: ['not-found'],
});

export const productionCount = z.object({
  machineId: id,
  /** Beginning of the span; its length follows. */
  at: moment, minutes: z.number().gt(0, 'more than 0 minutes').max(1440, 'at most 1440 minutes'),
  good: z.number().int('a whole number of cans').min(0, '0 or more cans').max(100_000_000),
  rejected: z.number().int('a whole number of cans').min(0, '0 or more cans').max(100_000_000).default(0),
});
export type ProductionCount = z.infer<typeof productionCount>;
const sentCount = productionCount.extend(machineIdOrCode).superRefine((count, context) => needIdOrCode(context, ['machine'], count.machineId, count.machine, true)).meta({ id: 'SentCount' });

export const recordProductionCounts = endpoint({
  method: 'POST', path: '/api/production-counts', feature: 'production', access: recorders, feed: 'counts',
  summary: 'Store production counts', description: 'The machine is named by id, or by its code as "machine". Machine and beginning of the span identify a count: the same one again replaces it, so a batch may be sent twice. Spans of a machine may not overlap.',
  body: z.object({ counts: z.array(sentCount).min(1).max(5000) }),
  answer: z.object({ stored: z.number().int(), changed: z.number().int(), same: z.number().int() }), problems: ['not-found'],
});
