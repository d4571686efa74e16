import { parse } from 'csv-parse/browser/esm/sync';
import { DELIMITERS, type FixedLayout, guessLayout, type Layout } from './guess-layout.js';
import { type DecimalMark, decimalsOf, readNumber } from './read-number.js';

/** How many cells one table may hold. */
export const MOST_CELLS = 1_000_000;
const REFUSED_KEPT = 200;

/** A cell that holds text, by the line of the source it stands in (from 1). */
export type TextCell = { line: number; text: string };
export type Column = {
  name: string;
  /** One a row; NaN: the cell is empty, or its text is no number. */
  numbers: Float64Array;
  /** What the cells say, kept where any of them is more than a number; null: all are numbers or empty. */
  texts: readonly string[] | null;
  missing: number;
  /** Cells that are no number, and the first of them. */
  textCount: number;
  firstTexts: readonly TextCell[];
  decimals: number;
};
export type DataTable = { layout: Layout; doubtful: boolean; rows: number; firstLine: number; columns: readonly Column[] };
export type ReadFault = { code: 'empty' | 'too-many' | 'quotes' | 'no-sheet'; line?: number; found?: number };
export type ReadAnswer = { table: DataTable } | { fault: ReadFault };

/** A pasted or dropped text as columns. Nothing is dropped silently: what is no number stays known with its line. */
export function readTable(text: string, fixed: FixedLayout = {}, progress: (share: number) => void = () => undefined): ReadAnswer {
  const source = text.replace(/^\uFEFF/, '').replace(/\s+$/, '');
  if (source === '') return { fault: { code: 'empty' } };
  const { doubtful, ...layout } = guessLayout(source, fixed);
  const rows = parted(source, layout, progress);
  if ('fault' in rows) return rows;
  return columnsOf(rows.rows, layout, doubtful, progress);
}

function parted(source: string, layout: Layout, progress: (share: number) => void): { rows: string[][] } | { fault: ReadFault } {
  if (layout.delimiter === 'none') return { rows: source.split(/\r\n|\n|\r/).map((line) => [line.trim().replace(/^"(.*)"$/, '$1')]) };
  if (layout.delimiter === 'space') return { rows: source.split(/\r\n|\n|\r/).map((line) => line.trim().split(/\s+/)) };
  try {
    let seen = 0;
    // Once every 20,000 rows is often enough for a bar, and costs nothing.
    const rows = parse(source, { delimiter: DELIMITERS[layout.delimiter], relax_column_count: true, skip_empty_lines: false, on_record: (record: string[]) => {
      seen += 1;
      if (seen % 20_000 === 0) progress(Math.min(0.5, seen / 2 / (seen + 20_000)));
      return record;
    } });
    return { rows: rows as string[][] };
  } catch (error) {
    const line = typeof error === 'object' && error !== null && 'lines' in error && typeof error.lines === 'number' ? error.lines : undefined;
    return { fault: { code: 'quotes', ...(line === undefined ? {} : { line }) } };
  }
}

/** Rows that were parted already, as from a spreadsheet, or from the text above. Rows may differ in length. */
export function columnsOf(rows: readonly (readonly string[])[], layout: Layout, doubtful: boolean, progress: (share: number) => void = () => undefined): ReadAnswer {
  const names = layout.header ? rows[0] ?? [] : [];
  const body = layout.header ? rows.slice(1) : rows;
  const width = body.reduce((most, row) => Math.max(most, row.length), names.length);
  if (body.length === 0 || width === 0) return { fault: { code: 'empty' } };
  if (body.length * width > MOST_CELLS) return { fault: { code: 'too-many', found: body.length * width } };
  const firstLine = layout.header ? 2 : 1;
  const known = new Map<string, number>();
  const columns = Array.from({ length: width }, (_none, place) => {
    const column = readColumn(body, place, layout.decimal, firstLine);
    progress(0.5 + (place + 1) / width / 2);
    return { ...column, name: nameOf(names[place], place, known) };
  });
  return { table: { layout, doubtful, rows: body.length, firstLine, columns } };
}

function readColumn(rows: readonly (readonly string[])[], place: number, decimal: DecimalMark, firstLine: number): Omit<Column, 'name'> {
  const numbers = new Float64Array(rows.length);
  const firstTexts: TextCell[] = [];
  let [missing, textCount, decimals, needsTexts] = [0, 0, 0, false];
  rows.forEach((row, index) => {
    const cell = row[place] ?? '';
    const read = readNumber(cell, decimal);
    numbers[index] = typeof read === 'number' ? read : Number.NaN;
    if (read === 'missing') missing += 1;
    else if (read === 'text') {
      textCount += 1;
      if (firstTexts.length < REFUSED_KEPT) firstTexts.push({ line: index + firstLine, text: cell.trim().slice(0, 80) });
    } else decimals = Math.max(decimals, decimalsOf(cell, decimal));
    // "007" and "7" name different cans.
    needsTexts ||= read === 'text' || /^\s*0\d/.test(cell);
  });
  return { numbers, texts: needsTexts ? rows.map((row) => (row[place] ?? '').trim()) : null, missing, textCount, firstTexts, decimals: Math.min(decimals, 12) };
}

/** The heading, or the letter that a spreadsheet would give the column; never the same name twice. */
function nameOf(heading: string | undefined, place: number, known: Map<string, number>): string {
  const name = heading?.trim() || letters(place);
  const count = (known.get(name) ?? 0) + 1;
  known.set(name, count);
  return count === 1 ? name : `${name} (${count})`;
}

function letters(place: number): string {
  const rest = Math.floor(place / 26) - 1;
  return (rest >= 0 ? letters(rest) : '') + String.fromCharCode(97 + (place % 26));
}
