import { likelyOrigins, originsByPlace } from '#canmaking/defects/likely-origins';
import { materialShare } from '#canmaking/defects/material-shares';
import { leakPlaces } from '#canmaking/defects/taxonomy';
import type { StepKind } from '#canmaking/line/steps';
import { type Candidate, isInOnePiece } from './candidates.js';
import type { Complaint, LineMap, TracedMachine } from './evidence.js';
import type { Lot } from './lots.js';

/** What customers call a defect is right three times in four; else the place of the leak, else anything. Common practice, no source. */
const [BY_DEFECT, BY_PLACE] = [0.75, 0.17];
const [ONE, PERIODIC] = [0.55, 0.12];
/** A can of another unit or half than the faulty one is among the complained ones by mistake only. */
const MISREAD = 0.05;

export type Prior = {
  /** Share of the step among the places where such a defect begins. */
  readonly step: number;
  /** Of this candidate, before any record is looked at. */
  readonly share: number;
  /** Share of the faults of the step that come with the material of the lot; null where it is no lot. */
  readonly material: number | null;
  /** Likelihood of the marks on the can (head, half) under this candidate; null = no mark read. */
  readonly unitMark: number | null;
  readonly laneMark: number | null;
  /** Codes of the characteristics in which it would show. */
  readonly characteristics: readonly string[];
};

/**
 * What is known of a candidate from the defect, the place of the leak and the marks on the can alone.
 * @param lots that were on while the cans passed; where none of a material is on record, its share stays with the machine
 */
export function priorOf({ step, machine, unitId, laneId, pattern, lot }: Candidate, line: LineMap, complaint: Complaint, lots: readonly Lot[]): Prior {
  const tied = complaint.origins ?? likelyOrigins(complaint.defect);
  const placed = originsByPlace(leakPlaces.find((place) => place === complaint.leakPlace) ?? 'unknown');
  const kinds = [...new Set(line.steps.map(({ kind }) => kind))];
  const of = (kind: StepKind): number => BY_DEFECT * weightOf(tied, kind) + BY_PLACE * weightOf(placed, kind) + (1 - BY_DEFECT - BY_PLACE) / kinds.length;
  const whole = kinds.reduce((sum, kind) => sum + of(kind), 0);
  const same = line.steps.filter(({ kind }) => kind === step.kind).reduce((sum, { machines }) => sum + machines.length, 0);
  const places = machine.units.length + (isInOnePiece(step.kind) ? line.lanes.length : 0);
  const periodic = step.kind === 'body-maker' ? PERIODIC : 0;
  const one = places > 1 ? ONE : 0;
  const here = lots.filter(({ machineId }) => machineId === machine.id);
  const ofMaterial = (material: Lot['material']): number => BY_DEFECT * materialShare(complaint.defect, step.kind, material) + (1 - BY_DEFECT) * materialShare('leaker', step.kind, material);
  const inLots = [...new Set(here.map(({ material }) => material))].reduce((sum, material) => sum + ofMaterial(material), 0);
  const ofMachine = { all: 1 - one - periodic, one: places > 1 ? one / places : 0, periodic, lot: 0, undecided: 0 }[pattern] * (1 - inLots);
  const material = lot === null ? null : ofMaterial(lot.material);
  const ofPlace = lot === null || material === null ? ofMachine : material / here.filter((other) => other.material === lot.material).length;
  const stepShare = of(step.kind) / whole;
  return {
    step: stepShare, share: (stepShare / same) * ofPlace, material,
    unitMark: unitMark(line, machine, unitId, complaint.unitId),
    laneMark: complaint.laneId === null || line.lanes.length < 2 ? null : laneId === null ? 1 / line.lanes.length : laneId === complaint.laneId ? 1 - MISREAD : MISREAD,
    characteristics: [...new Set([...tied, ...placed].filter(({ step: kind }) => kind === step.kind).flatMap(({ characteristics }) => characteristics))],
  };
}

/** Chance that a complained can carries this mark. A mark of another machine falls on any candidate's cans alike. */
function unitMark(line: LineMap, machine: TracedMachine, own: number | null, read: number | null): number | null {
  const marked = line.steps.flatMap(({ machines }) => machines).find(({ units }) => units.some(({ id }) => id === read));
  if (read === null || !marked || marked.units.length < 2) return null;
  if (own === null || machine.id !== marked.id) return 1 / marked.units.length;
  return own === read ? 1 - MISREAD : MISREAD / (marked.units.length - 1);
}

const weightOf = (origins: readonly { step: StepKind; weight: number }[], kind: StepKind): number => origins.filter(({ step }) => step === kind).reduce((sum, { weight }) => sum + weight, 0);
