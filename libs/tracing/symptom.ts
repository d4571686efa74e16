import { priorOf } from './prior.js';
import type { Candidate } from './candidates.js';
import type { Evidence } from './evidence.js';
import type { StepWindow } from './origin.js';
import { factorOf, shiftEvidence } from './shift-evidence.js';
import type { StandardStream } from './standardise.js';

/** A cause further up the line moves the reading of the signal as its own machine would, this often. Common practice, no source. */
const CARRIES = 0.72;

/** Whether a fault there can have moved the reading of the signal: on its own machine or at a step before it. A complaint leaves all in. */
export function canHaveCaused({ step, machine }: Candidate, { seenAt, line }: Evidence): boolean {
  if (!seenAt) return true;
  const own = line.steps.findIndex(({ machines }) => machines.some(({ id }) => id === seenAt.machineId));
  if (own < 0) throw new RangeError(`traceOrigins: needs the machine of the signal on the line, ${seenAt.machineId} given`);
  const place = line.steps.findIndex(({ id }) => id === step.id);
  return place < own || (place === own && machine.id === seenAt.machineId);
}

/**
 * The reading that the signal is about, as evidence that earlier steps share: had it moved because of one of them, it would
 * have moved just as far. Without this the machine that shows a fault would be blamed for it. What speaks for one unit of the
 * machine alone stays evidence for that unit: a fault further up reaches all of them.
 * @returns null of a complaint, and where no reading of the characteristic lies in or next to the window
 */
export function symptomOf(evidence: Evidence, standard: readonly StandardStream[], windows: readonly StepWindow[]): { explainedBy: (candidate: Candidate) => number } | null {
  const { seenAt, line, complaint } = evidence;
  const own = line.steps.find(({ machines }) => machines.some(({ id }) => id === seenAt?.machineId));
  const window = windows.find(({ stepId }) => stepId === own?.id);
  if (!seenAt || !own || !window) return null;
  const streams = standard.filter(({ stream }) => stream.machineId === seenAt.machineId && stream.characteristic === seenAt.characteristic);
  const found = shiftEvidence(streams, window);
  if (!found) return null;
  const log = Math.log(1 - CARRIES + CARRIES * factorOf(found.logRatio));
  return {
    explainedBy: (candidate) => {
      if (candidate.step.id === own.id) return 0;
      // A step that such a defect carries on from is judged by the readings of later steps anyway, this one among them: not twice.
      const carries = candidate.pattern === 'all' || candidate.pattern === 'lot' || !standard.some(({ stream }) => stream.machineId === candidate.machine.id);
      return carries && priorOf(candidate, line, complaint, []).characteristics.includes(seenAt.characteristic) ? 0 : log;
    },
  };
}
