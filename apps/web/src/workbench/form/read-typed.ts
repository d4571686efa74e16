import { readNumber } from '../read/read-number.js';

/** A number as typed in a field, with point or comma; null: nothing was typed. */
export function readTyped(text: string): number | null | 'bad' {
  if (text.trim() === '') return null;
  for (const mark of ['.', ','] as const) {
    const read = readNumber(text, mark);
    if (typeof read === 'number') return read;
  }
  return 'bad';
}
