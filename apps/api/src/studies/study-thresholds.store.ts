import type { StudyThresholds } from '#contract/gauge-studies';
import type { Tx } from '../platform/work.js';

export async function findThresholds(tx: Tx, plantId: number): Promise<(StudyThresholds & { setBy: string; setAt: string; reason: string }) | null> {
  const [row] = await tx.$queryRaw<(StudyThresholds & { setBy: string; setAt: Date; reason: string })[]>`
    SELECT t.gauge_accept AS "gaugeAccept", t.gauge_reject AS "gaugeReject", t.categories, t.kappa_accept AS "kappaAccept", t.kappa_reject AS "kappaReject", t.source, t.reason, u.name AS "setBy", t.created_at AS "setAt"
    FROM study_threshold t JOIN "user" u ON u.plant_id = t.plant_id AND u.id = t.author_id WHERE t.plant_id = ${plantId} ORDER BY t.id DESC LIMIT 1`;
  return row ? { ...row, setAt: row.setAt.toISOString() } : null;
}

export async function insertThresholds(tx: Tx, plantId: number, row: StudyThresholds & { reason: string; authorId: number; createdAt: Date }): Promise<void> {
  await tx.studyThreshold.create({ data: { plantId, ...row } });
}
