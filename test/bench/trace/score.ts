import type { Complaint, Evidence } from '#tracing/evidence';
import type { Origin, StepWindow, Trace } from '#tracing/origin';
import type { Plant, TrueWindow, Truth } from '../../trace-plants/simulate-plant.js';

export type Tracer = (evidence: Evidence) => Trace;

export type Scored = {
  readonly seed: number;
  readonly truth: Truth;
  /** Place of the first right origin, 1 for the first; null where none is right. `machine`: step and machine only. `strict`: the pattern too. */
  readonly rank: { readonly right: number | null; readonly machine: number | null; readonly strict: number | null };
  /** What stands first, for the list of misses. */
  readonly said: string;
  /** Steps upstream of the code, and the slitter apart: stacks wait there for hours. */
  readonly upstream: readonly JudgedWindow[];
  readonly slitter: JudgedWindow | null;
  /** One can, clocks taken as right: its window at the body makers in milliseconds, by counts and by transit times only. */
  readonly oneCan: { readonly byCounts: number; readonly byTransit: number; readonly basis: string; readonly countsInside: boolean; readonly transitInside: boolean } | null;
  readonly milliseconds: number;
};
export type JudgedWindow = { readonly stepKind: string; readonly basis: string; readonly inside: boolean };

/** An origin is right when step and machine agree and, where the truth is one unit or half, that agrees too. */
export function isRight({ stepId, machineId, unitId, laneId }: Origin, truth: Truth): boolean {
  if (truth.alsoRight.some((place) => place.stepId === stepId && place.machineId === machineId && (unitId === null || unitId === place.unitId))) return true;
  return isMachine({ stepId, machineId }, truth) && (truth.unitId === null || unitId === truth.unitId) && (truth.laneId === null || laneId === truth.laneId);
}

export function isMachine({ stepId, machineId }: Pick<Origin, 'stepId' | 'machineId'>, truth: Truth): boolean {
  return (stepId === truth.stepId && machineId === truth.machineId) || truth.alsoRight.some((place) => place.stepId === stepId && place.machineId === machineId);
}

/** Where the truth is the whole machine, naming one unit or half of it is not strictly right. */
const isStrict = (origin: Origin, truth: Truth): boolean => isRight(origin, truth) && (origin.pattern === truth.pattern || truth.alsoRight.some(({ stepId }) => stepId === origin.stepId));

function rankWhere(origins: readonly Origin[], fits: (origin: Origin) => boolean): number | null {
  const place = origins.findIndex(fits);
  return place < 0 ? null : place + 1;
}

export function score(seed: number, { evidence, truth }: Plant, trace: Tracer): Scored {
  const began = performance.now();
  const { windows, origins } = trace(evidence);
  const milliseconds = performance.now() - began;
  const coded = evidence.line.steps.findIndex(({ id }) => id === evidence.complaint.codedAtStepId);
  const judged = evidence.line.steps.slice(0, coded).map(({ id }) => judge(windows, truth.windows, id, evidence));
  const first = origins[0];
  return {
    seed, truth, milliseconds, said: first ? `${kindOf(evidence, first.stepId)} ${first.machineId} unit ${first.unitId} half ${first.laneId} ${first.pattern} ${first.share.toFixed(2)}` : 'nothing',
    rank: {
      right: rankWhere(origins, (origin) => isRight(origin, truth)), machine: rankWhere(origins, (origin) => isMachine(origin, truth)), strict: rankWhere(origins, (origin) => isStrict(origin, truth)),
    },
    upstream: judged.filter(({ stepKind }) => stepKind !== 'slitter'), slitter: judged.find(({ stepKind }) => stepKind === 'slitter') ?? null,
    oneCan: truth.counting === 'none' ? null : oneCan({ evidence, truth }, trace),
  };
}

const kindOf = (evidence: Evidence, stepId: number): string => evidence.line.steps.find(({ id }) => id === stepId)?.kind ?? 'unknown step';

function judge(stated: readonly StepWindow[], real: readonly TrueWindow[], stepId: number, evidence: Evidence): JudgedWindow {
  const [window, truth] = [stated.find((candidate) => candidate.stepId === stepId), real.find((candidate) => candidate.stepId === stepId)];
  return { stepKind: kindOf(evidence, stepId), basis: window?.basis ?? 'none', inside: window !== undefined && truth !== undefined && window.from <= truth.from && window.until >= truth.until };
}

function oneCan({ evidence, truth }: Plant, trace: Tracer): Scored['oneCan'] {
  const bodyMaker = evidence.line.steps.find(({ kind }) => kind === 'body-maker');
  const real = truth.oneCan.at.find(({ stepId }) => stepId === bodyMaker?.id);
  const complaint: Complaint = { ...evidence.complaint, from: truth.oneCan.codedAt, until: truth.oneCan.codedAt };
  const one: Evidence = { ...evidence, complaint, line: { ...evidence.line, clockMinutes: 0 } };
  const at = (trace_: Trace) => trace_.windows.find(({ stepId }) => stepId === bodyMaker?.id);
  const [counts, transit] = [at(trace(one)), at(trace({ ...one, counts: [] }))];
  if (!counts || !transit || !real) return null;
  const inside = ({ from, until }: StepWindow) => from <= real.from && until >= real.until;
  return { byCounts: counts.until - counts.from, byTransit: transit.until - transit.from, basis: counts.basis, countsInside: inside(counts), transitInside: inside(transit) };
}
