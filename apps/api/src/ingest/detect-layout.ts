import type { Layout } from '#contract/ingest';

const DATES = /(\d{1,4})([./-])(\d{1,2})[./-](\d{1,4})[T ,]+\d{1,2}:\d{2}/g;

/** How a file seems to be written, from its bytes: a suggestion that a person confirms. Throws nothing; text that is none at all is told apart by `isText`. */
export function detectLayout(bytes: Uint8Array, timeZone: string): Layout {
  const encoding = isUtf8(bytes) ? 'utf-8' : 'windows-1252';
  const head = decode(bytes.subarray(0, 64 * 1024), encoding);
  const lines = head.split(/\r?\n/).filter((line) => line.trim() !== '').slice(0, 30);
  const header = lines[0] ?? '';
  const count = (separator: string) => header.split(separator).length;
  const separator = ([';', '\t', ','] as const).reduce((best, candidate) => (count(candidate) > count(best) ? candidate : best));
  const cells = lines.slice(1).flatMap((line) => line.split(separator));
  const decimalCommas = separator === ',' ? 0 : cells.filter((cell) => /^\s*-?\d+,\d+\s*$/.test(cell)).length;
  const decimalPoints = cells.filter((cell) => /^\s*-?\d+\.\d+\s*$/.test(cell)).length;
  return { encoding, separator, decimal: decimalCommas > decimalPoints ? ',' : '.', dateOrder: dateOrderOf(lines.slice(1).join('\n')), timeZone };
}

function dateOrderOf(text: string): Layout['dateOrder'] {
  let dot = false;
  for (const [, first, mark, second, third] of text.matchAll(DATES)) {
    if ((first ?? '').length === 4) return 'year-month-day';
    if ((third ?? '').length !== 4) continue;
    if (Number(first) > 12) return 'day-month-year';
    if (Number(second) > 12) return 'month-day-year';
    if (mark === '.') dot = true;
  }
  // Points between the numbers are the European way; slashes with no number above 12 stay undecided: the commoner US order, for a person to confirm.
  return dot ? 'day-month-year' : /\d\/\d/.test(text) ? 'month-day-year' : 'year-month-day';
}

function isUtf8(bytes: Uint8Array): boolean {
  try {
    new TextDecoder('utf-8', { fatal: true }).decode(bytes);
    return true;
  } catch {
    return false;
  }
}

/** The text without a byte-order mark. */
export const decode = (bytes: Uint8Array, encoding: Layout['encoding']): string => new TextDecoder(encoding).decode(bytes);

/** A table has no NUL bytes; pictures, spreadsheets and archives do. */
export const isText = (bytes: Uint8Array): boolean => bytes.length > 0 && !bytes.subarray(0, 64 * 1024).includes(0);
