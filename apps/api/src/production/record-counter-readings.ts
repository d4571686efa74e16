import type { CounterReading, recordCounterReadings as contract } from '#contract/counters';
import type { AnswerOf } from '#contract/endpoint';
import type { FieldError } from '#contract/problem';
import { type Actor, record } from '../platform/audit.js';
import type { Tx } from '../platform/work.js';
import { appendDecisions, type CounterOf, findCountersOf, findLastReadings, findReadingsAt, insertReadings, lockCounts, type NewDecision } from './counters.store.js';
import { deriveCounts } from './derive-counts.js';

/** Clocks of a machine and the server may differ by so much. */
const CLOCK_SLACK_MS = 5 * 60_000;
type Taken = { row: number; machineId: number; at: number; good: number; rejected: number | null };
const keyOf = ({ machineId, at }: { machineId: number; at: number }) => `${machineId}/${at}`;
const isoOf = ({ machineId, at, good, rejected }: Taken) => ({ machineId, at: new Date(at).toISOString(), good, rejected });

/**
 * Stores what running counters showed and the production counts that follow, in the caller's transaction. Rows that cannot
 * be are refused one by one and kept as decisions; the rest is stored. Rows may come twice, late and in any order.
 */
export async function recordCounterReadings(tx: Tx, actor: Actor, rows: readonly CounterReading[], now: Date): Promise<AnswerOf<typeof contract>> {
  const { plantId } = actor;
  await lockCounts(tx, plantId);
  const machineIds = rows.map(({ machineId }) => machineId);
  const [counters, latest] = [await findCountersOf(tx, plantId, machineIds), await findLastReadings(tx, plantId, machineIds)];
  const given = rows.map(({ at, ...reading }, row): Taken => ({ ...reading, at: new Date(at).getTime(), row }));
  const refused = given.flatMap((reading) => faultOf(reading, counters.get(reading.machineId), now));

  // What is stored, or came earlier in the batch, stands: a second number for the same moment is refused, not taken over.
  const impossible = new Set(refused.map(({ row }) => row));
  const possible = given.filter(({ row }) => !impossible.has(row + 1));
  const there = new Map((await findReadingsAt(tx, plantId, possible.map(isoOf))).map((reading) => [keyOf(reading), reading]));
  const fresh = new Map<string, Taken>();
  let same = 0;
  for (const reading of possible) {
    const known = there.get(keyOf(reading)) ?? fresh.get(keyOf(reading));
    if (known === undefined) fresh.set(keyOf(reading), reading);
    else if (known.good === reading.good && known.rejected === reading.rejected) same += 1;
    else refused.push(fault(reading, 'good', `what is known of this machine and moment: good ${known.good}, rejected ${known.rejected ?? 'not counted'}`));
  }
  const taken = [...fresh.values()];
  await insertReadings(tx, plantId, taken.map(isoOf), now, actor.name);

  // What lies round the new readings is worked out anew, machine by machine.
  const spans = { stored: 0, changed: 0, removed: 0 };
  const decisions: NewDecision[] = [...refusals(refused, given, counters), ...taken.flatMap((reading) => lateOf(reading, latest))];
  for (const [machineId, counter] of [...counters].sort(([a], [b]) => a - b)) {
    const moments = taken.filter((reading) => reading.machineId === machineId).map(({ at }) => at);
    if (moments.length === 0) continue;
    const { replaced, decisions: more } = await deriveCounts(tx, plantId, counter, moments.reduce((a, b) => Math.min(a, b)), moments.reduce((a, b) => Math.max(a, b)));
    spans.stored += replaced.stored;
    spans.changed += replaced.changed;
    spans.removed += replaced.removed;
    decisions.push(...more);
  }
  await appendDecisions(tx, plantId, decisions, now, actor.name);
  if (taken.length > 0) await record(tx, actor, 'counter-readings.recorded', `machines ${[...new Set(taken.map(({ machineId }) => machineId))].sort((a, b) => a - b).join(', ')}`, { after: { readings: taken.length, refused: refused.length, spans } });
  return { stored: taken.length, same, refused: refused.sort((a, b) => (a.row ?? 0) - (b.row ?? 0)), spans, decisions: decisions.filter(({ kind }) => kind !== 'counted' && kind !== 'refused') };
}

const fault = ({ row }: Taken, field: string, expected: string): FieldError => ({ field: `readings.${row}.${field}`, row: row + 1, expected });

/** The first thing that cannot be about a row. */
function faultOf(reading: Taken, counter: CounterOf | undefined, now: Date): FieldError[] {
  if (counter === undefined) return [fault(reading, 'machineId', 'a machine of this plant')];
  if (reading.at > now.getTime() + CLOCK_SLACK_MS) return [fault(reading, 'at', 'a moment that is not in the future')];
  for (const field of ['good', 'rejected'] as const) {
    const value = reading[field];
    if (value === null) continue;
    if (!Number.isSafeInteger(value) || value < 0) return [fault(reading, field, `a whole number of cans, 0 or more, and not ${value}`)];
    if (counter.rollsOverAt !== null && value >= counter.rollsOverAt) return [fault(reading, field, `less than ${counter.rollsOverAt}, where this counter begins again at 0, and not ${value}`)];
  }
  return [];
}

function refusals(faults: readonly FieldError[], given: readonly Taken[], counters: ReadonlyMap<number, CounterOf>): NewDecision[] {
  return faults.flatMap(({ row, field, expected }): NewDecision[] => {
    const reading = given[(row ?? 0) - 1];
    if (reading === undefined) return [];
    const known = counters.has(reading.machineId);
    return [{ machineId: known ? reading.machineId : null, kind: 'refused', counter: null, at: new Date(reading.at).toISOString(), until: null, cans: null, least: null, detail: `${known ? '' : `machine ${reading.machineId}, `}good ${reading.good}, rejected ${reading.rejected ?? 'not counted'}: ${field.split('.').at(-1) ?? ''} must be ${expected}` }];
  });
}

function lateOf(reading: Taken, latest: ReadonlyMap<number, number>): NewDecision[] {
  const newest = latest.get(reading.machineId);
  if (newest === undefined || reading.at > newest) return [];
  return [{ machineId: reading.machineId, kind: 'late', counter: null, at: new Date(reading.at).toISOString(), until: null, cans: null, least: null, detail: `a reading of ${new Date(newest).toISOString()} was there before it` }];
}
