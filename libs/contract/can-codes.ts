import { z } from 'zod';
import { endpoint } from './endpoint.js';
import { engineers, readers } from './roles.js';
import { finite, id, idParams, idText, moment } from './shapes.js';

const canCode = z.string().trim().min(1, 'the code as it stands on the can').max(60, 'at most 60 characters');
const patternText = z.string().trim().min(1, 'a pattern such as {line} {year:2}{day-of-year} {hour}{minute}').max(200, 'at most 200 characters');
const clockMinutes = z.number().min(0, '0 or more minutes').max(1440, 'at most a day of 1440 minutes');

/** One thing that a code can mean: a span of time and, as far as it says, what made the can. */
export const codeMeaning = z.object({
  /** From the first moment that the code names up to, not including, `until`. */
  from: moment, until: moment, precision: z.enum(['day', 'shift', 'hour', 'minute']),
  lineId: id, line: z.string(), lineName: z.string(), laneId: id.nullable(), lane: z.string().nullable(),
  machineId: id.nullable(), machine: z.string().nullable(), unitId: id.nullable(), unit: z.string().nullable(), shift: z.string().nullable(),
  cautions: z.array(z.enum(['year-taken', 'clock-set-back', 'before-first-record', 'mark-missing', 'shift-unknown', 'shift-differs'])),
  /** Null while the pattern is only tried. */
  patternId: id.nullable(), codedAtStepId: id, codedAtStepKind: z.string(), clockMinutes: finite,
}).meta({ id: 'CodeMeaning' });
export type CodeMeaning = z.infer<typeof codeMeaning>;

const refused = { patternId: id.nullable(), pattern: z.string(), line: z.string() };
/** Why a pattern gives the code no meaning. `position` counts the characters of the code without blanks, from 1. */
export const codeRefusal = z.discriminatedUnion('kind', [
  z.object({ ...refused, kind: z.literal('does-not-fit'), position: z.number().int(), expected: z.string(), found: z.string() }),
  z.object({ ...refused, kind: z.enum(['no-such-day', 'no-such-time', 'skipped-by-the-clock', 'after-receipt', 'not-in-force']), named: z.string() }),
]);
export type CodeRefusal = z.infer<typeof codeRefusal>;
const decoding = { meanings: z.array(codeMeaning), refusals: z.array(codeRefusal) };

export const canCodePattern = z.object({
  id, lineId: id, line: z.string(), pattern: z.string(), codedAtStepId: id, codedAtStepKind: z.string(), clockMinutes: finite,
  effectiveFrom: moment,
  /** Until the next one of the line, or until it was retired; null = no end is known. */
  effectiveUntil: moment.nullable(), state: z.enum(['in-force', 'planned', 'superseded', 'retired']),
  example: z.string(), author: z.string(), createdAt: moment,
  /** Why it was made, and by whom and why it was retired; empty where nobody said, or where it was not. */
  reason: z.string(), retiredAt: moment.nullable(), retiredBy: z.string(), retiredReason: z.string(),
}).meta({ id: 'CanCodePattern' });
export type CanCodePattern = z.infer<typeof canCodePattern>;

export const listCanCodePatterns = endpoint({
  method: 'GET', path: '/api/can-codes/patterns', feature: 'can-codes', access: readers,
  summary: 'How the lines write their can codes, every version, newest first', answer: z.object({ patterns: z.array(canCodePattern) }),
});

const tried = { lineId: id, pattern: patternText, codedAtStepId: id };
export const previewCanCode = endpoint({
  method: 'POST', path: '/api/can-codes/preview', feature: 'can-codes', access: engineers,
  summary: 'Try a pattern on a code before it is saved', description: 'Stores nothing. `fault` names the place in the pattern; `printed` is what a can made now would carry.',
  body: z.object({ ...tried, example: z.string().trim().max(60).default(''), clockMinutes: clockMinutes.default(2) }),
  answer: z.object({ fault: z.object({ position: z.number().int(), expected: z.string() }).nullable(), printed: z.array(z.string()), ...decoding }), problems: ['not-found'],
});

export const saveCanCodePattern = endpoint({
  method: 'POST', path: '/api/can-codes/patterns', feature: 'can-codes', access: engineers, status: 201,
  summary: 'Let a line write its codes by a pattern from a moment on', description: 'Carries an example and the meaning that the person saw and confirmed: refused when the pattern reads it differently.',
  body: z.object({
    ...tried, clockMinutes: clockMinutes.default(2), effectiveFrom: moment, example: canCode, reason: z.string().trim().max(2000).default(''),
    confirmed: z.object({ from: moment, until: moment, laneId: id.nullable(), machineId: id.nullable(), unitId: id.nullable() }),
  }),
  answer: z.object({ id }), problems: ['not-found', 'already-there', 'wrong-state'],
});
export const retireCanCodePattern = endpoint({
  method: 'POST', path: '/api/can-codes/patterns/:id/retire', feature: 'can-codes', access: engineers,
  summary: 'Retire a pattern: cans made from now on do not carry it', description: 'Codes from before stay readable.', params: idParams, body: z.object({ reason: z.string().trim().min(3, 'at least 3 characters').max(2000) }),
  answer: z.object({ id }), problems: ['not-found', 'wrong-state'],
});

export const decodeCanCode = endpoint({
  method: 'GET', path: '/api/can-codes/decode', feature: 'can-codes', access: readers,
  summary: 'Everything that a can code can mean in this plant, and why not', description: 'Several meanings are all given: ask on the can or the customer, do not guess.',
  query: z.object({ code: canCode, receivedAt: moment, lineId: idText.optional() }),
  answer: z.object({ ...decoding, /** Patterns that were tried; 0 = none is set up. */ tried: z.number().int() }),
});
