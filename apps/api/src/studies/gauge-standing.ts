import type { GaugeStanding } from '#contract/gauge-standing';
import type { Tx } from '../platform/work.js';
import { findApprovedGaugeStudy, findCalibrationAt, type CalibrationAt } from './gauge-standing.store.js';

export type StandingQuestion = { gaugeId: number | null; characteristicId: number; at: Date };

/**
 * Was the gauge in calibration at that moment, and is there an approved study of it for this characteristic? A study
 * may be younger than the readings: its approval time is told. Without a gauge (ratings by eye) only the study is asked for.
 * @returns null where this plant has no such gauge
 */
export async function gaugeStanding(tx: Tx, plantId: number, { gaugeId, characteristicId, at }: StandingQuestion): Promise<GaugeStanding | null> {
  const [found, study] = [gaugeId === null ? null : await findCalibrationAt(tx, plantId, gaugeId, at), await findApprovedGaugeStudy(tx, plantId, gaugeId, characteristicId)];
  if (gaugeId !== null && found === null) return null;
  const text = (moment: Date | null | undefined) => moment?.toISOString() ?? null;
  return {
    gauge: found && { id: found.id, code: found.code, name: found.name }, at: at.toISOString(),
    calibration: found === null ? 'no-gauge' : calibrationState(found, at),
    calibratedAt: text(found?.calibratedAt), dueAt: text(found?.dueAt), certificate: found?.certificate ?? null,
    study: study && { ...study, approvedAt: study.approvedAt.toISOString() },
  };
}

/** The last calibration before the moment decides; where none is on record, the due date of the set-up. */
export function calibrationState({ result, dueAt }: Pick<CalibrationAt, 'result' | 'dueAt'>, at: Date): GaugeStanding['calibration'] {
  if (result === 'failed') return 'failed';
  if (dueAt === null) return 'not-known';
  return dueAt.getTime() < at.getTime() ? 'overdue' : 'in-calibration';
}
