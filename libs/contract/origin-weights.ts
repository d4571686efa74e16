import { z } from 'zod';
import { endpoint } from './endpoint.js';
import { engineers, readers } from './roles.js';
import { code, finite, id, moment } from './shapes.js';

/** `weight`: share of such defects that begin there, 0 to 1. `units`: what a fault of one only sits on. */
export const originWeight = z.object({ step: code.describe('kind of step'), units: z.enum(['unit', 'lane', 'machine']), weight: finite });
export const originWeightsVersion = z.object({
  id, defect: z.string(), version: z.number().int().positive(),
  /** None = this version took the plant's weights back: those of the trade hold. */
  origins: z.array(originWeight), author: z.string(), at: moment, reason: z.string(),
}).meta({ id: 'OriginWeights' });
export type OriginWeightsVersion = z.infer<typeof originWeightsVersion>;

export const listOriginWeights = endpoint({
  method: 'GET', path: '/api/origin-weights', feature: 'traces', access: readers,
  summary: 'Where defects begin after this plant’s own experience: every version, newest first within each defect', answer: z.object({ versions: z.array(originWeightsVersion) }),
});

export const writeOriginWeights = endpoint({
  method: 'POST', path: '/api/origin-weights', feature: 'traces', access: engineers, status: 201,
  summary: 'Write a new version of where a defect begins in this plant',
  description: 'The tracer takes these shares instead of those of the trade (common practice, no source). They add up to 1; no origins take the plant’s version back. `after` is the version that the person saw, 0 for none. Rankings that were kept stay as they were.',
  body: z.object({ defect: code, origins: z.array(originWeight).max(20), reason: z.string().trim().min(3, 'a reason of at least 3 characters').max(1000), after: z.number().int().nonnegative() }),
  answer: originWeightsVersion, problems: ['not-found', 'changed-meanwhile'],
});
