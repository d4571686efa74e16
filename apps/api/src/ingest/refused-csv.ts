import type { Layout } from '#contract/ingest';
import type { Refusal } from './map-rows.js';
import { readTable } from './read-table.js';

/** The refused rows as they came, with line number and reason in front: to be put right and brought again. UTF-8 with a byte-order mark, so that spreadsheets show umlauts. */
export async function refusedCsv(content: Uint8Array, layout: Layout, refusals: readonly Refusal[]): Promise<string> {
  const reasons = new Map<number, string[]>();
  for (const { row, reason } of refusals) reasons.set(row, [...(reasons.get(row) ?? []), reason]);
  const quote = (text: string) => (/["\r\n]/.test(text) || text.includes(layout.separator) ? `"${text.replaceAll('"', '""')}"` : text);
  const lines: string[] = [];
  let header = true;
  for await (const { row, cells } of readTable(content, layout)) {
    const why = reasons.get(row);
    if (header) lines.push(['row', 'reason', ...cells].map(quote).join(layout.separator));
    else if (why) lines.push([String(row), [...new Set(why)].join('; '), ...cells].map(quote).join(layout.separator));
    header = false;
  }
  return `\uFEFF${lines.join('\r\n')}\r\n`;
}
