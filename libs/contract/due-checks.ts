import { z } from 'zod';
import { skipReason } from './check-extras.js';
import { endpoint } from './endpoint.js';
import { engineers, readers, recorders } from './roles.js';
import { flag, id, idText, moment } from './shapes.js';

const count = z.number().int().nonnegative();

/** What opened a check by itself. `at`: when it fell due, for a stop its end. */
const cause = z.object({ eventId: id, kind: z.string(), at: moment, text: z.string(), machine: z.string().nullable() });

export const dueCheck = z.object({
  planId: id, plan: z.string(), machineId: id, machine: z.string(), lineId: id, line: z.string(), product: z.string(),
  lastCheckAt: moment.nullable(),
  everyMinutes: count.nullable(), intervalSource: z.string(), everyCans: count.nullable(), cansSource: z.string(), eventsSource: z.string(),
  /** What it is due by: minutes of running where production is counted, else minutes of the clock; cans; or an event. Of several the one that is most overdue. */
  basis: z.enum(['running', 'clock', 'cans', 'event']),
  /** By the clock or by the event; null where running time or cans decide, or where the plan was never checked. */
  dueAt: moment.nullable(),
  /** Over the advisory interval, or since the event; null where the plan was never checked. */
  minutesOver: count.nullable(),
  cansOver: count.nullable(),
  cause: cause.nullable(),
  /** Further events of the same kind of wait: one check answers all of them. */
  moreCauses: count,
  /** The units whose turn it is where the plan rotates; empty = all of them. */
  units: z.array(z.object({ id, code: z.string() })),
});
export type DueCheck = z.infer<typeof dueCheck>;

export const dueListed = dueCheck.extend({ /** The machine or its line is assigned to the person who asks. */ mine: z.boolean() });
export type DueListed = z.infer<typeof dueListed>;

export const listDueChecks = endpoint({
  method: 'GET', path: '/api/due-checks', feature: 'production', access: readers,
  summary: 'Checks that are due, the most overdue first', description: 'From the check plans: over an interval of minutes or cans, or opened by a line event. An interval is advice with a source: what is over it is late, not a violation. `mine` keeps what is assigned to the person who asks.',
  query: z.object({ machine: idText.optional(), line: idText.optional(), mine: flag.optional() }),
  answer: z.object({ at: moment, /** Whether anything is assigned to the person who asks. */ assigned: z.boolean(), due: z.array(dueListed) }).meta({ id: 'DueChecks' }),
});

export const skipDueCheck = endpoint({
  method: 'POST', path: '/api/due-checks/skip', feature: 'production', access: recorders, status: 201,
  summary: 'Say why a due check is not taken; it is kept, and the check is due again after its next interval or event', description: 'Listed with the missed checks of its time. Refused where nothing of the plan is due.',
  body: z.object({ planId: id, reason: skipReason }), answer: z.object({ id }), problems: ['not-found', 'wrong-state'],
});

const missedCommon = { planId: id, plan: z.string(), machineId: id, machine: z.string(), line: z.string(), product: z.string() };
export const missedCheck = z.discriminatedUnion('kind', [
  /** No check for more than 1.5 intervals: `from` the last check or skip, `until` the next (null = none by the end of the period). */
  z.object({ kind: z.literal('interval'), ...missedCommon, from: moment, until: moment.nullable(), every: count, unit: z.enum(['minutes', 'cans']), /** Made in that time, in `unit`. */ passed: count, basis: z.enum(['running', 'clock', 'cans']), missed: count, source: z.string() }),
  /** An event opened a check and none was picked within 60 minutes of it. */
  z.object({ kind: z.literal('event'), ...missedCommon, from: moment, until: moment.nullable(), cause, source: z.string() }),
  z.object({ kind: z.literal('skipped'), ...missedCommon, from: moment, reason: z.string(), by: z.string() }),
]);
export type MissedCheck = z.infer<typeof missedCheck>;

export const listMissedChecks = endpoint({
  method: 'GET', path: '/api/missed-checks', feature: 'production', access: readers,
  summary: 'Checks that a period should have had and has not, oldest first, and those skipped with a reason',
  description: 'Judged by the plan as it stood at the time. Running time where production is counted, else the clock; only while the line made the product of the plan. At most 31 days.',
  query: z.object({ from: moment, to: moment, machine: idText.optional(), line: idText.optional() })
    .refine(({ from, to }) => new Date(from) < new Date(to), { path: ['to'], message: 'a moment after the beginning' })
    .refine(({ from, to }) => new Date(to).getTime() - new Date(from).getTime() <= 31 * 86_400_000, { path: ['to'], message: 'at most 31 days after the beginning' }),
  answer: z.object({ from: moment, to: moment, missed: z.array(missedCheck) }).meta({ id: 'MissedChecks' }),
});

const places = { lineIds: z.array(id).max(200), machineIds: z.array(id).max(1000) };
export const assignment = z.object({ userId: id, name: z.string(), role: z.string(), ...places });
export const listAssignments = endpoint({
  method: 'GET', path: '/api/assignments', feature: 'production', access: readers,
  summary: 'Who looks after which lines and machines', answer: z.object({ people: z.array(assignment) }),
});
export const setMyAssignments = endpoint({
  method: 'PUT', path: '/api/assignments/mine', feature: 'production', access: recorders,
  summary: 'Say which lines and machines are mine', description: 'The whole list replaces the one before.', body: z.object(places), answer: z.object({ userId: id, ...places }),
});
export const setAssignments = endpoint({
  method: 'PUT', path: '/api/assignments/of/:id', feature: 'production', access: engineers,
  summary: 'Say which lines and machines a person looks after', description: 'The whole list replaces the one before.', params: z.object({ id: idText }), body: z.object(places), answer: z.object({ userId: id, ...places }), problems: ['not-found'],
});
