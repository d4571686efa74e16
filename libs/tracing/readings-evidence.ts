import type { Candidate } from './candidates.js';
import { carriedOn, isDerived } from './carried-on.js';
import type { Evidence } from './evidence.js';
import { lotEvidence } from './lot-evidence.js';
import type { Finding, StepWindow } from './origin.js';
import { periodicEvidence } from './periodic-evidence.js';
import { factorOf, logSum, type ShiftEvidence, shiftEvidence, type Span } from './shift-evidence.js';
import type { StandardStream } from './standardise.js';

export type ReadingsEvidence = {
  readonly logRatio: number;
  readonly enoughData: boolean;
  readonly findings: readonly Finding[];
  /** Where the fault can have begun: between the last good and the first bad point; null without a shift. */
  readonly onset: Span | null;
};

const HOUR = 3_600_000;
/** How a fault shows: in what its kind moves, in something else measured there, or in nothing that is measured. Common practice, no source. */
const [IN_ITS_OWN, ELSEWHERE] = [0.72, 0.16];
/** Of what such a fault may move, each thing besides the first moves with it so often. Common practice, no source. */
const ALSO = 0.3;
/** Stretches of time around the window in which every n-th body may have been off. */
const AROUND = [1, 4, 12, 36];
const STEADY = 0.5;

/**
 * Weighs the readings of a candidate: one or several of the characteristics in which it shows may have moved, or another one alone,
 * or none that is measured; and what it moves at later steps.
 * @param expected codes of the characteristics in which such a defect from that step shows
 */
export function readingsEvidence(candidate: Candidate, standard: readonly StandardStream[], expected: readonly string[], window: Span, windows: readonly StepWindow[], line: Evidence['line']): ReadingsEvidence {
  const groups = groupsOf(candidate, standard, expected);
  const looked = groups.flatMap((group) => look(candidate, group.streams, window, line).map((found) => ({ ...group, ...found })));
  const [own, other] = [looked.filter(({ characteristic }) => expected.includes(characteristic)), looked.filter(({ characteristic }) => !expected.includes(characteristic))];
  const ownShare = own.length > 0 ? IN_ITS_OWN : 0;
  const otherShare = other.length > 0 ? ELSEWHERE : 0;
  const carried = carriedOn(candidate, standard, expected, windows);
  const parts = [
    Math.log(1 - ownShare - otherShare) + carried.unseen, ...(ownShare > 0 ? [Math.log(ownShare) + severalAtOnce(own) + carried.seen] : []),
    ...other.map(({ log }) => log + Math.log(otherShare / other.length) + carried.unseen),
  ];
  const best = [...own, ...other].reduce<(typeof looked)[number] | null>((most, each) => (most === null || each.log > most.log ? each : most), null);
  const findings = looked.flatMap(({ characteristic, streams, log, shift, periodic }): Finding[] => {
    const about = { characteristic, streamIds: streams.map(({ stream }) => stream.id), times: factorOf(log) };
    if (periodic) return log > 1 ? [{ kind: 'periodic', ...about, period: periodic.period, size: periodic.size, members: periodic.members }] : [];
    if (!shift) return [];
    const { size, points, lastGoodAt, firstBadAt, lastBadAt, nextGoodAt } = shift;
    if (log > 1) return [{ kind: 'shifted', ...about, size, points, lastGoodAt, firstBadAt, lastBadAt, nextGoodAt }];
    return expected.includes(characteristic) && about.times < STEADY ? [{ kind: 'steady', ...about, points }] : [];
  });
  const missing = expected.filter((code) => !looked.some(({ characteristic }) => characteristic === code));
  return {
    logRatio: logSum(parts), enoughData: own.length > 0,
    findings: [...findings.sort((a, b) => times(b) - times(a)), ...(own.length === 0 && missing.length > 0 ? [{ kind: 'no-readings', characteristics: missing } as const] : [])],
    onset: candidate.lot === null && best?.shift && best.log > 1 ? { from: best.shift.lastGoodAt ?? best.shift.firstBadAt - 24 * HOUR, until: best.shift.firstBadAt } : null,
  };
}

