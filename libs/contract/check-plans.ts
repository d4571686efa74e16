import { z } from 'zod';
import { endpoint } from './endpoint.js';
import { readers } from './roles.js';
import { id, idParams, moment } from './shapes.js';

/** Line events that can make a check due at once; "long-stop" is a stop of at least `longStopMinutes`, due when it ends. */
export const planOpeners = ['start', 'jam', 'setting', 'tooling-set', 'coil-change', 'wire-change', 'roll-change', 'end-lot-change', 'long-stop'] as const;
export const planOpener = z.enum(planOpeners);
export type PlanOpener = z.infer<typeof planOpener>;

/** When a check of a plan falls due, beside its minutes: cans, units in rotation, events; and where each comes from. */
export const planDue = {
  everyCans: z.number().int().nullable(), cansSource: z.string(),
  /** So many units each time, those longest without a check first; null = all of them. */
  unitsEachTime: z.number().int().nullable(),
  openedBy: z.array(z.string()), longStopMinutes: z.number().int().nullable(), eventsSource: z.string(),
  revision: z.number().int(),
};

const source = z.string().trim().max(200);
/** Left out = as it was (for a new plan: none). */
export const planDueFields = {
  everyCans: z.number().int('whole cans').min(1, '1 can or more').max(100_000_000).nullable().optional(), cansSource: source.optional(),
  unitsEachTime: z.number().int('whole units').min(1, '1 unit or more').max(60).nullable().optional(),
  openedBy: z.array(planOpener).max(planOpeners.length).optional(), longStopMinutes: z.number().int('whole minutes').min(1, '1 minute or more').max(10_080, 'at most a week').nullable().optional(), eventsSource: source.optional(),
};

export const planReason = z.string().trim().min(3, 'a reason of at least 3 characters').max(1000);

/** What a plan said from one revision to the next. */
export const plannedSheet = z.object({
  name: z.string(), cans: z.number().int(), perUnit: z.boolean(), perLane: z.boolean(), positions: z.array(z.string()), characteristics: z.array(z.string()),
  everyMinutes: z.number().int().nullable(), intervalSource: z.string(), everyCans: z.number().int().nullable(), cansSource: z.string(),
  unitsEachTime: z.number().int().nullable(), openedBy: z.array(z.string()), longStopMinutes: z.number().int().nullable(), eventsSource: z.string(), retired: z.boolean(),
});
export type PlannedSheet = z.infer<typeof plannedSheet>;

/** Author of a state from before revisions were kept: nobody knows who wrote it. */
export const NOT_ON_RECORD = 'not on record';
export const checkPlanRevision = z.object({ revision: z.number().int(), at: moment, author: z.string(), reason: z.string(), plan: plannedSheet }).meta({ id: 'CheckPlanRevision' });
export type CheckPlanRevision = z.infer<typeof checkPlanRevision>;

export const listCheckPlanRevisions = endpoint({
  method: 'GET', path: '/api/check-plans/:id/revisions', feature: 'specifications', access: readers,
  summary: 'Every state of a check plan, newest first: what it said, who changed it, when and why',
  params: idParams, answer: z.object({ planId: id, revisions: z.array(checkPlanRevision) }), problems: ['not-found'],
});
