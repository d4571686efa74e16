import { Readable } from 'node:stream';
import { setImmediate } from 'node:timers/promises';
import { parse } from 'csv-parse';
import type { Layout } from '#contract/ingest';
import { Problem } from '#contract/problem';
import { decode } from './detect-layout.js';

const PIECE = 64 * 1024;
const MOST_COLUMNS = 400;
const HEAD_BYTES = 256 * 1024;

/** Rows of the file with their line numbers (the header is line 1), as they come; quoted separators and line breaks are understood, ragged rows come as they are. */
export async function* readTable(bytes: Uint8Array, layout: Layout): AsyncGenerator<{ row: number; cells: string[] }> {
  const text = Buffer.from(decode(bytes, layout.encoding));
  const parser = parse({ delimiter: layout.separator, bom: true, relax_column_count: true, relax_quotes: true, skip_empty_lines: true, info: true });
  // Between pieces other requests get their turn: a large file must not hold up a check that is being logged.
  const pieces = async function* () {
    for (let at = 0; at < text.length; at += PIECE) {
      yield text.subarray(at, at + PIECE);
      await setImmediate();
    }
  };
  const source = Readable.from(pieces(), { objectMode: false });
  let header = true;
  try {
    for await (const { record, info } of source.pipe(parser) as AsyncIterable<{ record: string[]; info: { lines: number } }>) {
      yield { row: info.lines, cells: header ? distinct(record) : record };
      header = false;
    }
  } catch (error) {
    if (isTableError(error)) throw new Problem('not-readable', `The file cannot be read as a table: ${error.message}`);
    throw error;
  } finally {
    source.destroy();
    parser.destroy();
  }
}

const isTableError = (error: unknown): error is Error => error instanceof Error && 'code' in error && String(error.code).startsWith('CSV_');

/** Columns are told apart by name: an empty one is called by its place, a repeated one gets a number. */
function distinct(header: readonly string[]): string[] {
  const used = new Set<string>();
  return header.map((cell, index) => {
    const name = cell.trim().slice(0, 180) || `column ${index + 1}`;
    let column = name;
    for (let again = 2; used.has(column); again += 1) column = `${name} (${again})`;
    used.add(column);
    return column;
  });
}

/** Header and first rows, for the mapping step. */
export async function readHead(bytes: Uint8Array, layout: Layout, take = 8): Promise<{ header: string[]; sample: string[][] }> {
  const rows: string[][] = [];
  try {
    for await (const { cells } of readTable(bytes.subarray(0, HEAD_BYTES), layout)) {
      rows.push(cells);
      if (rows.length > take) break;
    }
  } catch (error) {
    // The first part of a larger file may end inside a quoted cell: what came before is enough.
    if (bytes.length <= HEAD_BYTES || rows.length < 2) throw error;
  }
  const [header, ...sample] = rows;
  if (!header || header.length < 2) throw new Problem('not-readable', 'A header line with at least two columns is expected: is the separator right?');
  if (header.length > MOST_COLUMNS) throw new Problem('not-readable', `At most ${MOST_COLUMNS} columns are taken, the header line has ${header.length}.`);
  return { header, sample };
}
