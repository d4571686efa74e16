import type { BodyReading } from './minute-book.js';

/** `forming`: already in a chunk, kept for the subgroup that it is to be a member of. */
export type JournalEntry = BodyReading & { forming: boolean };

const BYTES = 28;
const NO_COUNT = -1;

/** One batch of readings as bytes, 28 a reading: stream (negative when only forming), time, counter, value; little-endian. */
export function encodeJournal(entries: readonly JournalEntry[]): Uint8Array<ArrayBuffer> {
  const bytes = new Uint8Array(entries.length * BYTES);
  const view = new DataView(bytes.buffer);
  entries.forEach(({ streamId, at, count, value, forming }, index) => {
    view.setInt32(index * BYTES, forming ? -streamId : streamId, true);
    view.setFloat64(index * BYTES + 4, at, true);
    view.setFloat64(index * BYTES + 12, count ?? NO_COUNT, true);
    view.setFloat64(index * BYTES + 20, value, true);
  });
  return bytes;
}

/** @throws RangeError when the bytes are not whole entries */
export function decodeJournal(bytes: Uint8Array): JournalEntry[] {
  if (bytes.length % BYTES !== 0) throw new RangeError(`decodeJournal: needs a multiple of ${BYTES} bytes, ${bytes.length} given`);
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  return Array.from({ length: bytes.length / BYTES }, (_, index) => {
    const stream = view.getInt32(index * BYTES, true);
    const count = view.getFloat64(index * BYTES + 12, true);
    return { streamId: Math.abs(stream), forming: stream < 0, at: view.getFloat64(index * BYTES + 4, true), count: count === NO_COUNT ? null : count, value: view.getFloat64(index * BYTES + 20, true) };
  });
}
