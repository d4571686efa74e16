import { z } from 'zod';
import { endpoint } from './endpoint.js';
import { engineers, readers } from './roles.js';
import { id, idText, moment } from './shapes.js';

/** For one chart, or for a characteristic at every machine of a kind of step; the plan of the chart goes before. */
export const reactionScope = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('stream'), streamId: id }),
  z.object({ kind: z.literal('step'), characteristicId: id, stepKind: z.string().trim().min(1).max(40) }),
]);
export type ReactionScope = z.infer<typeof reactionScope>;

export const reactionPlan = z.object({
  id, scope: reactionScope,
  /** Names of what the scope refers to. */
  characteristic: z.string(), stepKind: z.string(), machine: z.string().nullable(), unit: z.string().nullable(),
  version: z.number().int().positive(),
  /** In order; none = this version took the plan back. */
  steps: z.array(z.string()),
  author: z.string(), at: moment, reason: z.string(),
}).meta({ id: 'ReactionPlan' });
export type ReactionPlan = z.infer<typeof reactionPlan>;

export const listReactionPlans = endpoint({
  method: 'GET', path: '/api/reaction-plans', feature: 'specifications', access: readers,
  summary: 'Reaction plans that the plant wrote: the newest version of each, or every version of the one that holds for a stream',
  query: z.object({ stream: idText.optional(), history: z.enum(['true', 'false']).optional() }),
  answer: z.object({ plans: z.array(reactionPlan) }), problems: ['not-found'],
});

export const writeReactionPlan = endpoint({
  method: 'POST', path: '/api/reaction-plans', feature: 'specifications', access: engineers, status: 201,
  summary: 'Write a new version of a reaction plan', description: 'Versions are never edited; no steps take the plan back. `after` is the version that the person saw, 0 for none: another one by now refuses it. The plan informs; it never releases product.',
  body: z.object({ scope: reactionScope, steps: z.array(z.string().trim().min(1, 'a step in words').max(500, 'at most 500 characters')).max(30), reason: z.string().trim().min(3, 'a reason of at least 3 characters').max(1000), after: z.number().int().nonnegative() }),
  answer: reactionPlan, problems: ['not-found', 'changed-meanwhile'],
});
