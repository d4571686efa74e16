import { endianness } from 'node:os';

/** Of the type "double precision" in PostgreSQL's catalog. */
const FLOAT8 = 701;
const HEAD_WORDS = 5;
const SWAP = endianness() === 'LE';
/** Each number comes after its length in bytes, which is always 8. */
const LENGTH = SWAP ? 0x08_00_00_00 : 8;

/**
 * Lists of numbers, one after the other, as one `float8[]` in PostgreSQL's binary form (as its `array_recv` reads it: dimensions, has NULLs, type of
 * elements; length and lower bound; the elements; all of it big-endian), NaN for null. PostgreSQL takes a million numbers in two thirds of the time that it
 * needs for their text, and cuts a list out of an array without NULLs without looking at the others.
 */
export function floatArrayBytes(lists: readonly (readonly (number | null)[])[]): Buffer {
  const length = lists.reduce((sum, list) => sum + list.length, 0);
  const numbers = new Float64Array(length);
  let at = 0;
  for (const list of lists) {
    for (let index = 0; index < list.length; index += 1) {
      const value = list[index] as number | null;
      // Plus zero, since JSON knows no negative zero.
      numbers[at + index] = value === null ? NaN : value + 0;
    }
    at += list.length;
  }
  if (SWAP) Buffer.from(numbers.buffer).swap64();
  // By words of four bytes, of which a number has two: twice as fast as number by number.
  const halves = new Uint32Array(numbers.buffer);
  const words = new Uint32Array(HEAD_WORDS + length * 3);
  for (let index = 0, word = HEAD_WORDS; index < halves.length; index += 2, word += 3) {
    words[word] = LENGTH;
    words[word + 1] = halves[index] as number;
    words[word + 2] = halves[index + 1] as number;
  }
  const bytes = Buffer.from(words.buffer);
  for (const [place, field] of [1, 0, FLOAT8, length, 1].entries()) bytes.writeInt32BE(field, place * 4);
  return bytes;
}
