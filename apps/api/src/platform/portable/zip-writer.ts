import { Buffer } from 'node:buffer';
import { crc32, createDeflateRaw } from 'node:zlib';

/** What the 32-bit and 16-bit fields of ZIP can name; one less is the most, because all ones mean "see the 64-bit field" (APPNOTE 6.3, 4.3.14 to 4.5.3). */
const MOST = { bytes: 0xffff_fffe, files: 0xfffe };
const ELSEWHERE = 0xffff_ffff;

type Entry = { name: Buffer; at: number; crc: number; packed: number; size: number };

/**
 * A ZIP file in pieces, while the contents come in: lengths follow each file (flag bit 3), names are UTF-8 (flag bit 11). How long a file will be is not known when
 * it begins, so each has a 64-bit length behind it; directory and end have 64-bit fields where something goes beyond `most`.
 */
export async function* zipPieces(files: AsyncIterable<{ name: string; content: AsyncIterable<Buffer> }>, at: Date, most: { bytes: number; files: number } = MOST): AsyncGenerator<Buffer> {
  const entries: Entry[] = [];
  const stamp = dosTime(at);
  let place = 0;
  for await (const { name, content } of files) {
    const entry: Entry = { name: Buffer.from(name, 'utf8'), at: place, crc: 0, packed: 0, size: 0 };
    const head = header(0x04034b50, [[2, VERSION], ...common(stamp, { crc: 0, packed: ELSEWHERE, size: ELSEWHERE }), [2, entry.name.length], [2, 20]], entry.name, extra([0, 0]));
    yield head;
    for await (const piece of deflated(content, entry)) { entry.packed += piece.length; yield piece; }
    const tail = header(0x08074b50, [[4, entry.crc], [8, entry.packed], [8, entry.size]]);
    yield tail;
    place += head.length + entry.packed + tail.length;
    entries.push(entry);
  }
  const directory = Buffer.concat(entries.map((entry) => directoryEntry(entry, stamp, most)));
  yield directory;
  // Also where one file alone is long: some readers look for its 64-bit field only when the end has one.
  const isLong = place > most.bytes || directory.length > most.bytes || entries.length > most.files || entries.some((entry) => isBeyond(entry, most));
  if (isLong) {
    yield header(0x06064b50, [[8, 44], [2, VERSION], [2, VERSION], [4, 0], [4, 0], [8, entries.length], [8, entries.length], [8, directory.length], [8, place]]);
    yield header(0x07064b50, [[4, 0], [8, place + directory.length], [4, 1]]);
  }
  const count = isLong ? 0xffff : entries.length;
  yield header(0x06054b50, [[2, 0], [2, 0], [2, count], [2, count], [4, isLong ? ELSEWHERE : directory.length], [4, isLong ? ELSEWHERE : place], [2, 0]]);
}

const isBeyond = (entry: Entry, most: { bytes: number }): boolean => [entry.size, entry.packed, entry.at].some((value) => value > most.bytes);

function directoryEntry(entry: Entry, stamp: number, most: { bytes: number }): Buffer {
  const isLong = isBeyond(entry, most);
  const sizes = isLong ? { crc: entry.crc, packed: ELSEWHERE, size: ELSEWHERE } : entry;
  return header(0x02014b50, [[2, VERSION], [2, VERSION], ...common(stamp, sizes), [2, entry.name.length], [2, isLong ? 28 : 0], [2, 0], [2, 0], [2, 0], [4, 0], [4, isLong ? ELSEWHERE : entry.at]], entry.name, isLong ? extra([entry.size, entry.packed, entry.at]) : undefined);
}

async function* deflated(content: AsyncIterable<Buffer>, entry: Entry): AsyncGenerator<Buffer> {
  const deflate = createDeflateRaw({ level: 6 });
  const closed = new Promise<void>((resolve) => { deflate.once('close', resolve); });
  const feeding = (async () => {
    for await (const piece of content) {
      entry.crc = crc32(piece, entry.crc);
      entry.size += piece.length;
      if (!deflate.write(piece)) await Promise.race([new Promise<void>((resolve) => { deflate.once('drain', resolve); }), closed]);
    }
    deflate.end();
  })();
  feeding.catch((error: unknown) => deflate.destroy(error instanceof Error ? error : new Error(String(error))));
  try {
    for await (const piece of deflate) yield piece as Buffer;
  } finally {
    deflate.destroy();
  }
  await feeding;
}

type Field = [bytes: 2 | 4 | 8, value: number];
/** 4.5: the first version that reads 64-bit fields. */
const VERSION = 45;
const common = (stamp: number, { crc, packed, size }: { crc: number; packed: number; size: number }): Field[] => [[2, 0x0808], [2, 8], [4, stamp], [4, crc], [4, packed], [4, size]];

function header(mark: number, fields: readonly Field[], name: Buffer = Buffer.alloc(0), more: Buffer = Buffer.alloc(0)): Buffer {
  return Buffer.concat([numbers([[4, mark], ...fields]), name, more]);
}

/** The 64-bit values of a file, in the order of APPNOTE 4.5.3. */
const extra = (values: readonly number[]): Buffer => numbers([[2, 1], [2, 8 * values.length], ...values.map((value): Field => [8, value])]);

function numbers(fields: readonly Field[]): Buffer {
  const bytes = Buffer.alloc(fields.reduce((sum, [size]) => sum + size, 0));
  let at = 0;
  for (const [size, value] of fields) at = size === 8 ? bytes.writeBigUInt64LE(BigInt(value), at) : bytes.writeUIntLE(value, at, size);
  return bytes;
}

/** Days and two-second steps in UTC. */
function dosTime(at: Date): number {
  const day = ((at.getUTCFullYear() - 1980) << 9) | ((at.getUTCMonth() + 1) << 5) | at.getUTCDate();
  return ((day << 16) | (at.getUTCHours() << 11) | (at.getUTCMinutes() << 5) | (at.getUTCSeconds() >> 1)) >>> 0;
}
