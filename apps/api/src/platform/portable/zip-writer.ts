import { Buffer } from 'node:buffer';
import { crc32, createDeflateRaw } from 'node:zlib';

/** What the 32-bit fields of ZIP (APPNOTE 6.3, without the 64-bit extension) can name. */
const MOST_BYTES = 0xffff_ffff;
const MOST_FILES = 0xffff;

type Entry = { name: Buffer; at: number; crc: number; packed: number; size: number };

/** A ZIP file in pieces, while the contents come in: lengths follow each file (flag bit 3), names are UTF-8 (flag bit 11). */
export async function* zipPieces(files: AsyncIterable<{ name: string; content: AsyncIterable<Buffer> }>, at: Date): AsyncGenerator<Buffer> {
  const entries: Entry[] = [];
  const stamp = dosTime(at);
  let place = 0;
  for await (const { name, content } of files) {
    const entry: Entry = { name: Buffer.from(name, 'utf8'), at: place, crc: 0, packed: 0, size: 0 };
    const head = header(0x04034b50, [[2, 20], ...common(stamp, { crc: 0, packed: 0, size: 0 }), [2, entry.name.length], [2, 0]], entry.name);
    yield head;
    for await (const piece of deflated(content, entry)) { entry.packed += piece.length; yield piece; }
    const tail = header(0x08074b50, [[4, entry.crc], [4, entry.packed], [4, entry.size]]);
    yield tail;
    place += head.length + entry.packed + tail.length;
    entries.push(entry);
    if (place > MOST_BYTES || entry.size > MOST_BYTES || entries.length > MOST_FILES) throw new RangeError(`zip: needs at most 4 GiB, ${name} goes beyond`);
  }
  const directory = Buffer.concat(entries.map((entry) => header(0x02014b50, [[2, 20], [2, 20], ...common(stamp, entry), [2, entry.name.length], [2, 0], [2, 0], [2, 0], [2, 0], [4, 0], [4, entry.at]], entry.name)));
  yield directory;
  yield header(0x06054b50, [[2, 0], [2, 0], [2, entries.length], [2, entries.length], [4, directory.length], [4, place], [2, 0]]);
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

type Field = [bytes: 2 | 4, value: number];
const common = (stamp: number, { crc, packed, size }: { crc: number; packed: number; size: number }): Field[] => [[2, 0x0808], [2, 8], [4, stamp], [4, crc], [4, packed], [4, size]];

function header(mark: number, fields: readonly Field[], name: Buffer = Buffer.alloc(0)): Buffer {
  const bytes = Buffer.alloc(4 + fields.reduce((sum, [size]) => sum + size, 0));
  let at = bytes.writeUInt32LE(mark, 0);
  for (const [size, value] of fields) at = bytes.writeUIntLE(value, at, size);
  return Buffer.concat([bytes, name]);
}

/** Days and two-second steps in UTC. */
function dosTime(at: Date): number {
  const day = ((at.getUTCFullYear() - 1980) << 9) | ((at.getUTCMonth() + 1) << 5) | at.getUTCDate();
  return ((day << 16) | (at.getUTCHours() << 11) | (at.getUTCMinutes() << 5) | (at.getUTCSeconds() >> 1)) >>> 0;
}
