import type { EpochMs } from '#canmaking/units';
import { diceOf } from './dice.js';
import type { Layout, Station } from './layout.js';
import type { Standstill } from './standstill.js';

export const TICK_MS = 5000;
/** Body makers finish first before a rest; the others go on so long at most. */
const RUN_OUT_MS = 40 * 60_000;

/** Cans through one machine: cumulative at the end of each tick. */
export type MachineFlow = { readonly machineId: number; readonly good: Int32Array; readonly rejected: Int32Array };
/** Cans through all machines of a station: the n-th that left well, and the n-th that came in (all that left, were refused or taken away). */
export type StationFlow = { readonly station: Station; readonly good: Int32Array; readonly entered: Int32Array; readonly machines: readonly MachineFlow[] };
export type Flow = { readonly from: EpochMs; readonly ticks: number; readonly stations: readonly StationFlow[] };

/**
 * Cans flow first in, first out from station to station, whole cans in steps of five seconds. A station takes what has
 * arrived, at its speed, while it runs and while there is room behind it; full and empty stretches stop it and let it go again
 * only after they have emptied or filled a little. Nothing is on the way at `from`.
 */
export function runFlow(seed: number, layout: Layout, standstill: Standstill, from: EpochMs, until: EpochMs): Flow {
  const dice = diceOf(seed, 'flow');
  const ticks = Math.ceil((until - from) / TICK_MS);
  const atOnce = Math.max(1, layout.lanes.length);
  const works = layout.stations.map((station, place) => ({
    station, place, good: new Int32Array(ticks), entered: new Int32Array(ticks), travelTicks: Math.ceil((station.travelSeconds * 1000) / TICK_MS),
    totalGood: 0, totalEntered: 0, blocked: false, starved: true,
    machines: station.step.machines.map(({ id }) => ({
      machineId: id, good: new Int32Array(ticks), rejected: new Int32Array(ticks), stands: standing(standstill, id, place === 0, from, ticks),
      perTick: (station.cansPerMinute / station.step.machines.length) * (TICK_MS / 60_000), carry: 0, totalGood: 0, totalRejected: 0,
    })),
  }));
  for (let tick = 0; tick < ticks; tick += 1) {
    // From the end of the line, so that room made in a tick is used in the same one.
    for (let place = works.length - 1; place >= 0; place -= 1) {
      const here = works[place] as (typeof works)[number];
      const before = works[place - 1];
      const after = works[place + 1];
      let arrived = before ? (tick >= here.travelTicks ? (before.good[tick - here.travelTicks] as number) : 0) - here.totalEntered : Number.MAX_SAFE_INTEGER;
      let room = after ? after.station.holdsCans - (here.totalGood - after.totalEntered) : Number.MAX_SAFE_INTEGER;
      if (after && room < atOnce) here.blocked = true;
      else if (here.blocked && after && room > after.station.holdsCans * 0.15) here.blocked = false;
      if (arrived <= 0) here.starved = true;
      else if (here.starved && arrived >= here.station.slugCans) here.starved = false;
      for (const machine of here.machines) {
        if (machine.stands[tick] === 0 && !here.blocked && !here.starved) {
          machine.carry = Math.min(machine.carry + machine.perTick, 4 * machine.perTick);
          let take = Math.min(Math.floor(machine.carry), arrived, room);
          if (place === 0) take -= take % atOnce;
          if (take > 0) {
            machine.carry -= take;
            const pulled = before && dice.unit() < take * here.station.pulledShare ? 1 : 0;
            const share = take * here.station.rejectShare;
            const rejected = Math.min(take - pulled, (dice.unit() < share ? 1 : 0) * (place === 0 ? atOnce : 1));
            machine.totalGood += take - pulled - rejected;
            machine.totalRejected += rejected;
            here.totalGood += take - pulled - rejected;
            here.totalEntered += take;
            arrived -= take;
            room -= take;
          }
        }
        machine.good[tick] = machine.totalGood;
        machine.rejected[tick] = machine.totalRejected;
      }
      here.good[tick] = here.totalGood;
      here.entered[tick] = here.totalEntered;
    }
  }
  return { from, ticks, stations: works };
}

function standing({ stops, rests, runsEmpty }: Standstill, machineId: number, first: boolean, from: EpochMs, ticks: number): Uint8Array {
  const stands = new Uint8Array(ticks);
  const mark = (begin: EpochMs, end: EpochMs) => stands.fill(1, Math.max(0, Math.ceil((begin - from) / TICK_MS)), Math.max(0, Math.min(ticks, Math.ceil((end - from) / TICK_MS))));
  for (const stop of stops) if (stop.machineId === machineId) mark(stop.from, stop.until);
  for (const rest of rests) mark(rest.from + (runsEmpty && !first ? RUN_OUT_MS : 0), rest.until);
  return stands;
}

/** Cans by then, with cans of a tick spread evenly over it. */
export function cansBy(cumulative: Int32Array, from: EpochMs, at: EpochMs): number {
  const ticks = (at - from) / TICK_MS;
  const tick = Math.min(cumulative.length - 1, Math.floor(ticks));
  if (ticks <= 0) return 0;
  const before = tick > 0 ? (cumulative[tick - 1] as number) : 0;
  return before + ((cumulative[tick] as number) - before) * Math.min(1, ticks - tick);
}

/** When the count reached `cans`; null where it never did. */
export function momentOf(cumulative: Int32Array, from: EpochMs, cans: number): EpochMs | null {
  if (cumulative.length === 0 || cans > (cumulative.at(-1) as number)) return null;
  let [low, high] = [0, cumulative.length - 1];
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((cumulative[middle] as number) >= cans) high = middle;
    else low = middle + 1;
  }
  const before = low > 0 ? (cumulative[low - 1] as number) : 0;
  const made = (cumulative[low] as number) - before;
  return from + (low + (made > 0 ? Math.max(0, cans - before) / made : 0)) * TICK_MS;
}
