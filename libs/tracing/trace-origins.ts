import { type Candidate, candidatesOf } from './candidates.js';
import type { Evidence } from './evidence.js';
import { type Lot, lotsOn } from './lots.js';
import { missedChecks } from './missed-checks.js';
import { onsetEvidence } from './onset-evidence.js';
import type { Finding, Origin, StepWindow, Trace } from './origin.js';
import { type Prior, priorOf } from './prior.js';
import { readingsEvidence } from './readings-evidence.js';
import { standardise, type StandardStream } from './standardise.js';
import { canHaveCaused, symptomOf } from './symptom.js';
import { stepWindows } from './step-windows.js';
import { logSum, type Span } from './shift-evidence.js';

/** A fault that leaks out was more often one that no check could see. Common practice, no source. */
const MISSED = Math.log(1.3);

/**
 * Where the fault of a complaint most likely began. Each machine, unit, half of a body, every-n-th-body fault and material lot of the line
 * is weighed by Bayes' rule: share of such defects that begin there (common practice), marks on the can, the likelihood of the
 * readings while the cans passed under a shift against under the limits, entries of the log book where a fault can have begun,
 * and checks that were due and are missing. The shares add up to 1 over all candidates: exactly one of them is taken as true.
 * Of a signal (`seenAt`) only its machine and the steps before it are candidates.
 * @throws RangeError when the line has no steps, the complaint ends before it begins, or the machine of the signal is not of the line
 */
export function traceOrigins(evidence: Evidence): Trace {
  const { line, complaint } = evidence;
  if (line.steps.length === 0) throw new RangeError('traceOrigins: needs a line with steps, none given');
  if (!(complaint.until >= complaint.from)) throw new RangeError(`traceOrigins: needs a complaint that ends after it begins, ${complaint.from} to ${complaint.until} given`);
  const windows = stepWindows(evidence);
  return { windows, origins: rankOrigins(evidence, windows) };
}

/** The ranking alone, where it is known when the cans passed each step; likeliest first. */
export function rankOrigins(evidence: Evidence, windows: readonly StepWindow[]): Origin[] {
  const { line } = evidence;
  const standard = evidence.streams.flatMap((stream) => standardise(stream) ?? []);
  const symptom = symptomOf(evidence, standard, windows);
  const lots = lotsOn(evidence, windows);
  const weighed = candidatesOf(line, lots).filter((candidate) => canHaveCaused(candidate, evidence)).map((candidate) => {
    const window = windows.find(({ stepId }) => stepId === candidate.step.id) as StepWindow;
    const { log, ...rest } = weigh(candidate, window, windows, evidence, standard, lots);
    return { candidate, log: log + (symptom?.explainedBy(candidate) ?? 0), ...rest };
  });
  const whole = logSum(weighed.map(({ log }) => log));
  const origins = weighed.map(({ candidate: { step, machine, unitId, laneId, pattern, lot }, log, enoughData, findings }): Origin => ({
    stepId: step.id, stepKind: step.kind, machineId: machine.id, unitId, laneId, pattern, lotEventId: lot?.eventId ?? null, share: Math.exp(log - whole), enoughData, findings,
  }));
  return origins.sort((a, b) => b.share - a.share);
}

function weigh(candidate: Candidate, window: Span, windows: readonly StepWindow[], evidence: Evidence, standard: readonly StandardStream[], lots: readonly Lot[]): { log: number; enoughData: boolean; findings: Finding[] } {
  const { line, complaint, events, signals, now } = evidence;
  const prior = priorOf(candidate, line, complaint, lots);
  const readings = readingsEvidence(candidate, standard, prior.characteristics, window, windows, line);
  const records = { from: Math.min(window.from, ...evidence.checks.map(({ at }) => at)), until: now };
  const entry = readings.onset ? onsetEvidence(events, candidate.machine.id, readings.onset, records) : null;
  const missed = missedChecks(evidence, candidate.machine.id, window);
  const moved = new Set(readings.findings.flatMap((finding) => (finding.kind === 'shifted' || finding.kind === 'periodic' ? finding.streamIds : [])));
  const firing = signals.filter(({ streamId, firstAt, lastAt }) => moved.has(streamId) && firstAt <= window.until + DAY && lastAt >= window.from - DAY);
  const log = Math.log(prior.share) + marks(prior) + readings.logRatio + (entry?.logRatio ?? 0) + (missed.length > 0 ? MISSED : 0);
  return {
    log, enoughData: readings.enoughData,
    findings: [
      ...readings.findings,
      ...(entry === null ? [] : [entry.eventId === null ? { kind: 'no-entry', times: Math.exp(entry.logRatio) } as const : { kind: 'entry', eventId: entry.eventId, at: entry.at, times: Math.exp(entry.logRatio) } as const]),
      ...(firing.length > 0 ? [{ kind: 'signals', signalIds: firing.map(({ id }) => id) } as const] : []),
      ...missed.map((gap) => ({ kind: 'missed-checks', ...gap }) as const),
      ...markFindings(candidate, prior, evidence),
      ...(candidate.lot === null || prior.material === null ? [] : [{ kind: 'material', material: candidate.lot.material, share: prior.material } as const]),
      { kind: 'taxonomy', share: prior.step },
    ],
  };
}

const DAY = 86_400_000;
const marks = ({ unitMark, laneMark }: Prior): number => Math.log(unitMark ?? 1) + Math.log(laneMark ?? 1);

function markFindings({ unitId, laneId }: Candidate, { unitMark, laneMark }: Prior, { complaint, line }: Evidence): Finding[] {
  return [
    ...(unitMark !== null && unitId !== null ? [{ kind: 'mark', of: 'unit', fits: unitId === complaint.unitId, times: unitMark * unitsBeside(line, unitId) } as const] : []),
    ...(laneMark !== null && laneId !== null ? [{ kind: 'mark', of: 'lane', fits: laneId === complaint.laneId, times: laneMark * line.lanes.length } as const] : []),
  ];
}

const unitsBeside = (line: Evidence['line'], unitId: number): number => line.steps.flatMap(({ machines }) => machines).find(({ units }) => units.some(({ id }) => id === unitId))?.units.length ?? 1;
