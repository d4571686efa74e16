import type { InputOf } from '#contract/endpoint';
import type { Calibration, recordCalibration } from '#contract/gauge-calibrations';
import { Problem } from '#contract/problem';
import { type Actor, record } from '../platform/audit.js';
import type { Tx, Work } from '../platform/work.js';
import { followCalibration, insertCalibration, listCalibrationRows } from './calibrations.store.js';
import { findGauge } from './gauges.store.js';

/** Keeps what a calibration found; the due date of the set-up follows the newest one. */
export function addCalibration(work: Work, actor: Actor & { userId: number }, gaugeId: number, body: InputOf<typeof recordCalibration>['body'], now: Date): Promise<{ id: number }> {
  return work.run(async (tx) => {
    const gauge = await findGauge(tx, actor.plantId, gaugeId);
    if (!gauge) throw new Problem('not-found', `There is no gauge ${gaugeId}.`);
    const calibratedAt = new Date(body.calibratedAt);
    if (calibratedAt.getTime() > now.getTime()) throw new Problem('invalid-input', undefined, [{ field: 'calibratedAt', expected: 'a moment that is not in the future' }]);
    const { result, certificate, calibratedBy, note } = body;
    const id = await insertCalibration(tx, actor.plantId, { gaugeId, calibratedAt, result, certificate, calibratedBy, note, dueAt: body.dueAt === null ? null : new Date(body.dueAt), previousDue: gauge.calibrationDue, enteredBy: actor.userId, enteredAt: now });
    await followCalibration(tx, actor.plantId, gaugeId);
    await record(tx, actor, 'gauge.calibrated', `gauge ${gaugeId}`, { before: { calibrationDue: gauge.calibrationDue }, after: { calibration: id, ...body } });
    return { id };
  });
}

/** @throws Problem not-found */
export async function calibrationsOf(tx: Tx, plantId: number, gaugeId: number): Promise<Calibration[]> {
  if (!(await findGauge(tx, plantId, gaugeId))) throw new Problem('not-found', `There is no gauge ${gaugeId}.`);
  return listCalibrationRows(tx, plantId, gaugeId);
}
