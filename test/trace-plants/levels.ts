import type { EpochMs } from '#canmaking/units';
import { diceOf } from './dice.js';
import { type Fault, levelAt } from './draw-fault.js';
import type { Flow } from './flow.js';
import type { Layout } from './layout.js';
import type { Happening } from './line-events.js';
import type { Measured } from './measured.js';
import { passes } from './passing.js';

const HOUR = 3_600_000;

export type Where = { readonly stepId: number; readonly machineId: number; readonly unitId: number | null; readonly laneId: number | null };
/**
 * True level of a characteristic of the can that is at the step at `at` (minus infinity: clean production long before the records);
 * `body` numbers the bodies of the machine; `luck` decides which spindle a can came from, 0 to 1.
 */
export type Level = (measured: Measured, where: Where, at: EpochMs, body: number, luck: number) => number;

/** Centre by machine, unit and half; steps at each lot; slow wandering of a few; and the fault. */
export function levelsOf(seed: number, layout: Layout, flow: Flow, fault: Fault, happenings: readonly Happening[]): Level {
  const dice = diceOf(seed, 'levels');
  const kept = new Map<string, number>();
  const once = (key: string, draw: () => number): number => {
    const known = kept.get(key) ?? draw();
    kept.set(key, known);
    return known;
  };
  const lots = new Map<number, EpochMs[]>();
  for (const { machineId, kind, at } of happenings) if ((kind === 'coil-change' || kind === 'end-lot-change') && machineId !== null) lots.set(machineId, [...(lots.get(machineId) ?? []), at]);
  const faultyUnits = layout.steps.find(({ id }) => id === fault.stepId)?.machines.find(({ id }) => id === fault.machineId)?.units.length ?? 0;

  return (measured, where, at, body, luck) => {
    const group = `${measured.code}/${where.machineId}`;
    const own = once(`${group}/${where.unitId}/${where.laneId}`, () => dice.normal() * measured.apart);
    const lot = (lots.get(where.machineId) ?? []).filter((changed) => changed <= at).length;
    const lotStep = once(`${group}/lot ${lot}`, () => dice.normal() * measured.lotToLot);
    const swing = once(`${group}/swing`, () => (dice.chance(0.2) ? dice.between(0.2, 0.5) : 0)) * measured.canToCan;
    const wander = swing === 0 || !Number.isFinite(at) ? 0 : swing * Math.sin((at / (once(`${group}/period`, () => dice.between(8, 50)) * HOUR)) * 2 * Math.PI);
    return measured.target + own + lotStep + wander + shift(measured.code, where, at, body, luck) * measured.canToCan;
  };

  function shift(code: string, where: Where, at: EpochMs, body: number, luck: number): number {
    const moved = fault.kind.moves[code] ?? 0;
    if (where.stepId === fault.stepId) {
      if (where.machineId !== fault.machineId || moved === 0) return 0;
      if ((fault.unitId !== null && fault.unitId !== where.unitId) || (fault.laneId !== null && fault.laneId !== where.laneId)) return 0;
      return body % fault.everyNth === 0 ? moved * levelAt(fault, at) : 0;
    }
    const along = fault.kind.takenAlong[code] ?? 0;
    if (along === 0 || (fault.unitId !== null && luck * faultyUnits >= 1)) return 0;
    const before = passes(layout, flow, where.stepId, at, fault.stepId);
    return before === null ? 0 : along * levelAt(fault, before);
  }
}
