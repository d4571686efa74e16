import type { Layout, Mapping } from '#contract/ingest';
import type { Tx } from '../platform/work.js';
import { checkKey, groupCheck, type ImportCheck, placeKey } from './group-checks.js';
import { listStoredPlaces } from './ingest.store.js';
import { type PlacedReading, type Refusal, RowMapper } from './map-rows.js';
import type { Names } from './names.js';
import { readTable } from './read-table.js';

export type SortedRows = {
  header: string[]; rows: number; readings: number; alreadyStored: number; checks: ImportCheck[]; refusals: Refusal[];
  /** Rows of which every reading is stored already. */
  known: Set<number>;
  /** Cells of the rows that are shown or come back: the first ones and all refused ones. */
  cells: Map<number, string[]>;
};
const SHOWN = 100;
const MOMENTS_AT_ONCE = 1000;

/** Reads the whole file and says of each reading: to be stored, stored already, or refused and why. Stores nothing. */
export async function sortRows(tx: Tx, plantId: number, content: Uint8Array, layout: Layout, mapping: Mapping, names: Names, now: Date): Promise<SortedRows | { missing: string[] }> {
  let mapper: RowMapper | undefined;
  const sorted: SortedRows = { header: [], rows: 0, readings: 0, alreadyStored: 0, checks: [], refusals: [], known: new Set(), cells: new Map() };
  const groups = new Map<string, PlacedReading[]>();
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
    if (sorted.rows <= SHOWN || refusals.length > 0) sorted.cells.set(row, cells);
    for (const refusal of refusals) sorted.refusals.push(refusal);
    for (const reading of readings) {
      const key = checkKey(reading);
      const group = groups.get(key);
      if (group) group.push(reading);
      else groups.set(key, [reading]);
    }
  }
  const entries = [...groups];
  for (let first = 0; first < entries.length; first += MOMENTS_AT_ONCE) {
    const slice = entries.slice(first, first + MOMENTS_AT_ONCE);
    const stored = await storedPlaces(tx, plantId, slice.map(([, group]) => group[0] as PlacedReading));
    for (const [key, group] of slice) keepNew(sorted, group, stored.get(key) ?? new Map(), mapping.asMeasured);
  }
  sorted.checks.sort((a, b) => (a.check.takenAt < b.check.takenAt ? -1 : a.check.takenAt > b.check.takenAt ? 1 : 0));
  sorted.refusals.sort((a, b) => a.row - b.row);
  return sorted;
}

async function storedPlaces(tx: Tx, plantId: number, moments: readonly PlacedReading[]): Promise<Map<string, Map<string, { value: number; checkId: number }>>> {
  const places = new Map<string, Map<string, { value: number; checkId: number }>>();
  for (const row of await listStoredPlaces(tx, plantId, moments)) {
    const key = `${row.machine_id}/${row.product_id}/${row.taken_at.toISOString()}`;
    const inside = places.get(key) ?? new Map<string, { value: number; checkId: number }>();
    inside.set(placeKey({ characteristicId: row.characteristic_id, unitId: row.unit_id, laneId: row.lane_id, can: row.can, position: row.position }), { value: row.value, checkId: row.check_id });
    places.set(key, inside);
  }
  return places;
}

function keepNew(sorted: SortedRows, group: readonly PlacedReading[], stored: ReadonlyMap<string, { value: number; checkId: number }>, asMeasured: boolean): void {
  const fresh = new Map<string, PlacedReading>();
  for (const reading of group) {
    const place = placeKey(reading);
    const there = stored.get(place);
    const twin = fresh.get(place);
    if (there?.value === reading.value || twin?.value === reading.value) { sorted.alreadyStored += 1; sorted.known.add(reading.row); continue; }
    if (there) sorted.refusals.push({ row: reading.row, reason: `differs from what check ${there.checkId} holds at this place (${there.value}): correct that check instead` });
    else if (twin) sorted.refusals.push({ row: reading.row, reason: `another value for the place that row ${twin.row} has already given` });
    else fresh.set(place, reading);
  }
  if (fresh.size === 0) return;
  for (const reading of fresh.values()) sorted.known.delete(reading.row);
  sorted.checks.push(groupCheck([...fresh.values()], asMeasured));
}
