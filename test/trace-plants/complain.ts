import type { EpochMs } from '#canmaking/units';
import type { Complaint } from '#tracing/evidence';
import { diceOf } from './dice.js';
import { type Fault, levelAt } from './draw-fault.js';
import type { Flow } from './flow.js';
import type { Layout } from './layout.js';
import { passes, ran } from './passing.js';

const MINUTE = 60_000;
const HOUR = 60 * MINUTE;

/** True moments of the complained cans at the faulty step and at the step that codes them, in order. */
export type Complained = { readonly atFault: readonly EpochMs[]; readonly coded: readonly EpochMs[] };

/** One to forty cans of minutes to hours, all made while the fault was on and the line ran; null where it never ran within 20 hours: then nobody complains. */
export function complainedCans(seed: number, layout: Layout, flow: Flow, fault: Fault, around: EpochMs): Complained | null {
  const dice = diceOf(seed, 'complained cans');
  const single = dice.chance(0.25);
  const spanMs = single ? 0 : dice.spread(10, 360) * MINUTE;
  const coded = (at: EpochMs) => passes(layout, flow, fault.stepId, at, layout.codedAt.id);
  const bad = (at: EpochMs) => Math.abs(levelAt(fault, at)) > 0.5 * Math.abs(fault.size) && ran(layout, flow, fault.machineId, fault.stepId, at) && coded(at) !== null;
  const start = firstAround(around, bad);
  if (start === null) return null;
  const atFault = [start];
  for (let tries = 0, wanted = single ? 1 : dice.whole(2, 40); tries < 400 && atFault.length < wanted; tries += 1) {
    const at = start + dice.unit() * spanMs;
    if (bad(at)) atFault.push(at);
  }
  atFault.sort((a, b) => a - b);
  // The moments of the cans themselves, which may have left just before a stop.
  return { atFault: atFault.map((at) => passes(layout, flow, fault.stepId, at, fault.stepId) ?? at), coded: atFault.flatMap((at) => coded(at) ?? []) };
}

function firstAround(around: EpochMs, fits: (at: EpochMs) => boolean): EpochMs | null {
  for (let step = 0; step < 600; step += 1) {
    for (const at of [around + step * 2 * MINUTE, around - step * 2 * MINUTE]) if (fits(at)) return at;
  }
  return null;
}

/** What the customer writes: the code as printed, to the minute or the hour, and the defect as good as it was looked at. */
export function complain(seed: number, layout: Layout, fault: Fault, { coded }: Complained, printerOffMs: number): { complaint: Complaint; named: 'right' | 'neighbour' | 'leaker'; misleadingMark: boolean } {
  const dice = diceOf(seed, 'complaint');
  const grain = dice.chance(0.25) ? HOUR : MINUTE;
  const { kind } = fault;
  const named = dice.weighed<'right' | 'neighbour' | 'leaker'>([{ weight: 72, value: 'right' }, { weight: 13, value: 'neighbour' }, { weight: 15, value: 'leaker' }]);
  const single = coded.length === 1;
  const heads = layout.steps.find(({ kind: stepKind }) => stepKind === 'seamer')?.machines[0]?.units ?? [];
  const headsMarked = dice.chance(0.2);
  const ofHead = kind.step === 'seamer' && fault.unitId !== null;
  // A single can always bears the mark of some head, and is some half, also where that has nothing to do with the fault.
  const unitId = headsMarked ? (ofHead ? fault.unitId : single ? dice.one(heads).id : null) : null;
  const laneTold = layout.lanes.length > 0 && dice.chance(0.25);
  const laneId = laneTold ? (fault.laneId ?? (single ? dice.one(layout.lanes).id : null)) : null;
  const complaint = {
    defect: named === 'right' ? dice.one(kind.defects) : named === 'neighbour' ? dice.one(kind.neighbours) : 'leaker',
    leakPlace: named === 'leaker' || dice.chance(0.85) ? dice.one(kind.leakPlaces) : 'unknown',
    from: Math.floor(((coded[0] as EpochMs) + printerOffMs) / grain) * grain, until: (Math.floor(((coded.at(-1) as EpochMs) + printerOffMs) / grain) + 1) * grain,
    codedAtStepId: layout.codedAt.id, laneId, unitId,
  };
  return { complaint, named, misleadingMark: (unitId !== null && !ofHead) || (laneId !== null && fault.laneId === null) };
}
