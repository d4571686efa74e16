import { unzipSync, zipSync } from 'fflate';
import writeExcelFile from 'write-excel-file/node';

export type SheetCell = { value: number; type: NumberConstructor; format?: string } | { value: string; type: StringConstructor; fontWeight?: 'bold'; wrap?: boolean } | { value: string; type: 'Formula'; format?: string } | null;
export type SheetOf = { sheet: string; data: SheetCell[][]; columns?: { width: number }[]; stickyRowsCount?: number };

export const textCell = (value: string, isBold = false): SheetCell => ({ value, type: String, ...(isBold ? { fontWeight: 'bold' as const } : {}) });
export const numberCell = (value: number | null | undefined): SheetCell => (value === null || value === undefined ? null : { value, type: Number });
export const formulaCell = (value: string): SheetCell => ({ value, type: 'Formula' });

/** A, B … Z, AA: columns from 0. */
export function columnName(index: number): string {
  return index < 26 ? String.fromCharCode(65 + index) : `${columnName(Math.floor(index / 26) - 1)}${String.fromCharCode(65 + (index % 26))}`;
}

/** The local clock is written into a zip: this date reads the same everywhere. */
const FIXED = new Date(1980, 0, 1);

/** The same sheets give the same bytes: entries in the order of their names, with one fixed date. */
export async function xlsxBytes(sheets: readonly SheetOf[], at: string): Promise<Buffer> {
  const written = unzipSync(await writeExcelFile(sheets.map((sheet) => ({ ...sheet }))).toBuffer());
  const decode = (bytes: Uint8Array) => Buffer.from(bytes).toString('utf8');
  const entries = Object.keys(written).sort().map((name) => {
    const bytes = written[name] as Uint8Array;
    const isDated = name === 'docProps/core.xml';
    return [name, [isDated ? Buffer.from(decode(bytes).replace(/\d{4}-\d{2}-\d{2}T[0-9:.]+Z/g, at)) : bytes, { mtime: FIXED, level: 6 as const }]] as const;
  });
  return Buffer.from(zipSync(Object.fromEntries(entries.map(([name, [bytes, options]]) => [name, [new Uint8Array(bytes), options]]))));
}
