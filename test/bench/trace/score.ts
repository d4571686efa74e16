import type { Complaint, Evidence } from '#tracing/evidence';
import type { Origin, StepWindow, Trace } from '#tracing/origin';
import { stepWindows } from '#tracing/step-windows';
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
  /** One can, clocks taken as right, where its code was printed: its window at the body makers and at the step of the fault. */
  readonly atBodyMaker: Width | null;
  readonly atOrigin: Width | null;
  /** One can, the moment known at which it left a counted step: its window at the nearest counted step before. */
  readonly stretches: readonly Width[];
  readonly milliseconds: number;
};
/** Widths in milliseconds, by counts and by transit times only; only where the step and a later one up to the known moment count. */
export type Width = { readonly stepKind: string; readonly byCounts: number; readonly byTransit: number; readonly basis: string; readonly countsInside: boolean; readonly transitInside: boolean };
export type JudgedWindow = { readonly stepKind: string; readonly basis: string; readonly inside: boolean };

/** An origin is right when step and machine agree and, where the truth is one unit, half or material lot, that agrees too; a lot is right for nothing else. A lot that nobody wrote down can be named by its machine only. */
export function isRight({ stepId, machineId, unitId, laneId, lotEventId }: Origin, truth: Truth): boolean {
  if (lotEventId !== null || truth.lotEventIds.length > 0) return lotEventId !== null && truth.lotEventIds.includes(lotEventId);
  if (truth.alsoRight.some((place) => place.stepId === stepId && place.machineId === machineId && (unitId === null || unitId === place.unitId))) return true;
  return isMachine({ stepId, machineId }, truth) && (truth.pattern === 'lot' || ((truth.unitId === null || unitId === truth.unitId) && (truth.laneId === null || laneId === truth.laneId)));
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
    seed, truth, milliseconds, said: first ? `${kindOf(evidence, first.stepId)} ${first.machineId} unit ${first.unitId} half ${first.laneId} lot ${first.lotEventId} ${first.pattern} ${first.share.toFixed(2)}` : 'nothing',
    rank: {
      right: rankWhere(origins, (origin) => isRight(origin, truth)), machine: rankWhere(origins, (origin) => isMachine(origin, truth)), strict: rankWhere(origins, (origin) => isStrict(origin, truth)),
    },
    upstream: judged.filter(({ stepKind }) => stepKind !== 'slitter'), slitter: judged.find(({ stepKind }) => stepKind === 'slitter') ?? null,
    ...widths({ evidence, truth }),
  };
}

const kindOf = (evidence: Evidence, stepId: number): string => evidence.line.steps.find(({ id }) => id === stepId)?.kind ?? 'unknown step';

function judge(stated: readonly StepWindow[], real: readonly TrueWindow[], stepId: number, evidence: Evidence): JudgedWindow {
  const [window, truth] = [stated.find((candidate) => candidate.stepId === stepId), real.find((candidate) => candidate.stepId === stepId)];
  return { stepKind: kindOf(evidence, stepId), basis: window?.basis ?? 'none', inside: window !== undefined && truth !== undefined && window.from <= truth.from && window.until >= truth.until };
}

function widths({ evidence, truth }: Plant): Pick<Scored, 'atBodyMaker' | 'atOrigin' | 'stretches'> {
  const { steps } = evidence.line;
  const counting = new Set(evidence.counts.map(({ machineId }) => machineId));
  const counted = steps.map(({ machines }) => machines.some(({ id }) => counting.has(id)));
  const coded = steps.findIndex(({ id }) => id === evidence.complaint.codedAtStepId);
  const walked = (place: number): Width | null => (counted[place] && counted.slice(place + 1, coded + 1).some(Boolean) ? width({ evidence, truth }, place, coded) : null);
  const stretches = counted.flatMap((counts, place) => {
    const later = counted.findIndex((also, at) => at > place && also);
    return counts && later > 0 && later <= coded ? (width({ evidence, truth }, place, later) ?? []) : [];
  });
  return { atBodyMaker: walked(steps.findIndex(({ kind }) => kind === 'body-maker')), atOrigin: walked(steps.findIndex(({ id }) => id === truth.stepId)), stretches };
}

/** The window at one place of a can whose moment at a later place is known. */
function width({ evidence: { line, complaint, counts }, truth }: Plant, place: number, knownAt: number): Width | null {
  const [step, later] = [line.steps[place], line.steps[knownAt]];
  const real = truth.oneCan.at.find(({ stepId }) => stepId === step?.id);
  const known = truth.oneCan.at.find(({ stepId }) => stepId === later?.id);
  if (!step || !later || !real || !known) return null;
  const one: Complaint = { ...complaint, from: known.from, until: known.until, codedAtStepId: later.id };
  const windowBy = (given: Evidence['counts']) => stepWindows({ line: { ...line, steps: line.steps.slice(place, knownAt + 1), clockMinutes: 0 }, complaint: one, counts: given, events: [] }).find(({ stepId }) => stepId === step.id);
  const [byCounts, byTransit] = [windowBy(counts), windowBy([])];
  // Where no way is stated neither of the two has a window to compare.
  if (!byCounts || byTransit?.basis !== 'transit' || byTransit.until <= byTransit.from) return null;
  const inside = ({ from, until }: StepWindow) => from <= real.from && until >= real.until;
  return { stepKind: step.kind, byCounts: byCounts.until - byCounts.from, byTransit: byTransit.until - byTransit.from, basis: byCounts.basis, countsInside: inside(byCounts), transitInside: inside(byTransit) };
}
