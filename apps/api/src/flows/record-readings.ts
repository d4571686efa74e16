import { hash } from 'node:crypto';
import type { NewCheck } from '#contract/inspections';
import { Problem } from '#contract/problem';
import { byCheck } from '../inspections/by-check.js';
import { insertCountsAndRatings } from '../inspections/check-extras.store.js';
import { sealCheck } from '../inspections/check-seal.js';
import { findChecksByKey, insertChecks, type NewCheckRow } from '../inspections/checks.store.js';
import { deriveCharacteristics } from '../inspections/derive-characteristics.js';
import { placeReadings } from '../inspections/place-readings.js';
import { readingsText } from '../inspections/readings-text.js';
import type { NewSubgroup } from '../inspections/subgroups.store.js';
import { type Actor, record } from '../platform/audit.js';
import { mapInPieces } from '../platform/in-pieces.js';
import { announce } from '../platform/outbox.js';
import { remember } from '../platform/remember.js';
import type { Tx } from '../platform/work.js';
import { countsAndRatings } from './check-extras.js';
import { checkReferences } from './check-references.js';
import { judgePlaced } from './judge-placed.js';
import { loadMasterData, type MasterData } from './master-data.js';

export type RecordOptions = { now: Date; source: 'entry' | 'feed' | 'import' | 'seed'; importId?: number; enteredAt?: (index: number) => Date; enteredBy?: (index: number) => number; /** Nobody is to hear of it: the demo plant's past. */ silent?: boolean; /** Judging waits for this, with the checks stored: the batch before is to be judged first. */ turn?: Promise<void> };
export type Recorded = { checkIds: number[]; repeated: boolean[]; signals: { id: number; streamId: number }[]; subgroups: number };

/**
 * The straight path from readings to judgement, for one check or for a batch, inside the caller's transaction: either
 * the plant has the readings, their subgroups, verdicts, signals and the trace of who entered them, or none of it.
 */
export async function recordReadings(tx: Tx, actor: Actor, checks: readonly NewCheck[], options: RecordOptions): Promise<Recorded> {
  const { plantId } = actor;
  // 1. What the checks refer to must exist, and the readings must be possible (or confirmed by a person).
  const masterData = await loadMasterData(tx, plantId);
  checkReferences(checks, masterData, options.now);

  // 2. One row a check. A key that is already there was stored before: same content, same answer.
  const rows = await mapInPieces(checks, (check, index) => ({
    planId: check.planId ?? null, machineId: check.machineId, productId: check.productId, takenAt: new Date(check.takenAt), enteredAt: options.enteredAt?.(index) ?? options.now, enteredBy: options.enteredBy?.(index) ?? actor.userId, feed: actor.userId === null && !options.enteredBy ? actor.name : null,
    inspector: check.inspector ?? actor.name, cans: cansOf(check.cans), positions: check.positions,
    key: check.key, contentHash: contentHash(check), source: check.offline ? 'offline' : options.source, importId: options.importId ?? null, note: check.note ?? null,
    begunAt: check.begunAt ?? null, finishedAt: check.finishedAt ?? null, skips: check.skips ?? [], secondReadings: check.secondReadings ?? [],
  }));
  const inserted = await insertChecks(tx, plantId, rows);
  const known = inserted.includes(null) ? await findChecksByKey(tx, plantId, rows.filter((_, index) => inserted[index] === null).map((row) => row.key)) : new Map<string, { id: number; contentHash: string }>();
  const checkIds = rows.map((row, index) => inserted[index] ?? sameCheck(known.get(row.key), row, checks[index] as NewCheck));
  const fresh = checks.flatMap((check, index) => (inserted[index] === null ? [] : [{ check, id: inserted[index] as number }]));
  const repeated = inserted.map((id) => id === null);
  if (fresh.length === 0) return { checkIds, repeated, signals: [], subgroups: 0 };

  // 3. Counts and ratings as they are; derived characteristics, then which readings form which subgroup of which stream.
  const extras = countsAndRatings(fresh, masterData);
  await insertCountsAndRatings(tx, plantId, extras);
  const placed = (await mapInPieces(fresh, ({ check, id }) => placeReadings(resolve(check, masterData)).map(({ stream, takenAt, cans, readings, gaugeId, formula }) => ({ stream, takenAt, cans, readings, gaugeId, formula, checkId: id, positions: check.positions.length })))).flat();

  await options.turn;

  // 4. to 7. Streams, limits in force, statistics of each subgroup, rules and signals; and a seal on each check as it now stands.
  let seals: Record<string, string> = {};
  const { streams, signals } = await judgePlaced(tx, plantId, placed, 'A check that was entered late changed the series.', (made) => { seals = sealsOf(rows, inserted, made, extras); });

  // 8. Who did what; what others should hear of.
  const subject = fresh.length === 1 ? `check ${fresh[0]?.id}` : options.importId ? `import ${options.importId}` : `checks ${fresh[0]?.id} to ${fresh.at(-1)?.id}`;
  await record(tx, actor, 'readings.recorded', subject, { after: { source: options.source, checks: fresh.length, subgroups: placed.length, confirmed: checks.some((check) => check.confirmed), key: fresh.length === 1 ? fresh[0]?.check.key : undefined, seals } });
  if (!options.silent) await announce(tx, plantId, [
    ...streams.map((stream) => ({ kind: 'stream.changed', payload: { streamId: stream.id, revision: stream.revision } })),
    ...signals.map((signal) => ({ kind: 'signal.raised', payload: { signalId: signal.id, streamId: signal.streamId } })),
  ]);
  return { checkIds, repeated, signals, subgroups: placed.length };
}

