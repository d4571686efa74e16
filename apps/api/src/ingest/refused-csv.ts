import type { Layout } from '#contract/ingest';
import { isOfRefusedRows, REFUSED_COLUMNS } from './fingerprint.js';
import type { Refusal } from './placed-row.js';
import { readTable } from './read-table.js';

/** The refused rows as they came, with line number and reason in front: to be put right and brought again. UTF-8 with a byte-order mark, so that spreadsheets show umlauts. */
export async function refusedCsv(content: Uint8Array, layout: Layout, refusals: readonly Refusal[]): Promise<string> {
  const reasons = new Map<number, string[]>();
  for (const { row, reason } of refusals) {
    const before = reasons.get(row);
    if (!before) reasons.set(row, [reason]);
    else if (!before.includes(reason)) before.push(reason);
  }
  const quote = (text: string) => (/["\r\n]/.test(text) || text.includes(layout.separator) ? `"${text.replaceAll('"', '""')}"` : text);
  const lines: string[] = [];
  // A file of refused rows that comes back and is refused again: its own row numbers and reasons make room for the new ones.
  let own = 0;
  for await (const { row, cells } of readTable(content, layout)) {
    const why = reasons.get(row);
    if (lines.length === 0) {
      own = isOfRefusedRows(cells) ? REFUSED_COLUMNS.length : 0;
      lines.push([...REFUSED_COLUMNS, ...cells.slice(own)].map(quote).join(layout.separator));
    } else if (why) lines.push([String(row), why.join('; '), ...cells.slice(own)].map(quote).join(layout.separator));
  }
  return `\uFEFF${lines.join('\r\n')}\r\n`;
}
