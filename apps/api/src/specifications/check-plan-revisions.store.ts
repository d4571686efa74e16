import { type CheckPlanRevision, checkPlanRevision, type PlannedSheet } from '#contract/check-plans';
import type { Tx } from '../platform/work.js';

type PlanRow = Omit<PlannedSheet, 'retired'> & { retiredAt: Date | null };

/** What a revision keeps of a plan; machine and product never change. */
export const sheetOf = ({ name, cans, perUnit, perLane, positions, characteristics, everyMinutes, intervalSource, everyCans, cansSource, unitsEachTime, openedBy, longStopMinutes, eventsSource, retiredAt }: PlanRow): PlannedSheet =>
  ({ name, cans, perUnit, perLane, positions, characteristics, everyMinutes, intervalSource, everyCans, cansSource, unitsEachTime, openedBy, longStopMinutes, eventsSource, retired: retiredAt !== null });

/** Writes one revision; one that is on record stays as it is. */
export async function insertPlanRevision(tx: Tx, plantId: number, planId: number, { revision, at, author, reason, plan }: { revision: number; at: Date; author: string; reason: string; plan: PlannedSheet }): Promise<void> {
  await tx.$executeRaw`
    INSERT INTO check_plan_revision (plant_id, plan_id, revision, at, author, reason, plan)
    VALUES (${plantId}, ${planId}, ${revision}, ${at}, ${author}, ${reason}, ${JSON.stringify(plan)}::jsonb) ON CONFLICT DO NOTHING`;
}

/** Newest first. */
export async function listPlanRevisions(tx: Tx, plantId: number, planId: number): Promise<CheckPlanRevision[]> {
  const rows = await tx.checkPlanRevision.findMany({ where: { plantId, planId }, orderBy: { revision: 'desc' } });
  return rows.map(({ revision, at, author, reason, plan }) => checkPlanRevision.parse({ revision, at: at.toISOString(), author, reason, plan }));
}
