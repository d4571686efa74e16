import type { EpochMs } from '#canmaking/units';
import { diceOf } from './dice.js';
import type { Layout } from './layout.js';

const MINUTE = 60_000;
const HOUR = 60 * MINUTE;
const DAY = 24 * HOUR;

export type Stop = { readonly machineId: number; readonly from: EpochMs; readonly until: EpochMs };
/** The whole line at rest; `runsEmpty`: body makers stop first, and what is on the way is made up. */
export type Rest = { readonly from: EpochMs; readonly until: EpochMs };
export type Standstill = { readonly stops: readonly Stop[]; readonly rests: readonly Rest[]; readonly runsEmpty: boolean };

/** Stops of 30 seconds to 40 minutes at any machine at any time, most of them short; and in half of the plants a rest each night. */
export function drawStandstill(seed: number, layout: Layout, from: EpochMs, until: EpochMs): Standstill {
  const dice = diceOf(seed, 'standstill');
  const stops = layout.stations.flatMap(({ step }) => step.machines.flatMap(({ id }) => {
    const hoursBetween = dice.spread(0.7, 8);
    const found: Stop[] = [];
    for (let at = from; at < until && found.length < 5000;) {
      at += -Math.log(1 - dice.unit()) * hoursBetween * HOUR + MINUTE;
      const length = dice.chance(0.85) ? dice.spread(0.5, 8) : dice.between(8, 40);
      found.push({ machineId: id, from: at, until: at + length * MINUTE });
      at += length * MINUTE;
    }
    return found.filter((stop) => stop.from < until);
  }));
  const rests: Rest[] = [];
  if (dice.chance(0.5)) {
    const begins = dice.between(20, 23) * HOUR;
    const hours = dice.between(5, 8);
    for (let day = Math.floor(from / DAY) * DAY; day < until; day += DAY) rests.push({ from: day + begins, until: day + begins + hours * HOUR });
  }
  return { stops, rests, runsEmpty: dice.chance(0.6) };
}
