import type { Layout, Mapping } from '#contract/ingest';
import type { Tx } from '../platform/work.js';
import { checkKey, groupCheck, type ImportCheck } from './group-checks.js';
import { keepNew, type StoredPlace } from './keep-new.js';
import { listStoredPlaces } from './ingest.store.js';
import { RowMapper } from './map-rows.js';
import type { Names } from './names.js';
import type { PlacedRow, Refusal } from './placed-row.js';
import { readTable } from './read-table.js';

export type SortedRows = {
  header: string[]; rows: number; readings: number; alreadyStored: number; checks: ImportCheck[]; refusals: Refusal[];
  /** Cells of the rows that a preview shows: the first ones and the first refused ones. */
  cells: Map<number, string[]>;
};
export const SHOWN = 100;
const MOMENTS_AT_ONCE = 1000;

/** Reads the whole file and says of each reading: to be stored, stored already, or refused and why. Stores nothing. */
export async function sortRows(tx: Tx, plantId: number, content: Uint8Array, layout: Layout, mapping: Mapping, names: Names, now: Date): Promise<SortedRows | { missing: string[] }> {
  let mapper: RowMapper | undefined;
  let shownRefused = 0;
  const sorted: SortedRows = { header: [], rows: 0, readings: 0, alreadyStored: 0, checks: [], refusals: [], cells: new Map() };
  const moments = new Map<string, PlacedRow[]>();
  for await (const { row, cells } of readTable(content, layout)) {
    if (!mapper) {
      sorted.header = cells;
      mapper = new RowMapper(cells, layout, mapping, names, now);
      const missing = mapper.missing();
      if (missing.length > 0) return { missing };
      continue;
    }
    sorted.rows += 1;
    const { placed, refusals } = mapper.map(row, cells);
    if (sorted.rows <= SHOWN || (refusals.length > 0 && shownRefused < SHOWN)) sorted.cells.set(row, cells);
    if (refusals.length > 0) shownRefused += 1;
    for (const refusal of refusals) sorted.refusals.push(refusal);
    if (!placed) continue;
    sorted.readings += placed.values.length;
    push(moments, checkKey(placed), placed);
  }
  if (!mapper) return { missing: ['a header line'] };
  const entries = [...moments];
  for (let first = 0; first < entries.length; first += MOMENTS_AT_ONCE) {
    const slice = entries.slice(first, first + MOMENTS_AT_ONCE);
    const stored = await storedPlaces(tx, plantId, slice.flatMap(([, rows]) => rows.slice(0, 1)));
    for (const [key, rows] of slice) for (const group of byNumber(rows)) sortGroup(sorted, group, stored.get(key) ?? [], mapping.asMeasured);
  }
  sorted.checks.sort((a, b) => (a.check.takenAt < b.check.takenAt ? -1 : a.check.takenAt > b.check.takenAt ? 1 : 0));
  sorted.refusals.sort((a, b) => a.row - b.row);
  return sorted;
}

function sortGroup(sorted: SortedRows, rows: readonly PlacedRow[], there: readonly StoredPlace[], asMeasured: boolean): void {
  const { fresh, known, refusals } = keepNew(rows, there);
  sorted.alreadyStored += known;
  for (const refusal of refusals) sorted.refusals.push(refusal);
  if (fresh.length === 0) return;
  const check = groupCheck(fresh, asMeasured);
  if ('check' in check) sorted.checks.push(check);
  else for (const row of new Set(fresh.map((entry) => entry.row))) sorted.refusals.push({ row, reason: check.expected, sort: check.expected, why: { code: 'check-size', values: check.size } });
}

/** Rows of one moment by the check number of the file. */
function byNumber(rows: PlacedRow[]): PlacedRow[][] {
  const number = rows[0]?.checkNumber;
  if (rows.every((row) => row.checkNumber === number)) return [rows];
  const groups = new Map<string, PlacedRow[]>();
  for (const row of rows) push(groups, row.checkNumber, row);
  return [...groups.values()];
}

function push<Value>(groups: Map<string, Value[]>, key: string, value: Value): void {
  const group = groups.get(key);
  if (group) group.push(value);
  else groups.set(key, [value]);
}

async function storedPlaces(tx: Tx, plantId: number, moments: readonly PlacedRow[]): Promise<Map<string, StoredPlace[]>> {
  const places = new Map<string, StoredPlace[]>();
  for (const row of await listStoredPlaces(tx, plantId, moments)) {
    push(places, checkKey({ machineId: row.machine_id, productId: row.product_id, takenAt: row.taken_at.toISOString() }), {
      unitId: row.unit_id, laneId: row.lane_id, can: row.can, characteristicId: row.characteristic_id, position: row.position, value: row.value, checkId: row.check_id, key: row.key,
    });
  }
  return places;
}
