import type { PackGauge } from '../../packs/pack-content.js';
import { calibrationState } from '../../studies/gauge-standing.js';

/**
 * Whether a gauge was past its calibration, or had failed one, when a reading was taken, and when it had been due; null
 * where it was not. As `findCalibrationAt` reads it: the last calibration before the reading, before the first one on
 * record the due date that stood then, with none the one of the set-up.
 */
export function outOfCalibration({ calibrations, calibrationDue }: PackGauge, takenAt: string): { dueAt: string | null } | null {
  const last = calibrations.findLast(({ calibratedAt }) => calibratedAt <= takenAt);
  const [first] = [...calibrations].sort((a, b) => a.id - b.id);
  const dueAt = last ? last.dueAt : first ? first.previousDue : calibrationDue;
  const state = calibrationState({ result: last?.result ?? null, dueAt: dueAt === null ? null : new Date(dueAt) }, new Date(takenAt));
  return state === 'overdue' || state === 'failed' ? { dueAt } : null;
}
