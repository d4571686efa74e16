import { calibrationResult, type Calibration } from '#contract/gauge-calibrations';
import type { Tx } from '../platform/work.js';

type NewRow = { gaugeId: number; calibratedAt: Date; result: string; certificate: string; calibratedBy: string; dueAt: Date | null; previousDue: Date | null; note: string; enteredBy: number; enteredAt: Date };

export async function insertCalibration(tx: Tx, plantId: number, row: NewRow): Promise<number> {
  return (await tx.gaugeCalibration.create({ data: { plantId, ...row }, select: { id: true } })).id;
}

/** The due date of the set-up follows the newest calibration. */
export async function followCalibration(tx: Tx, plantId: number, gaugeId: number): Promise<void> {
  await tx.$executeRaw`
    UPDATE gauge g SET calibration_due = CASE WHEN c.result = 'failed' THEN c.calibrated_at ELSE c.due_at END
    FROM (SELECT * FROM gauge_calibration WHERE plant_id = ${plantId} AND gauge_id = ${gaugeId} ORDER BY calibrated_at DESC, id DESC LIMIT 1) c
    WHERE g.plant_id = ${plantId} AND g.id = ${gaugeId}`;
}

export async function listCalibrationRows(tx: Tx, plantId: number, gaugeId: number): Promise<Calibration[]> {
  const rows = await tx.$queryRaw<(Omit<Calibration, 'calibratedAt' | 'dueAt' | 'enteredAt' | 'result'> & { result: string; calibratedAt: Date; dueAt: Date | null; enteredAt: Date })[]>`
    SELECT c.id, c.gauge_id AS "gaugeId", c.calibrated_at AS "calibratedAt", c.result, c.certificate, c.calibrated_by AS "calibratedBy", c.due_at AS "dueAt", c.note, u.name AS "enteredBy", c.entered_at AS "enteredAt"
    FROM gauge_calibration c JOIN "user" u ON u.plant_id = c.plant_id AND u.id = c.entered_by WHERE c.plant_id = ${plantId} AND c.gauge_id = ${gaugeId} ORDER BY c.calibrated_at DESC, c.id DESC LIMIT 200`;
  return rows.map((row) => ({ ...row, result: calibrationResult.parse(row.result), calibratedAt: row.calibratedAt.toISOString(), dueAt: row.dueAt?.toISOString() ?? null, enteredAt: row.enteredAt.toISOString() }));
}
