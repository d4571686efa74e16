import { createHash } from 'node:crypto';
import type { Layout, Mapping, PreviewView } from '#contract/ingest';
import { Problem } from '#contract/problem';
import type { Session } from '../platform/endpoint.js';
import type { Tx } from '../platform/work.js';
import { detectLayout } from './detect-layout.js';
import { findImportView, findMapping, findStoredImport, loadNames } from './ingest.store.js';
import { readHead } from './read-table.js';
import { sortRows } from './sort-rows.js';
import { suggestMapping } from './suggest-mapping.js';

async function fileOf(tx: Tx, plantId: number, id: number) {
  const stored = await findStoredImport(tx, plantId, id);
  if (!stored) throw new Problem('not-found', `There is no import ${id}.`);
  return stored;
}

/** Header and first rows, how the file seems to be written, and what the columns hold: remembered from a file with the same header, else suggested. */
export async function lookAtFile(tx: Tx, session: Session, id: number, asked?: Layout) {
  const { content } = await fileOf(tx, session.plantId, id);
  const layout = asked ?? detectLayout(content, session.timeZone);
  const { header, sample } = await readHead(content, layout);
  const kept = await findMapping(tx, session.plantId, createHash('sha256').update(JSON.stringify(header)).digest('hex'));
  const mapping = kept?.mapping ?? suggestMapping(header, sample, await loadNames(tx, session.plantId), layout.decimal);
  const view = await findImportView(tx, session.plantId, id);
  if (!view) throw new Problem('not-found', `There is no import ${id}.`);
  return { import: view, layout: asked ?? kept?.layout ?? layout, mapping, remembered: kept !== null, header, sample };
}

const SHOWN = 100;

/** Row by row what would happen, with counts; nothing is stored. */
export async function previewFile(tx: Tx, plantId: number, id: number, asked: { layout: Layout; mapping: Mapping }, now: Date): Promise<PreviewView> {
  const { content } = await fileOf(tx, plantId, id);
  const sorted = await sortRows(tx, plantId, content, asked.layout, asked.mapping, await loadNames(tx, plantId), now);
  if ('missing' in sorted) throw new Problem('invalid-input', `The mapping lacks ${sorted.missing.join('; ')}.`, sorted.missing.map((expected) => ({ field: 'mapping', expected })));
  const byRow = new Map<number, string[]>();
  const byReason = new Map<string, { rows: Set<number>; first: number }>();
  for (const { row, reason } of sorted.refusals) {
    byRow.set(row, [...(byRow.get(row) ?? []), reason]);
    const entry = byReason.get(reason) ?? { rows: new Set<number>(), first: row };
    entry.rows.add(row);
    byReason.set(reason, entry);
  }
  const checkOfRow = new Map(sorted.checks.flatMap((check) => check.rows.map((row) => [row, check] as const)));
  const rows = [...sorted.cells.keys()].sort((a, b) => a - b);
  const shown = [...rows.slice(0, SHOWN), ...rows.slice(SHOWN).filter((row) => byRow.has(row)).slice(0, SHOWN)];
  return {
    rows: sorted.rows, readings: sorted.readings, alreadyStored: sorted.alreadyStored, checks: sorted.checks.length, refusedRows: byRow.size,
    toStore: sorted.checks.reduce((sum, { check }) => sum + check.characteristics.reduce((inside, entry) => inside + entry.readings.filter((reading) => reading !== null).length, 0), 0),
    reasons: [...byReason].map(([reason, entry]) => ({ reason, rows: entry.rows.size, firstRow: entry.first })).sort((a, b) => b.rows - a.rows).slice(0, 50),
    sample: shown.map((row) => {
      const why = byRow.get(row);
      const check = checkOfRow.get(row);
      const verdict = why && !check ? 'refused' : check ? 'store' : sorted.known.has(row) ? 'already-stored' : 'refused';
      const what = why ? [...new Set(why)].join('; ') : check ? `${check.check.characteristics.map((entry) => entry.code).join(', ')} at ${check.check.takenAt}` : 'all readings of this row are stored already';
      return { row, cells: sorted.cells.get(row) ?? [], verdict, what };
    }),
  };
}
