import type { TraceOrigin } from '#contract/traces';
import { subjectParam, type TraceSubject } from './trace-subject.js';

/** A new hold of what is suspect by this origin: the span at its machine, what ended it, and whom it is for. The form adds the way on to the pallets. */
export function holdAddress({ suspect, machine, unit, lane, findings }: TraceOrigin, lineId: number, subject: TraceSubject): string {
  const moved = findings.find((finding) => finding.kind === 'shifted');
  const given: Record<string, string | number | null | undefined> = {
    lineId, machineId: machine.id, unitId: unit?.id, laneId: lane?.id, from: suspect?.from, until: suspect?.until,
    firstBad: moved?.firstBadAt, basis: suspect === null ? null : suspect.openEnded ? 'now' : 'next-good', ...subjectParam(subject),
  };
  return `/holds/new?${new URLSearchParams(Object.entries(given).flatMap(([name, value]) => (value === null || value === undefined ? [] : [[name, String(value)]])))}`;
}
