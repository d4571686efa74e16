import { z } from 'zod';
import { endpoint } from './endpoint.js';
import { cansBetween, gaugeFields, newCharacteristic, planFields, productFields, seconds } from './plant.js';
import { engineers, readers } from './roles.js';
import { code, finite, moment, shortText } from './shapes.js';
import { shiftView } from './shifts.js';

const retired = z.boolean().default(false);
const term = z.string().trim().min(1).max(80);
/** A step of the line, by its place in the list `steps` of the same line, from 1. */
const stepPlace = z.number().int().min(1).max(60);

const line = z.object({
  code, name: shortText, clockMinutes: z.number().min(0, 'minutes, 0 or more').max(120, 'two hours at most').default(2),
  lanes: z.array(z.object({ code, name: shortText })).max(4).default([]),
  steps: z.array(z.object({ kind: code, machines: z.array(z.object({ code, name: shortText, retired, units: z.array(code).max(60).default([]) })).max(60).default([]) })).max(60),
  stretches: z.array(z.object({ fromStep: stepPlace, toStep: stepPlace, shortestSeconds: seconds, longestSeconds: seconds, leastCans: cansBetween.default(null), mostCans: cansBetween.default(null) })).max(40).default([]),
});

/** How a plant is set up, by the codes that people use: no ids, no readings. The file of an export, and what an import takes. */
export const plantSetUp = z.object({
  format: z.literal(1, 'format 1'),
  /** Where it comes from; an import does not change the name or the time zone of a plant. */
  plant: z.object({ name: shortText, timeZone: z.string().max(60) }),
  lines: z.array(line).max(60).default([]),
  products: z.array(z.object({ code, ...productFields, retired })).max(2000).default([]),
  characteristics: z.array(newCharacteristic).max(500).default([]),
  gauges: z.array(z.object({ code, ...gaugeFields, retired })).max(1000).default([]),
  specifications: z.array(z.object({ product: code, characteristic: code, lsl: finite.nullable(), target: finite.nullable(), usl: finite.nullable(), effectiveFrom: moment })).max(20_000).default([]),
  checkPlans: z.array(z.object({ machine: code, product: code, ...planFields, retired })).max(5000).default([]),
  reactionPlans: z.array(z.object({ characteristic: code, stepKind: code, steps: z.array(z.string().trim().min(1).max(500)).min(1).max(30) })).max(2000).default([]),
  shifts: z.array(shiftView).max(30).default([]),
  synonyms: z.array(z.object({ preferred: term, others: z.array(term).min(1).max(40) })).max(2000).default([]),
  canCodes: z.array(z.object({ line: code, pattern: z.string().trim().min(1).max(200), codedAtStep: stepPlace, clockMinutes: z.number().min(0).max(1440), effectiveFrom: moment, example: z.string().trim().min(1).max(60) })).max(500).default([]),
}).meta({ id: 'PlantSetUp', title: 'Set-up of a can plant', description: 'Lengths in mm, times of shifts as the plant’s clocks show them, moments in ISO 8601 with zone.' });
export type PlantSetUp = z.output<typeof plantSetUp>;

/** The published JSON Schema (2020-12) of the file, as a writer of such files needs it: what has a default may be left out. */
export const plantSetUpSchema = (): Record<string, unknown> => ({ ...z.toJSONSchema(plantSetUp, { io: 'input', target: 'draft-2020-12' }) });

const text = z.string().nullable();
export const setUpChange = z.object({
  /** Which list of the file, and the row in it, from 0. */
  section: z.string(), row: z.number().int(), name: z.string(), act: z.enum(['make', 'change', 'propose']),
  fields: z.array(z.object({ field: z.string(), before: text, after: text })),
});
export const setUpReport = z.object({
  changes: z.array(setUpChange),
  /** Rows of the file that the plant has already, by list. */
  same: z.record(z.string(), z.number().int()),
}).meta({ id: 'PlantSetUpReport' });
export type SetUpReport = z.infer<typeof setUpReport>;
export type SetUpChange = z.infer<typeof setUpChange>;

const file = z.object({ setUp: plantSetUp, reason: z.string().trim().min(3, 'a reason of at least 3 characters').max(1000) });
const how = 'Rows are found again by their codes. What is missing is made, what differs is changed, nothing is removed; specifications are proposed and wait for their approval. Plans of single charts and people stay out. All or nothing; a refusal names the field by its path in the file.';

export const getPlantSetUp = endpoint({ method: 'GET', path: '/api/set-up', feature: 'portable', access: readers, summary: 'How the plant is set up, as one JSON file', answer: plantSetUp });
export const getPlantSetUpSchema = endpoint({ method: 'GET', path: '/api/set-up/schema', feature: 'portable', access: readers, summary: 'JSON Schema of that file', answer: z.record(z.string(), z.unknown()) });
export const previewPlantSetUp = endpoint({ method: 'POST', path: '/api/set-up/preview', feature: 'portable', access: engineers, summary: 'What importing a set-up file would make and change; nothing is stored', description: how, body: file, answer: setUpReport, problems: ['not-found', 'already-there', 'wrong-state'] });
export const importPlantSetUp = endpoint({ method: 'POST', path: '/api/set-up', feature: 'portable', access: engineers, summary: 'Import a set-up file', description: how, body: file, answer: setUpReport, problems: ['not-found', 'already-there', 'wrong-state', 'changed-meanwhile'] });
