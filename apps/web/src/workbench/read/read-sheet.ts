import { unzipSync, zipSync } from 'fflate';
import { readSheet } from 'read-excel-file/universal';

/**
 * The first sheet of a spreadsheet file as text, one line a row, cells parted by tabs, with decimal points.
 * Packed anew without compression first: the reader hands large compressed parts to workers made from text, which the page's own policy rightly forbids.
 */
export async function sheetText(file: ArrayBuffer): Promise<string> {
  const loose = zipSync(unzipSync(new Uint8Array(file)), { level: 0 });
  const rows = await readSheet(loose.buffer.slice(loose.byteOffset, loose.byteOffset + loose.byteLength) as ArrayBuffer);
  return rows.map((row) => row.map(cellText).join('\t')).join('\n');
}

function cellText(cell: unknown): string {
  if (cell === null || cell === undefined) return '';
  if (cell instanceof Date) return cell.toISOString().slice(0, 19);
  return String(cell).replace(/[\t\r\n]+/g, ' ');
}
