import type { Layout } from '#contract/ingest';

const HEAD_BYTES = 64 * 1024;
const DATES = /(?<!\d)(\d{1,4})([./-])(\d{1,2})\2(\d{1,4})(?!\d)/g;

/** `seen`: what the file itself decides. `undecided`: what it shows and leaves open, so that a person has to say. */
export type Detected = { layout: Layout; seen: Partial<Layout>; undecided: 'dateOrder'[] };

/** How a file seems to be written, from its bytes: a suggestion that a person confirms. Refuses nothing; text that is none at all is told apart by `isText`. */
export function detectLayout(bytes: Uint8Array, timeZone: string): Detected {
  const encoding = isUtf8(bytes) ? 'utf-8' : 'windows-1252';
  const head = decode(bytes.subarray(0, HEAD_BYTES), encoding);
  const lines = head.split(/\r\n|\n|\r/).filter((line) => line.trim() !== '');
  const header = lines[0] ?? '';
  const count = (separator: string) => header.split(separator).length;
  const separator = ([';', '\t', ','] as const).reduce((best, candidate) => (count(candidate) > count(best) ? candidate : best));
  const cells = lines.slice(1, 200).flatMap((line) => line.split(separator).map((cell) => cell.replace(/^\s*"|"\s*$/g, '')));
  const decimalCommas = separator === ',' ? 0 : cells.filter((cell) => /^\s*-?\d*,\d+\s*$/.test(cell)).length;
  const decimalPoints = cells.filter((cell) => /^\s*-?\d*\.\d+\s*$/.test(cell)).length;
  const decimal = decimalCommas > decimalPoints ? ',' : '.';
  const dates = dateOrderOf(lines.slice(1).join('\n'));
  return {
    layout: { encoding, separator, decimal, dateOrder: dates.guess, timeZone },
    seen: { encoding, separator, ...(decimalCommas + decimalPoints > 0 ? { decimal } : {}), ...(dates.proof === 'numbers' ? { dateOrder: dates.guess } : {}) },
    undecided: dates.proof === 'open' ? ['dateOrder'] : [],
  };
}

function dateOrderOf(text: string): { guess: Layout['dateOrder']; proof: 'numbers' | 'habit' | 'open' } {
  let dot = false;
  let slash = false;
  for (const [, first = '', mark, second = '', third = ''] of text.matchAll(DATES)) {
    if (first.length === 4) return { guess: 'year-month-day', proof: 'numbers' };
    if (third.length !== 4) continue;
    if (Number(first) > 12 && Number(second) <= 12) return { guess: 'day-month-year', proof: 'numbers' };
    if (Number(second) > 12 && Number(first) <= 12) return { guess: 'month-day-year', proof: 'numbers' };
    if (mark === '.') dot = true;
    else slash = true;
  }
  // Points between the numbers are the European way. Slashes with no number above 12 are written both ways: a person must say.
  if (dot) return { guess: 'day-month-year', proof: 'habit' };
  return slash ? { guess: 'month-day-year', proof: 'open' } : { guess: 'year-month-day', proof: 'habit' };
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
export const isText = (bytes: Uint8Array): boolean => bytes.length > 0 && !bytes.includes(0);