/** One of them moved, and each of the others besides by a chance of its own. */
function severalAtOnce(looked: readonly { readonly characteristic: string; readonly log: number }[]): number {
  const besides = looked.map(({ characteristic, log }) => (isDerived(characteristic) ? 0 : Math.log(1 - ALSO + ALSO * factorOf(log))));
  const all = besides.reduce((sum, log) => sum + log, 0);
  return logSum(looked.map(({ characteristic, log }, i) => (isDerived(characteristic) ? log : log + all - (besides[i] as number)))) - Math.log(looked.length);
}

type Group = { readonly characteristic: string; readonly streams: readonly StandardStream[] };
type Look = { readonly log: number; readonly shift: ShiftEvidence | null; readonly periodic: { period: number; size: number; members: number } | null; /** Those that moved, where it is not all of the group. */ readonly streams?: readonly StandardStream[] };

/** The streams that would move together: of the unit or half where they are kept apart, else those of the machine; a step without readings of its own shows in the next one that has them. */
function groupsOf({ step, machine, unitId, laneId }: Candidate, standard: readonly StandardStream[], expected: readonly string[]): Group[] {
  const here = standard.filter(({ stream }) => stream.machineId === machine.id);
  const pool = here.length > 0 ? here : standard.filter(({ stream }) => stream.stepKind !== step.kind && expected.includes(stream.characteristic));
  return [...new Set(pool.map(({ stream }) => stream.characteristic))].flatMap((characteristic) => {
    const all = pool.filter(({ stream }) => stream.characteristic === characteristic);
    const apart = unitId !== null ? all.filter(({ stream }) => stream.unitId === unitId) : laneId !== null ? all.filter(({ stream }) => stream.laneId === laneId) : all;
    const together = unitId !== null ? all.filter(({ stream }) => stream.unitId === null) : laneId !== null ? all.filter(({ stream }) => stream.laneId === null) : [];
    const streams = apart.length > 0 ? apart : together;
    return streams.length > 0 ? [{ characteristic, streams }] : [];
  });
}

function look({ pattern, machine, lot }: Candidate, streams: readonly StandardStream[], window: Span, line: Evidence['line']): Look[] {
  // What is read at a later step is not of the same hours: there a lot shows as a shift of its machine would.
  if (lot !== null && streams.every(({ stream }) => stream.machineId === machine.id)) {
    const found = lotEvidence(streams, lot, line.lanes, window);
    return found ? [{ log: found.logRatio, shift: found, periodic: null, streams: found.streams }] : [];
  }
  if (pattern !== 'periodic') {
    const shift = shiftEvidence(streams, window);
    return shift ? [{ log: shift.logRatio, shift, periodic: null }] : [];
  }
  const makers = line.steps.find(({ kind }) => kind === 'body-maker')?.machines.length ?? 1;
  const lanes = line.slitterLanes;
  const periods = lanes === null ? [2, 3, 4, 5, 6, 7, 8] : [...new Set([lanes, lanes / makers])].filter((period) => Number.isInteger(period) && period > 1);
  const tries = AROUND.flatMap((hours) => {
    const found = periodicEvidence(streams.map(({ stream }) => stream), periods, { from: window.from - hours * HOUR, until: window.until + hours * HOUR });
    return found ? [found] : [];
  });
  const best = tries.reduce<(typeof tries)[number] | null>((most, each) => (most === null || each.logRatio > most.logRatio ? each : most), null);
  return best ? [{ log: logSum(tries.map(({ logRatio }) => logRatio)) - Math.log(tries.length), shift: null, periodic: best }] : [];
}

const times = (finding: Finding): number => ('times' in finding ? finding.times : 0);
