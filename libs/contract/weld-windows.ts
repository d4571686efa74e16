import { z } from 'zod';
import { endpoint } from './endpoint.js';
import { engineers, readers } from './roles.js';
import { finite, id, idText, moment } from './shapes.js';

/** At one welder, or at every welder of a line; the window of the machine goes before that of its line, one for the product before one for any. */
export const weldWindowScope = z.object({
  place: z.discriminatedUnion('kind', [z.object({ kind: z.literal('machine'), machineId: id }), z.object({ kind: z.literal('line'), lineId: id })]),
  productId: id.nullable(), characteristicId: id,
});
export type WeldWindowScope = z.infer<typeof weldWindowScope>;

const text = (most: number) => z.string().trim().max(most, `at most ${most} characters`);
const setting = finite.min(0, '0 or more').max(1e6, 'at most 1,000,000');
/** What the test proved. Limits are in the unit of the characteristic; `nearEdge` is percent of the width. */
export const testedWindow = z.object({
  lower: setting, upper: setting, nearEdge: finite.min(0, '0 or more').max(50, 'at most 50'),
  /** Plate, speed (m/min) and wire that it was tested with; a window belongs to them. */
  material: text(200), speed: finite.positive('above 0').max(500, 'at most 500 m/min').nullable(), wire: text(200),
  testedAt: moment, testedBy: text(80).min(1, 'who made the test'), evidence: text(2000).min(3, 'what the test showed, at least 3 characters'),
});
export type TestedWindow = z.infer<typeof testedWindow>;

const named = z.object({ id, code: z.string() });
export const weldWindow = z.object({
  id, scope: weldWindowScope,
  /** Names of what the scope refers to. */
  line: named, machine: named.nullable(), product: named.nullable(), characteristic: named.extend({ name: z.string(), unit: z.string(), decimals: z.number().int() }),
  version: z.number().int().positive(),
  /** Null: this version took the window back. */
  window: testedWindow.nullable(),
  effectiveFrom: moment, author: z.string(), at: moment, reason: z.string(),
}).meta({ id: 'WeldWindow' });
export type WeldWindow = z.infer<typeof weldWindow>;

export const listWeldWindows = endpoint({
  method: 'GET', path: '/api/weld-windows', feature: 'specifications', access: readers,
  summary: 'Windows of the welding setting that the plant proved by test: every version, newest first within each place',
  answer: z.object({ windows: z.array(weldWindow) }),
});

export const writeWeldWindow = endpoint({
  method: 'POST', path: '/api/weld-windows', feature: 'specifications', access: engineers, status: 201,
  summary: 'Write a new version of a tested weld window',
  description: 'Versions are never edited; `window` null takes the window back. `after` is the version that the person saw, 0 for none: another one by now refuses it. It informs; the welding trials of the plant decide what is welded.',
  body: z.object({ scope: weldWindowScope, window: testedWindow.nullable(), effectiveFrom: moment, reason: text(1000).min(3, 'a reason of at least 3 characters'), after: z.number().int().nonnegative() }),
  answer: weldWindow, problems: ['not-found', 'changed-meanwhile'],
});

const place = z.object({ value: finite, percent: finite.describe('0 at the lower limit, 100 at the upper one; not cut off'), zone: z.enum(['below', 'near-lower', 'inside', 'near-upper', 'above']), toLower: finite, toUpper: finite });
export const weldPosition = z.object({
  checkId: id, takenAt: moment, when: z.enum(['in', 'before', 'after']).describe('against the span that was asked for'),
  machine: z.string(), machineUnit: z.string().nullable(), lane: z.string().nullable(),
  characteristic: z.object({ code: z.string(), name: z.string(), unit: z.string(), decimals: z.number().int() }), n: z.number().int(), lowest: finite, highest: finite,
  /** Lowest and highest reading in the window that held when the cans were picked; null: no tested window. */
  tested: z.object({ window: weldWindow, lowest: place, highest: place }).nullable(),
  /** The last change of coil between the test and the check: the window says nothing about this coil. */
  coilSince: z.object({ at: moment, text: z.string() }).nullable(),
}).meta({ id: 'WeldPosition' });
export type WeldPosition = z.infer<typeof weldPosition>;

export const listWeldPositions = endpoint({
  method: 'GET', path: '/api/weld-positions', feature: 'inspections', access: readers,
  summary: 'Where recorded welding settings stand in the tested window: of one check, or of a machine in a span with the last one before and the next one after it',
  query: z.object({ check: idText.optional(), machine: idText.optional(), from: moment.optional(), until: moment.optional() }).superRefine(({ check, machine, from, until }, context) => {
    const bySpan = machine !== undefined && from !== undefined && until !== undefined;
    if ((check !== undefined) === bySpan || (check !== undefined && (machine ?? from ?? until) !== undefined)) context.addIssue({ code: 'custom', path: ['check'], message: 'either check, or machine with from and until' });
    if (bySpan && Date.parse(from) > Date.parse(until)) context.addIssue({ code: 'custom', path: ['until'], message: 'a moment not before from' });
  }),
  answer: z.object({ positions: z.array(weldPosition), more: z.boolean().describe('true: the span holds more than are listed') }), problems: ['not-found'],
});
