import { createReadStream } from 'node:fs';
import { type FileHandle, open, stat } from 'node:fs/promises';
import { createInflateRaw } from 'node:zlib';
import { StartError } from '../start-error.js';

export type ZipEntry = { name: string; from: number; packed: number };
const END = 22;

/** The files of a ZIP by its directory at the end, so that no content can be mistaken for a mark. */
export async function readDirectory(file: string): Promise<Map<string, ZipEntry>> {
  const { size } = await stat(file).catch(() => { throw new StartError(`there is no file "${file}"`); });
  const handle = await open(file);
  try {
    const tail = await bytesAt(handle, Math.max(0, size - 65_557), size);
    const end = tail.lastIndexOf(Buffer.from([0x50, 0x4b, 0x05, 0x06]));
    if (end === -1 || tail.length - end < END) throw new StartError(`"${file}" is no whole ZIP file: its directory is missing, so it was cut off or is something else`);
    const [count, length, from] = [tail.readUInt16LE(end + 10), tail.readUInt32LE(end + 12), tail.readUInt32LE(end + 16)];
    if (from + length > size) throw new StartError(`"${file}" was cut off: its directory should end at byte ${from + length}, the file has ${size}`);
    const directory = await bytesAt(handle, from, from + length);
    const entries = new Map<string, ZipEntry>();
    let at = 0;
    for (let number = 0; number < count; number += 1) {
      if (at + 46 > directory.length || directory.readUInt32LE(at) !== 0x02014b50) throw new StartError(`"${file}" has a broken directory at entry ${number + 1}`);
      const [packed, nameLength, start] = [directory.readUInt32LE(at + 20), directory.readUInt16LE(at + 28), directory.readUInt32LE(at + 42)];
      const name = directory.toString('utf8', at + 46, at + 46 + nameLength);
      const local = await bytesAt(handle, start, start + 30);
      if (local.length < 30 || local.readUInt32LE(0) !== 0x04034b50) throw new StartError(`"${file}" has a broken directory at entry ${number + 1}: no file begins where it says`);
      entries.set(name, { name, from: start + 30 + local.readUInt16LE(26) + local.readUInt16LE(28), packed });
      at += 46 + nameLength + directory.readUInt16LE(at + 30) + directory.readUInt16LE(at + 32);
    }
    return entries;
  } finally {
    await handle.close();
  }
}

/** The content of one file in pieces. */
export async function* readEntry(file: string, entry: ZipEntry): AsyncGenerator<Buffer> {
  if (entry.packed === 0) return;
  const inflate = createInflateRaw();
  const source = createReadStream(file, { start: entry.from, end: entry.from + entry.packed - 1 });
  source.on('error', (error) => inflate.destroy(error));
  source.pipe(inflate);
  try {
    for await (const piece of inflate) yield piece as Buffer;
  } catch (error) {
    throw new StartError(`${entry.name} cannot be unpacked: ${error instanceof Error ? error.message : String(error)}`);
  } finally {
    source.destroy();
    inflate.destroy();
  }
}

async function bytesAt(handle: FileHandle, from: number, to: number): Promise<Buffer> {
  const bytes = Buffer.alloc(to - from);
  const { bytesRead } = await handle.read(bytes, 0, bytes.length, from);
  return bytes.subarray(0, bytesRead);
}
