import type { Layout, Mapping, PreviewView, RowReason } from '#contract/ingest';
import { Problem } from '#contract/problem';
import type { Session } from '../platform/endpoint.js';
import type { Tx } from '../platform/work.js';
import { detectLayout } from './detect-layout.js';
import { fingerprintOf } from './fingerprint.js';
import { findImportView, findMapping, findStoredImport, loadNames } from './ingest.store.js';
import type { Refusal } from './placed-row.js';
import { readHead, readTable } from './read-table.js';
import { SHOWN, sortRows, type SortedPart } from './sort-rows.js';
import { storedPlacesOf } from './stored-places.js';
import { suggestMapping } from './suggest-mapping.js';

async function fileOf(tx: Tx, plantId: number, id: number) {
  const stored = await findStoredImport(tx, plantId, id);
  if (!stored) throw new Problem('not-found', `There is no import ${id}.`);
  return stored;
}

/** Header and first rows, how the file seems to be written, and what the columns hold: remembered from a file with the same header, else suggested. */
export async function lookAtFile(tx: Tx, session: Session, id: number, asked?: Layout) {
  const { content } = await fileOf(tx, session.plantId, id);
  const detected = detectLayout(content, session.timeZone);
  const { header, sample } = await readHead(content, asked ?? detected.layout);
  const kept = await findMapping(tx, session.plantId, fingerprintOf(header));
  // What this file shows is its own; what only a person can know is remembered.
  const layout = asked ?? (kept ? { ...kept.layout, ...detected.seen } : detected.layout);
  const mapping = kept ? forHeader(header, kept.mapping) : suggestMapping(header, sample, await loadNames(tx, session.plantId), layout.decimal);
  const view = await findImportView(tx, session.plantId, id);
  if (!view) throw new Problem('not-found', `There is no import ${id}.`);
  return { import: view, layout, mapping, remembered: kept !== null, undecided: asked || kept ? [] : detected.undecided, header, sample };
}

/** A remembered mapping, with the columns of this file: those of a file of refused rows are two more. */
export function forHeader(header: readonly string[], kept: Mapping): Mapping {
  const byColumn = new Map(kept.columns.map((entry) => [entry.column, entry]));
  return { ...kept, columns: header.map((column) => byColumn.get(column) ?? { column, field: 'ignore' }) };
}

/** Row by row what would happen, with counts; nothing is stored. */
export async function previewFile(tx: Tx, plantId: number, id: number, asked: { layout: Layout; mapping: Mapping }, now: Date): Promise<PreviewView> {
  const { content } = await fileOf(tx, plantId, id);
  const parts: SortedPart[] = [];
  for await (const part of sortRows({ content, ...asked, names: await loadNames(tx, plantId), now }, storedPlacesOf(tx, plantId))) parts.push(part);
  const sorted = wholeOf(parts);
  const byRow = new Map<number, Refusal[]>();
  const bySort = new Map<string, { rows: Set<number>; first: number; why: RowReason }>();
  for (const refusal of sorted.refusals) {
    const { row, reason, sort, why } = refusal;
    const reasons = byRow.get(row);
    if (!reasons) byRow.set(row, [refusal]);
    else if (!reasons.some((known) => known.reason === reason)) reasons.push(refusal);
    if (!why) continue;
    const entry = bySort.get(sort) ?? { rows: new Set<number>(), first: row, why };
    entry.rows.add(row);
    bySort.set(sort, entry);
  }
  const late = [...byRow.keys()].filter((row) => !sorted.cells.has(row)).slice(0, SHOWN);
  for (const [row, cells] of await cellsOf(content, asked.layout, new Set(late))) sorted.cells.set(row, cells);
  const checkOfRow = new Map(sorted.checks.flatMap((check) => check.rows.map((row) => [row, check] as const)));
  const rows = [...sorted.cells.keys()].sort((a, b) => a - b);
  const shown = [...rows.slice(0, SHOWN), ...rows.slice(SHOWN).filter((row) => byRow.has(row)).slice(0, SHOWN)];
  return {
    rows: sorted.rows, readings: sorted.readings, alreadyStored: sorted.alreadyStored, checks: sorted.checks.length, refusedRows: byRow.size,
    toStore: sorted.checks.reduce((sum, check) => sum + check.readings, 0),
    reasons: [...bySort].map(([reason, entry]) => ({ reason, why: entry.why, rows: entry.rows.size, firstRow: entry.first })).sort((a, b) => b.rows - a.rows || a.firstRow - b.firstRow).slice(0, 100),
    sample: shown.map((row) => {
      const why = byRow.get(row);
      const check = checkOfRow.get(row);
      const verdict = check ? 'store' : why ? 'refused' : 'already-stored';
      const what = why ? `${check ? 'all but: ' : ''}${why.map(({ reason }) => reason).join('; ')}` : check ? check.check.characteristics.map((entry) => entry.code).join(', ') : 'all readings of this row are stored already';
      return { row, cells: sorted.cells.get(row) ?? [], verdict, what, why: (why ?? []).flatMap((refusal) => (refusal.why ? [refusal.why] : [])), characteristics: check?.check.characteristics.map((entry) => entry.code) ?? [] };
    }),
  };
}

function wholeOf(parts: readonly SortedPart[]): Omit<SortedPart, 'expected'> {
  const sum = (pick: (part: SortedPart) => number) => parts.reduce((total, part) => total + pick(part), 0);
  return {
    rows: sum((part) => part.rows), readings: sum((part) => part.readings), alreadyStored: sum((part) => part.alreadyStored),
    checks: parts.flatMap((part) => part.checks), refusals: parts.flatMap((part) => part.refusals).sort((a, b) => a.row - b.row), cells: new Map(parts.flatMap((part) => [...part.cells])),
  };
}

/** The cells of rows whose refusal was found only after the whole file was read. */
async function cellsOf(content: Uint8Array, layout: Layout, wanted: ReadonlySet<number>): Promise<Map<number, string[]>> {
  const found = new Map<number, string[]>();
  if (wanted.size === 0) return found;
  for await (const { row, cells } of readTable(content, layout)) {
    if (wanted.has(row)) found.set(row, cells);
    if (found.size === wanted.size) break;
  }
  return found;
}
