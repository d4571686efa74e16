import type { Layout, Mapping } from '#contract/ingest';
import { Problem } from '#contract/problem';
import { decode } from './detect-layout.js';
import { checkKey, groupCheck, type ImportCheck } from './group-checks.js';
import { keepNew, type StoredPlace } from './keep-new.js';
import { RowMapper } from './map-rows.js';
import type { Names } from './names.js';
import type { Place, PlacedRow, Refusal } from './placed-row.js';
import { readTable } from './read-table.js';
import { countChecksInOrder } from './row-order.js';

/** A file, and what it takes to say of each reading: to be stored, stored already, or refused and why. */
export type FileToSort = { content: Uint8Array; layout: Layout; mapping: Mapping; names: Names; now: Date };
export type MomentOfFile = Pick<Place, 'machineId' | 'productId' | 'takenAt'>;
/** What is stored already at some moments. */
export type StoredOf = (moments: readonly MomentOfFile[]) => Promise<(StoredPlace & MomentOfFile)[]>;
/** Whole checks in order of time, and what else was found since the part before. */
export type SortedPart = {
  /** How many checks the file has in all, as far as can be seen: refused ones may be among them. */ expected: number;
  rows: number; readings: number; alreadyStored: number; checks: ImportCheck[]; refusals: Refusal[];
  /** Cells of the rows that a preview shows: the first ones and the first refused ones of the file. */ cells: Map<number, string[]>;
};
export const SHOWN = 100;
const MOMENTS_AT_ONCE = 400;
/** The first parts are small, so that storing begins early and does not wait for the next one. */
const FIRST_MOMENTS = [50, 50, 100, 200];

type Moments = Map<string, PlacedRow[]>;

/**
 * Reads a file and answers its checks, part by part while it reads where its rows are in order, else at its end; the parts
 * are in order of time. Stores nothing.
 * @throws Problem invalid-input where the mapping lacks something, not-readable
 */
export async function* sortRows({ content, layout, mapping, names, now }: FileToSort, storedOf: StoredOf): AsyncGenerator<SortedPart> {
  let mapper: RowMapper | undefined;
  let expected: number | null = null;
  let [rows, parts, shownRefused, last] = [0, 0, 0, ''];
  let [part, moments]: [SortedPart, Moments] = [newPart(), new Map()];
  let asked: { part: Promise<SortedPart>; answered: boolean } | undefined;
  const ask = () => {
    const asking = { part: sortMoments(part, moments, storedOf, mapping.asMeasured, expected), answered: false };
    // Awaited later; until then its failure is nobody's unhandled one.
    asking.part.catch(() => {}).finally(() => { asking.answered = true; });
    [part, moments] = [newPart(), new Map()];
    return asking;
  };
  for await (const { row, cells } of readTable(content, layout)) {
    if (!mapper) {
      mapper = new RowMapper(cells, layout, mapping, names, now);
      const missing = mapper.missing();
      if (missing.length > 0) throw lacking(missing);
      expected = countChecksInOrder(decode(content, layout.encoding), layout, mapper);
      continue;
    }
    rows += 1;
    part.rows += 1;
    const { placed, refusals } = mapper.map(row, cells);
    if (rows <= SHOWN || (refusals.length > 0 && shownRefused < SHOWN)) part.cells.set(row, cells);
    if (refusals.length > 0) shownRefused += 1;
    for (const refusal of refusals) part.refusals.push(refusal);
    if (!placed) continue;
    const key = checkKey(placed);
    const full = expected !== null && key !== last && moments.size >= (FIRST_MOMENTS[parts] ?? MOMENTS_AT_ONCE);
    if (asked && (full || asked.answered)) {
      yield await asked.part;
      asked = undefined;
    }
    if (full) {
      asked = ask();
      parts += 1;
    }
    last = key;
    part.readings += placed.values.length;
    push(moments, key, placed);
  }
  if (!mapper) throw lacking(['a header line']);
  if (asked) yield await asked.part;
  yield await ask().part;
}

/** What a mapping lacks before it can be used, as a refusal. */
export const lacking = (missing: readonly string[]): Problem => new Problem('invalid-input', `The mapping lacks ${missing.join('; ')}.`, missing.map((expected) => ({ field: 'mapping', expected })));

const newPart = (): SortedPart => ({ expected: 0, rows: 0, readings: 0, alreadyStored: 0, checks: [], refusals: [], cells: new Map() });

async function sortMoments(part: SortedPart, moments: Moments, storedOf: StoredOf, asMeasured: boolean, expected: number | null): Promise<SortedPart> {
  const entries = [...moments];
  for (let first = 0; first < entries.length; first += MOMENTS_AT_ONCE) {
    const slice = entries.slice(first, first + MOMENTS_AT_ONCE);
    const stored: Map<string, StoredPlace[]> = new Map();
    for (const place of await storedOf(slice.flatMap(([, [row]]) => (row ? [{ machineId: row.machineId, productId: row.productId, takenAt: row.takenAt }] : [])))) push(stored, checkKey(place), place);
    for (const [key, rows] of slice) for (const group of byNumber(rows)) sortGroup(part, group, stored.get(key) ?? [], asMeasured);
  }
  part.checks.sort((a, b) => (a.check.takenAt < b.check.takenAt ? -1 : a.check.takenAt > b.check.takenAt ? 1 : 0));
  part.refusals.sort((a, b) => a.row - b.row);
  part.expected = expected ?? part.checks.length;
  return part;
}

function sortGroup(part: SortedPart, rows: readonly PlacedRow[], there: readonly StoredPlace[], asMeasured: boolean): void {
  const { fresh, known, refusals } = keepNew(rows, there);
  part.alreadyStored += known;
  for (const refusal of refusals) part.refusals.push(refusal);
  if (fresh.length === 0) return;
  const check = groupCheck(fresh, asMeasured);
  if ('check' in check) part.checks.push(check);
  else for (const row of new Set(fresh.map((entry) => entry.row))) part.refusals.push({ row, reason: check.expected, sort: check.expected, why: { code: 'check-size', values: check.size } });
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
