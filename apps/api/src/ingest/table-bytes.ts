import { Problem } from '#contract/problem';
import { isText } from './detect-layout.js';
import { isSheet, readSheet } from './read-sheet.js';

/** The text of the table that a file holds: a CSV file's own bytes, an XLSX file's first filled sheet. */
export async function tableBytes(bytes: Uint8Array): Promise<Uint8Array> {
  if (isSheet(bytes)) return readSheet(bytes);
  if (!isText(bytes)) throw new Problem('not-readable', 'The file is empty, or neither text in UTF-8 or Windows-1252 nor XLSX. Save it as CSV or XLSX and bring that.');
  return bytes;
}
