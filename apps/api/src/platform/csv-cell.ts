export type CsvCell = string | number | null;

/** One cell of a CSV file for people (RFC 4180): numbers with all their digits, null is empty, and text that a spreadsheet would run as a formula gets an apostrophe before it. */
export function csvCell(value: CsvCell): string {
  if (value === null) return '';
  if (typeof value === 'number') return String(value);
  const text = /^[=+\-@\t\r]/.test(value) ? `'${value}` : value;
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

/** Rows of cells, each ended by CR LF as RFC 4180 has it. */
export const csvText = (rows: readonly (readonly CsvCell[])[]): string => rows.map((row) => `${row.map(csvCell).join(',')}\r\n`).join('');

/** ASCII for a file's name, without what a file system or a header would refuse. */
export const csvFileName = (parts: readonly string[]): string => `${parts.map((part) => part.replace(/[^A-Za-z0-9.-]+/g, '-')).join('_')}.csv`;
