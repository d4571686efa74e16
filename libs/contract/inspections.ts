import { z } from 'zod';
import { endpoint } from './endpoint.js';
import { readers, recorders } from './roles.js';
import { code, finite, id, longText, moment } from './shapes.js';

/** Readings of one characteristic over the check's cans and positions: can by can, position by position; null is a missing reading. */
export const readings = z.array(finite.nullable()).max(5000);

export const newCheck = z.object({
  /** Chosen by the sender, kept by the server: the same key and content stores once and answers the same. */
  key: z.string().trim().min(8).max(120),
  machineId: id,
  productId: id,
  planId: id.optional(),
  /** When the cans were picked. */
  takenAt: moment,
  inspector: z.string().trim().min(1).max(80).optional(),
  cans: z.array(z.object({ number: z.number().int().min(1).max(100_000), unitId: id.optional(), laneId: id.optional() })).min(1).max(200),
  positions: z.array(z.string().trim().min(1).max(40)).min(1).max(24),
  characteristics: z.array(z.object({ code, gaugeId: id.optional(), readings })).min(1).max(40),
  note: longText.optional(),
  /** Set after the person was asked: readings outside what the gauge or the can allows are stored as they are. */
  confirmed: z.boolean().default(false),
}).meta({ id: 'NewCheck' });
export type NewCheck = z.infer<typeof newCheck>;

export const verdictStatus = z.enum(['steady', 'signal', 'not-judged']);

export const subgroupVerdict = z.object({
  streamId: id,
  characteristic: z.string(), characteristicName: z.string(), unit: z.string(), decimals: z.number().int(),
  machineUnit: z.string().nullable(), lane: z.string().nullable(),
  takenAt: moment, sequence: z.number().int(),
  n: z.number().int(), mean: finite.nullable(), range: finite.nullable(), sd: finite.nullable(), low: finite.nullable(), high: finite.nullable(),
  formula: z.string().nullable(),
  limits: z.object({ id, lower: finite, centre: finite, upper: finite }).nullable(),
  status: verdictStatus,
  firings: z.array(z.object({ chart: z.enum(['mean', 'spread']), rule: z.string(), side: z.enum(['above', 'below']), signalId: id })),
  outsideSpecification: z.number().int(),
});
export type SubgroupVerdict = z.infer<typeof subgroupVerdict>;

export const checkVerdict = z.object({
  checkId: id,
  /** True when the key was known: nothing was stored this time. */
  repeated: z.boolean(),
  status: verdictStatus,
  subgroups: z.array(subgroupVerdict),
}).meta({ id: 'CheckVerdict' });
export type CheckVerdict = z.infer<typeof checkVerdict>;

export const recordCheck = endpoint({
  method: 'POST', path: '/api/checks', feature: 'inspections', access: recorders,
  summary: 'Log a check and get its verdict',
  description: 'One transaction stores the readings, derives overlap, butting and free space, forms a subgroup for each stream, judges it against the frozen limits and raises signals. Units: millimetres, percent or the unit of the characteristic.',
  status: 201, body: newCheck, answer: checkVerdict,
  problems: ['not-found', 'key-reused', 'implausible-reading'],
});

export const getCheckVerdict = endpoint({
  method: 'GET', path: '/api/checks/:id/verdict', feature: 'inspections', access: readers,
  summary: 'The verdict of a stored check', params: z.object({ id: z.coerce.number().int().positive() }), answer: checkVerdict, problems: ['not-found'],
});
