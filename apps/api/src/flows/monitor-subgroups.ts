import { lockChecks } from '../inspections/check-page.store.js';
import { sealAnew } from '../inspections/check-seals.store.js';
import { insertChecks, findChecksByKey } from '../inspections/checks.store.js';
import type { StreamIdentity } from '../inspections/place-readings.js';
import { type Actor, record } from '../platform/audit.js';
import { announce } from '../platform/outbox.js';
import type { Tx } from '../platform/work.js';
import { minuteOf } from '../monitors/minute-book.js';
import { judgePlaced } from './judge-placed.js';

export type MonitorSubgroup = { stream: StreamIdentity; at: number; readings: readonly (number | null)[] };

/**
 * Stores and judges subgroups of in-line readings by the same path as those of checks. One check row stands for all that
 * a machine's monitor brought within a minute of one product, so that a subgroup costs its own row and no more.
 */
export async function recordMonitorSubgroups(tx: Tx, actor: Actor & { userId: number }, subgroups: readonly MonitorSubgroup[], now: Date): Promise<void> {
  if (subgroups.length === 0) return;
  const { plantId } = actor;
  const keyOf = ({ stream, at, readings }: MonitorSubgroup) => `monitor ${stream.machineId}/${stream.productId} ${new Date(minuteOf(at)).toISOString()} by ${readings.length}`;
  const minutes = new Map(subgroups.map((subgroup) => [keyOf(subgroup), subgroup]));
  const rows = [...minutes].map(([key, { stream, at, readings }]) => ({
    planId: null, machineId: stream.machineId, productId: stream.productId, takenAt: new Date(minuteOf(at)), enteredAt: now, enteredBy: null, feed: actor.name, inspector: actor.name,
    cans: readings.map((_, index) => ({ number: index + 1, unitId: null, laneId: null })), positions: ['in line'], key, contentHash: 'monitor', source: 'monitor', importId: null, note: null, begunAt: null, finishedAt: null, skips: [], secondReadings: [],
  }));
  const inserted = await insertChecks(tx, plantId, rows);
  const known = inserted.includes(null) ? await findChecksByKey(tx, plantId, rows.filter((_, index) => inserted[index] === null).map(({ key }) => key)) : new Map<string, { id: number }>();
  const checkIds = new Map(rows.map(({ key }, index) => [key, inserted[index] ?? (known.get(key) as { id: number }).id]));
  const placed = subgroups.map((subgroup) => ({
    stream: subgroup.stream, takenAt: new Date(subgroup.at), cans: subgroup.readings.map((_, index) => index), readings: [...subgroup.readings],
    gaugeId: null, formula: null, checkId: checkIds.get(keyOf(subgroup)) as number, positions: 1,
  }));
  const { streams, signals, subgroups: added } = await judgePlaced(tx, plantId, placed, 'In-line readings that came late changed the series.');
  // A check of a monitor grows through its minute: each act seals it as it now stands, with what a correction or another feed of the machine has done to it, and notes what it was.
  await lockChecks(tx, plantId, [...known.values()].map(({ id }) => id));
  const ids = [...new Set(checkIds.values())].sort((a, b) => a - b);
  const seals = await sealAnew(tx, plantId, ids, { subgroups: added });
  const stoodBefore = new Set([...known.values()].map(({ id }) => String(id)));
  const before = Object.fromEntries(Object.entries(seals.before).filter(([id]) => stoodBefore.has(id)));
  await record(tx, actor, 'readings.recorded', ids.length === 1 ? `check ${ids[0]}` : `checks ${ids[0]} to ${ids.at(-1)}`, { before: stoodBefore.size > 0 ? { seals: before } : undefined, after: { source: 'monitor', checks: inserted.filter((id) => id !== null).length, subgroups: placed.length, seals: seals.after } });
  await announce(tx, plantId, [
    ...streams.map((stream) => ({ kind: 'stream.changed', payload: { streamId: stream.id, revision: stream.revision } })),
    ...signals.map((signal) => ({ kind: 'signal.raised', payload: { signalId: signal.id, streamId: signal.streamId } })),
  ]);
}
