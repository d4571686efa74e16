import { type CodeFieldName, codeFieldNames, fixedDigits, isCodeFieldName, sizesOf } from './fields.js';

/** `size` is the number of characters; null where the codes of the plant say it, or for text of any length. */
export type PatternPart =
  | { readonly kind: 'literal'; readonly text: string }
  | { readonly kind: 'field'; readonly field: CodeFieldName; readonly size: number | null };
export type CodePattern = { readonly text: string; readonly parts: readonly PatternPart[] };

/** `position` counts characters of the pattern from 1. */
export type PatternFault = { readonly position: number; readonly expected: string };
export type ParsedPattern = { readonly ok: true; readonly pattern: CodePattern } | { readonly ok: false; readonly fault: PatternFault };

const MOST_CHARACTERS = 200;

/** Codes are compared without blanks and capital letters: people type them from a can. */
export const squeeze = (text: string): string => text.replace(/\s+/g, '').toUpperCase();

/**
 * Reads a can-code pattern such as `{line} {year:2}{day-of-year} {hour}{minute} {lane}`: fields in braces, everything else as it is
 * printed. It has to name a day, and nothing twice; at most one `{text}` has no length, so that a code is read in few ways.
 * @returns the pattern, or the first fault with its place
 */
export function parsePattern(text: string): ParsedPattern {
  if (text.length > MOST_CHARACTERS) return fault(MOST_CHARACTERS + 1, `the end: a pattern has at most ${MOST_CHARACTERS} characters`);
  const parts: PatternPart[] = [];
  const seen = new Set<CodeFieldName>();
  let openText = false;
  for (let at = 0; at < text.length;) {
    const character = text[at] ?? '';
    if (character === '}') return fault(at + 1, 'an opening brace { before this closing one');
    if (character !== '{') {
      const end = text.slice(at).search(/[{}]/);
      const literal = end === -1 ? text.slice(at) : text.slice(at, at + end);
      parts.push({ kind: 'literal', text: literal });
      at += literal.length;
      continue;
    }
    const close = text.indexOf('}', at);
    if (close === -1) return fault(text.length + 1, 'a closing brace } for the field that begins here or before');
    const read = readField(text.slice(at + 1, close), at + 2);
    if ('expected' in read) return { ok: false, fault: read };
    if (read.field !== 'text' && seen.has(read.field)) return fault(at + 2, `each field once: {${read.field}} was there before`);
    if (read.field === 'text' && read.size === null) {
      if (openText) return fault(at + 2, 'a length, such as {text:3}: only one {text} may be of any length');
      openText = true;
    }
    seen.add(read.field);
    parts.push({ kind: 'field', ...read });
    at = close + 1;
  }
  const missing = missingField(seen);
  return missing === null ? { ok: true, pattern: { text, parts } } : fault(text.length + 1, missing);
}

function readField(inside: string, position: number): { field: CodeFieldName; size: number | null } | PatternFault {
  const [name = '', sizeText, ...rest] = inside.split(':');
  if (!isCodeFieldName(name)) return { position, expected: `a field: ${codeFieldNames.map((each) => `{${each}}`).join(', ')}` };
  const sizes = sizesOf[name];
  const atSize = position + name.length + 1;
  if (sizeText === undefined) return { field: name, size: name === 'year' ? 4 : fixedDigits[name] ?? null };
  if (sizes === undefined) return { position: atSize - 1, expected: `} after {${name}: this field has no length of its own` };
  const size = Number(sizeText);
  if (rest.length > 0 || !/^\d+$/.test(sizeText) || !sizes.allowed.includes(size)) return { position: atSize, expected: sizes.words };
  return { field: name, size };
}

function missingField(seen: ReadonlySet<CodeFieldName>): string | null {
  const [byNumber, month, day] = [seen.has('day-of-year'), seen.has('month'), seen.has('day')];
  if (byNumber && (month || day)) return 'the day once: {day-of-year}, or {month} and {day}, not both';
  if (!byNumber && !(month && day)) return 'a field for the day: {day-of-year}, or {month} and {day}';
  return seen.has('minute') && !seen.has('hour') ? '{hour}, because there is {minute}' : null;
}

const fault = (position: number, expected: string): ParsedPattern => ({ ok: false, fault: { position, expected } });
