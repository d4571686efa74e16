import type { Place, PlacedRow } from './placed-row.js';

export type CanOfCheck = { place: number; number: number; unitId: number | null; laneId: number | null };
/** `cans` by key, in the order in which they come; `places`: which can each row is of. */
export type CansOfRows = { cans: ReadonlyMap<string, CanOfCheck>; places: readonly number[] };

/** Which can of a check it is: numbers are counted by unit and lane. */
export const canKey = ({ unitId, laneId, can }: Pick<Place, 'unitId' | 'laneId' | 'can'>): string => `${unitId ?? 0}/${laneId ?? 0}/${can}`;

let last: { rows: readonly PlacedRow[]; found: CansOfRows } | undefined;

/** The cans of some rows. Found again, as the same object, where the rows that were asked about before are of the same cans, as from check to check of most files. */
export function cansOfRows(rows: readonly PlacedRow[]): CansOfRows {
  if (last === undefined || !areOfSameCans(rows, last.rows)) last = { rows, found: find(rows) };
  return last.found;
}

function areOfSameCans(rows: readonly PlacedRow[], others: readonly PlacedRow[]): boolean {
  return rows.length === others.length && rows.every((row, index) => {
    const other = others[index];
    return other !== undefined && row.can === other.can && row.unitId === other.unitId && row.laneId === other.laneId;
  });
}

function find(rows: readonly PlacedRow[]): CansOfRows {
  const cans = new Map<string, CanOfCheck>();
  const places = rows.map((row) => {
    const key = canKey(row);
    const known = cans.get(key);
    if (known) return known.place;
    const place = cans.size;
    cans.set(key, { place, number: row.can, unitId: row.unitId, laneId: row.laneId });
    return place;
  });
  return { cans, places };
}
