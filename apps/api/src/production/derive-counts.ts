import { type CounterSpans, counterSpans, FASTEST_PER_MINUTE, type MachineReading, wouldRollOverAt } from '#canmaking/line/counter-spans';
import type { Tx } from '../platform/work.js';
import { type CounterOf, listReadingsRound, type NewDecision } from './counters.store.js';
import { findForeignOverlaps, type Replaced, replaceDerivedCounts } from './derived-counts.store.js';

const iso = (at: number): string => new Date(at).toISOString();

/** Works out anew the counts between the readings that touch the span, and says what each step was taken for. */
export async function deriveCounts(tx: Tx, plantId: number, counter: CounterOf, from: number, until: number): Promise<{ replaced: Replaced; decisions: NewDecision[] }> {
  const { machineId } = counter;
  const readings = await listReadingsRound(tx, plantId, machineId, new Date(from), new Date(until));
  const [first, last] = [readings[0], readings.at(-1)];
  if (first === undefined || last === undefined) return { replaced: { stored: 0, changed: 0, removed: 0 }, decisions: [] };
  const told = counterSpans(readings, { modulus: counter.rollsOverAt, mostPerMinute: counter.mostPerMinute ?? FASTEST_PER_MINUTE });
  const foreign = await findForeignOverlaps(tx, plantId, machineId, told.spans);
  const replaced = await replaceDerivedCounts(tx, plantId, machineId, { from: first.at, until: last.at }, told.spans.filter(({ at }) => !foreign.has(at)));
  const overlaps = told.spans.flatMap(({ at, minutes, good, rejected }): NewDecision[] => {
    const other = foreign.get(at);
    if (other === undefined) return [];
    return [{ machineId, kind: 'already-counted', counter: null, at: iso(at), until: iso(at + Math.round(minutes * 60_000)), cans: good + rejected, least: null, detail: `a count from ${other.from.toISOString()} to ${other.until.toISOString()} was entered by another way and is kept` }];
  });
  return { replaced, decisions: [...decisionsOf(machineId, told, readings, counter), ...overlaps] };
}

function decisionsOf(machineId: number, { steps, tooLong }: CounterSpans, readings: readonly MachineReading[], counter: CounterOf): NewDecision[] {
  const at = new Map(readings.map((reading) => [reading.at, reading]));
  const told = steps.map((step): NewDecision => {
    const [before, after] = [at.get(step.from)?.[step.counter] ?? null, at.get(step.until)?.[step.counter] ?? null];
    return {
      machineId, kind: step.because, counter: step.counter, at: iso(step.from), until: iso(step.until), cans: step.cans, least: step.least,
      detail: [`from ${before ?? 'no number'} to ${after ?? 'no number'}`, ...hintOf(step, before, after, counter)].join('; '),
    };
  });
  return [...told, ...tooLong.map(({ from, until }): NewDecision => ({ machineId, kind: 'too-far-apart', counter: null, at: iso(from), until: iso(until), cans: null, least: null, detail: 'more than a day between two readings' }))];
}

/** Where digits of a usual number would explain the fall, they are named: a person may state them. */
function hintOf({ because, from, until }: CounterSpans['steps'][number], before: number | null, after: number | null, { rollsOverAt, mostPerMinute }: CounterOf): string[] {
  if (rollsOverAt !== null || before === null || after === null || (because !== 'set-back' && because !== 'went-backwards')) return [];
  const modulus = wouldRollOverAt(before, after, Math.ceil(((mostPerMinute ?? FASTEST_PER_MINUTE) * (until - from)) / 60_000) + 1);
  return modulus === null ? [] : [`it would be a roll-over if the counter begins again after ${modulus - 1}`];
}
