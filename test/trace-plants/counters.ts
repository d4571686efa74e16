import type { EpochMs } from '#canmaking/units';
import type { CountSpan } from '#tracing/evidence';
import { diceOf } from './dice.js';
import { cansBy, type Flow } from './flow.js';

const MINUTE = 60_000;
export type Counting = 'none' | 'every minute' | 'every five minutes' | 'with gaps';

/** What the counters of the machines sent in: whole spans, spans without a can left out in half of the plants. */
export function countersOf(seed: number, flow: Flow, from: EpochMs, until: EpochMs): { counting: Counting; apartSeconds: number; counts: CountSpan[] } {
  const dice = diceOf(seed, 'counters');
  const counting = dice.weighed<Counting>([{ weight: 15, value: 'none' }, { weight: 45, value: 'every minute' }, { weight: 25, value: 'every five minutes' }, { weight: 15, value: 'with gaps' }]);
  const minutes = counting === 'every five minutes' || (counting === 'with gaps' && dice.chance(0.4)) ? 5 : 1;
  const apartSeconds = dice.chance(0.15) ? 20 : 0;
  const idleSent = dice.chance(0.5);
  const counts: CountSpan[] = [];
  if (counting === 'none') return { counting, apartSeconds, counts };
  for (const { station, machines } of flow.stations) {
    // Parters, neckers and beaders often have no counter of their own.
    if (['parter', 'necker', 'beader'].includes(station.step.kind) && dice.chance(0.5)) continue;
    if (counting === 'with gaps' && dice.chance(0.25)) continue;
    for (const { machineId, good, rejected } of machines) {
      const clock = (dice.unit() * 2 - 1) * apartSeconds * 1000;
      const away = counting === 'with gaps' ? Array.from({ length: dice.whole(1, 4) }, () => ({ from: dice.between(from, until), hours: dice.spread(0.2, 8) })) : [];
      let [goodBefore, rejectedBefore] = [Math.floor(cansBy(good, flow.from, from - clock)), Math.floor(cansBy(rejected, flow.from, from - clock))];
      for (let at = from; at + minutes * MINUTE <= until; at += minutes * MINUTE) {
        const [goodBy, rejectedBy] = [Math.floor(cansBy(good, flow.from, at + minutes * MINUTE - clock)), Math.floor(cansBy(rejected, flow.from, at + minutes * MINUTE - clock))];
        const span = { machineId, at, minutes, good: goodBy - goodBefore, rejected: rejectedBy - rejectedBefore };
        [goodBefore, rejectedBefore] = [goodBy, rejectedBy];
        if (!idleSent && span.good + span.rejected === 0) continue;
        if (away.some((gap) => at >= gap.from && at < gap.from + gap.hours * 60 * MINUTE)) continue;
        counts.push(span);
      }
    }
  }
  return { counting, apartSeconds, counts: counts.sort((a, b) => a.at - b.at || a.machineId - b.machineId) };
}
