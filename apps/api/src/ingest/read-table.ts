import { Readable } from 'node:stream';
import { parse } from 'csv-parse';
import type { Layout } from '#contract/ingest';
import { Problem } from '#contract/problem';
import { decode } from './detect-layout.js';

/** Rows of the file with their line numbers (the header is line 1), as they come; quoted separators and line breaks are understood, ragged rows come as they are. */
export async function* readTable(bytes: Uint8Array, layout: Layout): AsyncGenerator<{ row: number; cells: string[] }> {
  const text = decode(bytes, layout.encoding);
  const parser = parse({ delimiter: layout.separator, bom: true, relax_column_count: true, relax_quotes: true, skip_empty_lines: true, info: true });
  const pieces = function* () { for (let at = 0; at < text.length; at += 65_536) yield text.slice(at, at + 65_536); };
  const stream = Readable.from(pieces()).pipe(parser);
  try {
    for await (const { record, info } of stream as AsyncIterable<{ record: string[]; info: { lines: number } }>) yield { row: info.lines, cells: record };
  } catch (error) {
    throw new Problem('not-readable', `The file cannot be read as a table: ${error instanceof Error ? error.message : 'unknown'}`);
  }
}

/** Header and first rows, for the mapping step. */
export async function readHead(bytes: Uint8Array, layout: Layout, take = 8): Promise<{ header: string[]; sample: string[][] }> {
  const rows: string[][] = [];
  for await (const { cells } of readTable(bytes.subarray(0, 256 * 1024), layout)) {
    rows.push(cells);
    if (rows.length > take) break;
  }
  const [header, ...sample] = rows;
  if (!header || header.length < 2) throw new Problem('not-readable', 'A header line with at least two columns is expected: is the separator right?');
  return { header, sample };
}
