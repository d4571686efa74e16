import type { EpochMs } from '#canmaking/units';
import type { TracedEvent } from '#tracing/evidence';
import { type Dice, diceOf } from './dice.js';
import { type Fault, lotHours } from './draw-fault.js';
import type { Material } from './fault-kinds.js';
import type { Layout } from './layout.js';
import type { Standstill } from './standstill.js';

const MINUTE = 60_000;
const HOUR = 60 * MINUTE;

/** An event at its true moment, before the log book's clock. */
export type Happening = Omit<TracedEvent, 'id'>;

/** What happens on a line anyway, most of it innocent; and what the fault's begin and repair leave in the log book, if anything. */
export function drawHappenings(seed: number, layout: Layout, standstill: Standstill, fault: Fault, from: EpochMs, until: EpochMs): Happening[] {
  const dice = diceOf(seed, 'happenings');
  const happenings: Happening[] = [];
  const often = (kind: TracedEvent['kind'], machineId: number | null, text: (n: number) => string, hours: number, minutes = 0) => {
    let n = dice.whole(1000, 9000);
    for (let at = from - dice.unit() * hours * HOUR; at < until;) {
      if (at >= from) happenings.push({ machineId, kind, at, until: minutes > 0 ? at + minutes * dice.between(0.6, 1.5) * MINUTE : null, text: text(n) });
      n += 1;
      at += hours * dice.between(0.7, 1.3) * HOUR;
    }
  };
  // In half of the plants end lots are written as changes of coil, and jams as stops.
  const [endLot, jam] = [dice.chance(0.5) ? 'end-lot-change' : 'coil-change', dice.chance(0.5) ? 'jam' : 'stop'] as const;
  const lot = (material: Material, kind: TracedEvent['kind'], machineId: number, text: (n: number) => string, minutes = 0) => often(kind, machineId, text, dice.between(...lotHours[material]), minutes);
  for (const { kind, machines } of layout.steps) {
    for (const { id } of machines) {
      if (kind === 'body-maker') {
        lot('plate', 'coil-change', id, (n) => `Coil ${n} on`, 3);
        lot('wire', 'wire-change', id, (n) => `Wire spool ${n} on`, 5);
      }
      if (kind === 'stripe-applicator') lot('lacquer', 'lacquer-change', id, (n) => `Powder lot ${n} on`);
      if (kind === 'seamer') {
        lot('ends', endLot, id, (n) => `New end lot ${n}`);
        often('roll-change', id, () => 'One roll renewed', dice.between(60, 200), 30);
      }
      if (kind === 'flanger') often('tooling-set', id, () => 'Spindles looked over', dice.between(40, 120), 20);
      often('setting', id, () => dice.one(['Speed set', 'Guide set', 'Pressure set', 'Sensor cleaned']), dice.between(30, 150));
    }
  }
  often('shift-change', null, () => 'Next shift takes over', 8);
  often('wash-down', null, () => 'Wash-down', dice.between(20, 60), 30);
  // Short stops are rarely written down.
  for (const stop of standstill.stops) {
    const minutes = (stop.until - stop.from) / MINUTE;
    if (dice.chance(minutes < 3 ? 0.05 : minutes < 10 ? 0.5 : 0.9)) happenings.push({ machineId: stop.machineId, kind: 'stop', at: stop.from, until: stop.until, text: dice.one(['Jam cleared', 'Sensor', 'No bodies', 'Operator stop', 'Belt']) });
  }
  const written = (kind: TracedEvent['kind']) => (kind === 'end-lot-change' ? endLot : kind === 'stop' && fault.kind.begins.kind === 'stop' ? jam : kind);
  const others = fault.lots.length === 0 ? happenings : happenings.filter(({ machineId, kind, at }) => machineId !== fault.machineId || kind !== written(fault.kind.begins.kind) || at < fault.from - HOUR || at > (fault.until ?? until) + HOUR);
  others.push(...(fault.lots.length === 0 ? ofFault(dice, layout, fault) : lotsOfFault(dice, fault)).map((each) => ({ ...each, kind: written(each.kind) })));
  return others.filter(({ at }) => at >= from && at < until).sort((a, b) => a.at - b.at);
}

/** The changes to the faulty lots and to the good one after them, each written down or not. No other lot of that material is on meanwhile. */
function lotsOfFault(dice: Dice, { kind, machineId, lots, until }: Fault): Happening[] {
  return [...lots, ...(until === null ? [] : [until])].flatMap((at) => (dice.chance(kind.begins.probability) ? [{ machineId, kind: kind.begins.kind, at, until: null, text: `${kind.begins.text} ${dice.whole(1000, 9000)}` }] : []));
}

/** An event of the slitter's cutters stands with the slitter, where the plant has one. */
function ofFault(dice: Dice, layout: Layout, { kind, machineId, from, until, everyNth }: Fault): Happening[] {
  const place = everyNth > 1 ? (layout.slitter?.machines[0]?.id ?? machineId) : machineId;
  const found: Happening[] = [];
  if (dice.chance(kind.begins.probability)) found.push({ machineId: place, kind: kind.begins.kind, at: from, until: kind.begins.kind === 'stop' ? from + dice.between(3, 20) * MINUTE : null, text: kind.begins.text });
  if (until !== null && dice.chance(0.6)) found.push({ machineId: place, kind: kind.ends.kind, at: until, until: null, text: kind.ends.text });
  return found;
}
