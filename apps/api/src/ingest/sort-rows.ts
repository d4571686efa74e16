import type { Layout, Mapping, RowReason } from '#contract/ingest';
import type { Tx } from '../platform/work.js';
import { checkKey, groupCheck, type ImportCheck, numberTag, placeKey, tagOfKey } from './group-checks.js';
import { listStoredPlaces } from './ingest.store.js';
import { type PlacedReading, type Refusal, RowMapper } from './map-rows.js';
import type { Names } from './names.js';
import { readTable } from './read-table.js';

export type SortedRows = {
  header: string[]; rows: number; readings: number; alreadyStored: number; checks: ImportCheck[]; refusals: Refusal[];
  /** Rows of which every reading is stored already. */
  known: Set<number>;
  /** Cells of the rows that a preview shows: the first ones and the first refused ones. */
  cells: Map<number, string[]>;
};
export const SHOWN = 100;
const MOMENTS_AT_ONCE = 1000;
/** A value of null was there and was taken out by a correction. */
type Stored = { place: string; value: number | null; checkId: number; tag: string | null };

/** Reads the whole file and says of each reading: to be stored, stored already, or refused and why. Stores nothing. */
export async function sortRows(tx: Tx, plantId: number, content: Uint8Array, layout: Layout, mapping: Mapping, names: Names, now: Date): Promise<SortedRows | { missing: string[] }> {
  let mapper: RowMapper | undefined;
  let shownRefused = 0;
  const sorted: SortedRows = { header: [], rows: 0, readings: 0, alreadyStored: 0, checks: [], refusals: [], known: new Set(), cells: new Map() };
  const moments = new Map<string, PlacedReading[]>();
  for await (const { row, cells } of readTable(content, layout)) {
    if (!mapper) {
      sorted.header = cells;
      mapper = new RowMapper(cells, layout, mapping, names, now);
      const missing = mapper.missing();
      if (missing.length > 0) return { missing };
      continue;
    }
    sorted.rows += 1;
    const { readings, refusals } = mapper.map(row, cells);
    sorted.readings += readings.length;
    if (sorted.rows <= SHOWN || (refusals.length > 0 && shownRefused < SHOWN)) sorted.cells.set(row, cells);
    if (refusals.length > 0) shownRefused += 1;
    for (const refusal of refusals) sorted.refusals.push(refusal);
    for (const reading of readings) push(moments, checkKey(reading), reading);
  }
  if (!mapper) return { missing: ['a header line'] };
  const entries = [...moments];
  for (let first = 0; first < entries.length; first += MOMENTS_AT_ONCE) {
    const slice = entries.slice(first, first + MOMENTS_AT_ONCE);
    const stored = await storedPlaces(tx, plantId, slice.flatMap(([, group]) => group.slice(0, 1)));
    for (const [key, readings] of slice) {
      const groups = new Map<string, PlacedReading[]>();
      for (const reading of readings) push(groups, reading.checkNumber, reading);
      for (const group of groups.values()) keepNew(sorted, group, stored.get(key) ?? [], mapping.asMeasured);
    }
  }
  sorted.checks.sort((a, b) => (a.check.takenAt < b.check.takenAt ? -1 : a.check.takenAt > b.check.takenAt ? 1 : 0));
  sorted.refusals.sort((a, b) => a.row - b.row);
  return sorted;
}

function push<Value>(groups: Map<string, Value[]>, key: string, value: Value): void {
  const group = groups.get(key);
  if (group) group.push(value);
  else groups.set(key, [value]);
}

async function storedPlaces(tx: Tx, plantId: number, moments: readonly PlacedReading[]): Promise<Map<string, Stored[]>> {
  const places = new Map<string, Stored[]>();
  for (const row of await listStoredPlaces(tx, plantId, moments)) {
    const place = placeKey({ characteristicId: row.characteristic_id, unitId: row.unit_id, laneId: row.lane_id, can: row.can, position: row.position });
    push(places, checkKey({ machineId: row.machine_id, productId: row.product_id, takenAt: row.taken_at.toISOString() }), { place, value: row.value, checkId: row.check_id, tag: tagOfKey(row.key) });
  }
  return places;
}

/** A numbered check of the file is compared with imported checks of that number, and with those that were entered by hand. */
function keepNew(sorted: SortedRows, group: readonly PlacedReading[], there: readonly Stored[], asMeasured: boolean): void {
  const tag = numberTag(group[0]?.checkNumber ?? '');
  const stored = new Map(there.filter((entry) => entry.tag === null || entry.tag === tag).map((entry) => [entry.place, entry]));
  const fresh = new Map<string, PlacedReading>();
  const refuse = (row: number, code: RowReason['code'], values: RowReason['values'], reason: string, sort = reason) => sorted.refusals.push({ row, reason, sort, why: { code, values } });
  for (const reading of group) {
    const place = placeKey(reading);
    const [old, twin] = [stored.get(place), fresh.get(place)];
    if (old?.value === reading.value || twin?.value === reading.value) {
      sorted.alreadyStored += 1;
      sorted.known.add(reading.row);
    } else if (old?.value === null) refuse(reading.row, 'corrected-away', { check: old.checkId }, `was taken out of check ${old.checkId} by a correction: correct that check if it holds after all`, 'was taken out of a stored check by a correction: correct that check if it holds after all');
    else if (old) refuse(reading.row, 'differs', { check: old.checkId, value: old.value }, `differs from what check ${old.checkId} holds at this place (${old.value}): correct that check instead`, 'differs from what a stored check holds at this place: correct that check instead');
    else if (twin) refuse(reading.row, 'twice', { row: twin.row }, `another value for the place that row ${twin.row} has already given`, 'another value for a place that an earlier row has already given');
    else fresh.set(place, reading);
  }
  if (fresh.size === 0) return;
  for (const reading of fresh.values()) sorted.known.delete(reading.row);
  const check = groupCheck([...fresh.values()], asMeasured);
  if ('check' in check) sorted.checks.push(check);
  else for (const row of new Set([...fresh.values()].map((reading) => reading.row))) refuse(row, 'check-size', check.size, check.expected);
}
