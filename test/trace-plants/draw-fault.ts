import type { EpochMs } from '#canmaking/units';
import { type Dice, diceOf } from './dice.js';
import { type FaultKind, faultKinds, type Material } from './fault-kinds.js';
import type { Layout } from './layout.js';

const HOUR = 3_600_000;

export type Fault = {
  readonly kind: FaultKind;
  readonly stepId: number;
  readonly machineId: number;
  readonly unitId: number | null;
  readonly laneId: number | null;
  /** Bodies from one bad one to the next; 1 = all of them. */
  readonly everyNth: number;
  readonly pattern: 'all' | 'one' | 'periodic' | 'lot';
  /** Moments at which a faulty lot, and after it others of its delivery, came on. */
  readonly lots: readonly EpochMs[];
  /** True moments at the faulty step. */
  readonly from: EpochMs;
  readonly until: EpochMs | null;
  readonly rampMs: number;
  /** Where the ramp ends, in standard deviations from can to can; negative where the fault lies the other way round. */
  readonly size: number;
  /** Nobody measures what it moves at its step. */
  readonly unmeasured: boolean;
};

/** Chance that a can leaks, against the size of the fault in standard deviations: half at 2.8. Common practice, no source. */
export const leakChance = (size: number): number => 1 / (1 + Math.exp(-(size - 2.8) * 2));

/**
 * One fault that is on at `around`. Sizes from 1 to 5, taken as often as they make leakers: a complaint tells that cans leaked.
 * @param recordsFrom begin of the records: 5 % of the faults are older
 */
export function drawFault(seed: number, layout: Layout, around: EpochMs, recordsFrom: EpochMs): Fault {
  const dice = diceOf(seed, 'fault');
  const kind = dice.weighed(faultKinds.map((value) => ({ weight: value.weight, value })));
  const step = layout.steps.find((candidate) => candidate.kind === kind.step);
  if (!step) throw new RangeError(`layout: needs a ${kind.step}, none given`);
  const machine = dice.one(step.machines);
  const half = kind.reach === 'lane A' ? layout.lanes[0] : kind.reach === 'lane B' ? layout.lanes[1] : undefined;
  // A fault of the body's end may also reach over the whole length of the body.
  const laneId = half && dice.chance(kind.reach === 'lane A' ? 0.6 : 0.8) ? half.id : null;
  const unitId = kind.reach === 'unit' ? dice.one(machine.units).id : null;
  const everyNth = kind.reach === 'every n-th' ? layout.slitterLanes : 1;
  const known = around - recordsFrom;
  const common = { kind, stepId: step.id, machineId: machine.id, unitId, laneId, everyNth, size: sizeOf(dice) * (kind.eitherWay && dice.chance(0.5) ? -1 : 1), unmeasured: Object.keys(kind.moves).length === 0 || dice.chance(0.05) };
  if (kind.lot) return { ...common, pattern: 'lot', rampMs: 0, ...drawLots(dice, kind.lot, around) };
  const age = dice.chance(0.05) ? known * dice.between(1.05, 1.6) : kind.course === 'ramp' ? Math.min(dice.spread(20, 110) * HOUR, known * 0.85) : Math.min(dice.spread(1.5, 72) * HOUR, known * 0.85);
  return {
    ...common, lots: [], pattern: everyNth > 1 ? 'periodic' : unitId !== null || laneId !== null ? 'one' : 'all',
    from: around - age, until: dice.chance(0.4) ? null : around + dice.spread(1, 40) * HOUR, rampMs: kind.course === 'ramp' ? age * dice.between(0.5, 1) : 0,
  };
}

/** Hours for which a lot lasts, from and to. */
export const lotHours: Readonly<Record<Material, readonly [number, number]>> = { plate: [3, 10], wire: [6, 10], ends: [5, 14], lacquer: [10, 40] };

/** One lot, in a fifth of the cases two of one delivery after each other; `around` lies in one of them. */
function drawLots(dice: Dice, material: Material, around: EpochMs): { lots: EpochMs[]; from: EpochMs; until: EpochMs } {
  const lengths = Array.from({ length: dice.chance(0.2) ? 2 : 1 }, () => dice.between(...lotHours[material]) * HOUR);
  const whole = lengths.reduce((sum, length) => sum + length, 0);
  const from = around - dice.between(0.05, 0.95) * whole;
  return { lots: [from, ...lengths.slice(0, -1).map((length) => from + length)], from, until: from + whole };
}

function sizeOf(dice: Dice): number {
  for (let tries = 0; tries < 200; tries += 1) {
    const size = dice.between(1, 5);
    if (dice.chance(leakChance(size))) return size;
  }
  return 5;
}

/** How far the fault is on at a moment of its step, in standard deviations from can to can. */
export function levelAt(fault: Fault, at: EpochMs): number {
  if (at < fault.from || (fault.until !== null && at >= fault.until)) return 0;
  return fault.size * (fault.rampMs > 0 ? Math.min(1, (at - fault.from) / fault.rampMs) : 1);
}
