import { z } from 'zod';
import { endpoint } from './endpoint.js';
import { made, specificationRevision } from './plant.js';
import { administrators, closers, readers } from './roles.js';
import { finite, id, idText, moment } from './shapes.js';
import { refusal } from './studies.js';

const number = finite.nullable();
const limits = { lsl: number, target: number, usl: number };
const side = z.object({ below: number, above: number });

export const specificationProposal = specificationRevision.extend({
  product: z.string(), characteristic: z.string(), unit: z.string(), decimals: z.number().int(),
  author: z.string(), authorId: id,
  /** SHA-256 of the revision, sent back with the approval, so that nobody approves what they did not see. */
  contentHash: z.string(),
});
export type SpecificationProposal = z.infer<typeof specificationProposal>;

export const listProposals = endpoint({
  method: 'GET', path: '/api/specifications/proposed', feature: 'specifications', access: readers,
  summary: 'Revisions of specifications that wait for approval, of all products', answer: z.array(specificationProposal),
});

export const decideSpecification = endpoint({
  method: 'POST', path: '/api/specifications/:id/decision', feature: 'specifications', access: closers, status: 201,
  summary: 'Approve or reject a proposed revision of a specification',
  description: 'Approval is signed with the password by a second person (unless the plant has switched that off), and holds from the date that the revision states. A rejection needs a comment of at least 3 characters; the revision stays readable and never judges anything. Decided once.',
  params: z.object({ id: idText }),
  body: z.discriminatedUnion('decision', [
    z.object({ decision: z.literal('approved'), contentHash: z.string().regex(/^[0-9a-f]{64}$/, '64 digits of 0-9 and a-f'), password: z.string().min(1, 'the password').max(200), comment: z.string().trim().max(2000).default('') }),
    z.object({ decision: z.literal('rejected'), comment: z.string().trim().min(3, 'a comment of at least 3 characters').max(2000) }),
  ]),
  answer: made, problems: ['not-found', 'wrong-credentials', 'too-many-attempts', 'changed-meanwhile', 'wrong-state'],
});

/** One stream's readings against one pair of limits. Shares are of readings, 0 to 1; null where there is no limit on that side. */
export const underLimits = z.object({ cp: number, cpk: number, pp: number, ppk: number, ppkLowerBound: number, shareBelow: number, shareAbove: number, expectedPpm: side.nullable(), refusal: refusal.nullable() });
export const specificationEffect = z.object({
  from: moment, to: moment,
  before: z.object({ revision: z.number().int(), ...limits }).nullable(), after: z.object(limits),
  unit: z.string(), decimals: z.number().int(),
  streams: z.array(z.object({ streamId: id, machine: z.string(), machineUnit: z.string().nullable(), lane: z.string().nullable(), readings: z.number().int(), stability: z.enum(['stable', 'not-stable', 'not-judged']), before: underLimits, after: underLimits })),
}).meta({ id: 'SpecificationEffect' });
export type SpecificationEffect = z.infer<typeof specificationEffect>;

export const previewSpecification = endpoint({
  method: 'POST', path: '/api/specifications/preview', feature: 'specifications', access: readers,
  summary: 'What other specification limits would have said about the last days; nothing is stored',
  description: 'The readings of the last `days` days of every stream of the product and characteristic, under the limits in force at their end and under the given ones: indices, and the share of readings beyond each side. Which of them holds from when on is decided by the approval, never here.',
  body: z.object({ productId: id, characteristicId: id, ...limits, days: z.number().int().min(1, 'days from 1 to 730').max(730, 'days from 1 to 730').default(90) })
    .refine(({ lsl, usl }) => lsl !== null || usl !== null, { path: ['lsl'], message: 'a lower or an upper specification limit, or both' })
    .refine(({ lsl, usl }) => lsl === null || usl === null || lsl < usl, { path: ['usl'], message: 'more than the lower limit' })
    .refine(({ lsl, target, usl }) => target === null || ((lsl === null || target > lsl) && (usl === null || target < usl)), { path: ['target'], message: 'a value between the limits' }),
  answer: specificationEffect, problems: ['not-found', 'too-little-data'],
});

export const setSecondPerson = endpoint({
  method: 'PUT', path: '/api/approvals', feature: 'plant', access: administrators,
  summary: 'Say whether a specification needs a second person to approve it',
  description: 'Off is for a plant with a single engineer: the author then approves with their own password, and the record shows that it was the same person.',
  body: z.object({ secondPerson: z.boolean(), reason: z.string().trim().min(3, 'a reason of at least 3 characters').max(1000) }), answer: z.object({ secondPerson: z.boolean() }),
});