function sealsOf(rows: readonly NewCheckRow[], ids: readonly (number | null)[], subgroups: readonly NewSubgroup[], { counts, ratings }: ReturnType<typeof countsAndRatings>): Record<string, string> {
  const [subgroupsOf, countsOf, ratingsOf] = [byCheck(subgroups), byCheck(counts), byCheck(ratings)];
  return Object.fromEntries(rows.flatMap((row, index) => { const id = ids[index] ?? null; return id === null ? [] : [[id, sealCheck(row, subgroupsOf(id), { counts: countsOf(id), ratings: ratingsOf(id), photos: [] })]]; }));
}

/**
 * What was asked, without what does not change its meaning: the key itself, that a person confirmed it, and when and how
 * the device was done with it. A try whose answer was lost is sent again with what was entered, perhaps minutes later.
 */
export function contentHash(check: NewCheck): string {
  const { key: _key, confirmed: _confirmed, begunAt: _begun, finishedAt: _finished, offline: _offline, ...content } = check;
  return hashOf(content);
}

function hashOf(content: Omit<NewCheck, 'key' | 'confirmed'>): string {
  const characteristics = content.characteristics.map((entry) => ({ ...entry, readings: [] }));
  // The readings come in as text: `"readings":[]` stands nowhere else, since quotes inside a JSON string are escaped.
  const [first, ...rest] = JSON.stringify({ ...content, characteristics, takenAt: new Date(content.takenAt).toISOString() }).split('"readings":[]');
  const text = rest.reduce((sum, part, index) => `${sum}"readings":${readingsText(content.characteristics[index]?.readings ?? [])}${part}`, first ?? '');
  return hash('sha256', text);
}

/** As versions before hashed a check, the device's times included: a repeat of what they stored is still known. */
function olderHash({ key: _key, confirmed: _confirmed, ...content }: NewCheck): string {
  return hashOf(content);
}

function sameCheck(known: { id: number; contentHash: string } | undefined, row: { key: string; contentHash: string }, check: NewCheck): number {
  if (!known) throw new Problem('changed-meanwhile', `The check with key "${row.key}" was stored and taken away at the same time: send it again.`);
  if (known.contentHash !== row.contentHash && known.contentHash !== olderHash(check)) throw new Problem('key-reused', `The key "${row.key}" belongs to check ${known.id}, whose content differs. To change a stored reading, correct that check.`);
  return known.id;
}

// Checks of one batch share their list of cans.
const cansOf = remember((cans: NewCheck['cans']) => cans.map((can) => ({ number: can.number, unitId: can.unitId ?? null, laneId: can.laneId ?? null })));

function resolve(check: NewCheck, { products, characteristics, derivable }: MasterData) {
  const product = products.get(check.productId) as NonNullable<ReturnType<MasterData['products']['get']>>;
  const derived = deriveCharacteristics(check.characteristics, derivable, product, product.overlapFactor);
  return {
    takenAt: new Date(check.takenAt), machineId: check.machineId, productId: check.productId, positions: check.positions,
    cans: cansOf(check.cans),
    characteristics: [
      ...check.characteristics.map((entry) => ({ characteristicId: (characteristics.get(entry.code) as { id: number }).id, gaugeId: entry.gaugeId ?? null, formula: null, readings: entry.readings })),
      ...derived.map((entry) => ({ characteristicId: entry.characteristicId, gaugeId: null, formula: entry.formula, readings: entry.readings })),
    ],
  };
}
