import { z } from 'zod';
import { endpoint } from './endpoint.js';
import { machineIdOrCode, needIdOrCode } from './id-or-code.js';
import { fieldError } from './problem.js';
import { engineers, readers, recorders } from './roles.js';
import { finite, id, idParams, idText, moment } from './shapes.js';

/** What a machine's running counters showed. Numbers that no counter can show are refused row by row, not the whole batch. */
export const counterReading = z.object({
  machineId: id, at: moment, good: finite,
  /** Null where the machine does not count its rejects. */
  rejected: finite.nullable().default(null),
}).meta({ id: 'CounterReading' });
export type CounterReading = z.output<typeof counterReading>;
const sentReading = counterReading.extend(machineIdOrCode).superRefine((sent, context) => needIdOrCode(context, ['machine'], sent.machineId, sent.machine, true)).meta({ id: 'SentCounterReading' });

/**
 * counted: cans told after all; rolled-over: taken for passing its highest number; set-back: somebody set it to 0;
 * went-backwards, jumped: it showed what cannot follow; wrapped-unseen: it may have passed its highest number unseen;
 * not-told: one of two readings lacks the counter; too-far-apart: more than a day; already-counted: a count was entered
 * for that time by another way; late: placed between readings that were there; refused: not stored as a reading.
 */
export const counterDecisionKinds = ['counted', 'rolled-over', 'set-back', 'went-backwards', 'jumped', 'wrapped-unseen', 'not-told', 'too-far-apart', 'already-counted', 'late', 'refused'] as const;
export type CounterDecisionKind = (typeof counterDecisionKinds)[number];

const decided = {
  machineId: id.nullable(), kind: z.enum(counterDecisionKinds),
  /** Null: about the reading or the span as a whole. */
  counter: z.enum(['good', 'rejected']).nullable(),
  /** The reading, or the span from one reading to the next. */
  at: moment.nullable(), until: moment.nullable(),
  /** Null where the cans cannot be told: that is not zero cans. */
  cans: finite.nullable(), least: finite.nullable(), detail: z.string(),
};

export const recordCounterReadings = endpoint({
  method: 'POST', path: '/api/counts/readings', feature: 'production', access: recorders, feed: 'counts',
  summary: 'Bring what running counters showed', description: 'The machine is named by id, or by its code as "machine". A batch may be sent twice and in any order: a reading that is there is the same. Rows that cannot be are refused one by one with their reason; the others are stored and turned into production counts from each reading to the next.',
  body: z.object({ readings: z.array(sentReading).min(1).max(5000) }),
  answer: z.object({
    stored: z.number().int(), same: z.number().int(), refused: z.array(fieldError),
    /** Production counts between readings: new, changed by a late reading, and taken away by one. */
    spans: z.object({ stored: z.number().int(), changed: z.number().int(), removed: z.number().int() }),
    decisions: z.array(z.object(decided)),
  }),
});

export const machineCounter = z.object({
  machineId: id, machine: z.string(), name: z.string(), line: z.string(), stepKind: z.string(),
  rollsOverAt: finite.nullable(), mostPerMinute: finite.nullable(), changedBy: z.string().nullable(), changedAt: moment.nullable(),
  last: z.object({ at: moment, good: finite, rejected: finite.nullable(), receivedAt: moment }).nullable(),
  readings: z.number().int(),
  /** Spans of the last seven days in which the cans cannot be told. */
  gaps: z.number().int(), gapMinutes: finite,
}).meta({ id: 'MachineCounter' });
export type MachineCounter = z.infer<typeof machineCounter>;
export const listCounters = endpoint({
  method: 'GET', path: '/api/counts/counters', feature: 'production', access: readers,
  summary: 'The running counters of all machines in use: what they are, and what they showed last', answer: z.object({ counters: z.array(machineCounter) }),
});

export const counterDecision = z.object({
  id, machine: z.string().nullable(), line: z.string().nullable(), ...decided, decidedAt: moment, actor: z.string(),
  /** A later reading or a later decision took its place. */
  replaced: z.boolean(),
}).meta({ id: 'CounterDecision' });
export type CounterDecision = z.infer<typeof counterDecision>;
export const listCounterDecisions = endpoint({
  method: 'GET', path: '/api/counts/decisions', feature: 'production', access: readers,
  summary: 'What was decided about counter readings, newest first', description: 'At most 200.',
  query: z.object({ machine: idText.optional() }), answer: z.object({ decisions: z.array(counterDecision) }),
});

export const setCounter = endpoint({
  method: 'PUT', path: '/api/counts/counters/:id', feature: 'production', access: engineers,
  summary: 'Say where the counters of a machine begin again at 0, and how fast it can go', description: 'The readings of the last 31 days are looked at anew by it. `id` is that of the machine.', params: idParams,
  body: z.object({
    rollsOverAt: z.number().int('a whole number').min(100, 'the number of values, such as 1000000 for six digits').max(1e15).nullable(),
    mostPerMinute: z.number().gt(0, 'more than 0 cans a minute').max(10_000, 'at most 10,000 cans a minute').nullable(),
  }),
  answer: z.object({ spans: z.object({ stored: z.number().int(), changed: z.number().int(), removed: z.number().int() }) }), problems: ['not-found'],
});
