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
    const { count, length, from } = await directoryPlace(handle, tail, end, size, file);
    if (from + length > size) throw new StartError(`"${file}" was cut off: its directory should end at byte ${from + length}, the file has ${size}`);
    const directory = await bytesAt(handle, from, from + length);
    const entries = new Map<string, ZipEntry>();
    let at = 0;
    for (let number = 0; number < count; number += 1) {
      if (at + 46 > directory.length || directory.readUInt32LE(at) !== 0x02014b50) throw new StartError(`"${file}" has a broken directory at entry ${number + 1}`);
      const nameLength = directory.readUInt16LE(at + 28);
      const { packed, start } = longFields(directory, at, nameLength);
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

const ELSEWHERE = 0xffff_ffff;

/** Where the directory is; where a 64-bit end stands before the usual one, as that says (APPNOTE 6.3, 4.3.14 and 4.3.15). */
async function directoryPlace(handle: FileHandle, tail: Buffer, end: number, size: number, file: string): Promise<{ count: number; length: number; from: number }> {
  const usual = { count: tail.readUInt16LE(end + 10), length: tail.readUInt32LE(end + 12), from: tail.readUInt32LE(end + 16) };
  if (usual.count !== 0xffff && usual.length !== ELSEWHERE && usual.from !== ELSEWHERE) return usual;
  const broken = () => new StartError(`"${file}" is longer than 4 GB and its 64-bit directory cannot be found: it was cut off or changed`);
  if (end < 20 || tail.readUInt32LE(end - 20) !== 0x07064b50) throw broken();
  const place = Number(tail.readBigUInt64LE(end - 12));
  if (place + 56 > size) throw broken();
  const long = await bytesAt(handle, place, place + 56);
  if (long.readUInt32LE(0) !== 0x06064b50) throw broken();
  return { count: Number(long.readBigUInt64LE(32)), length: Number(long.readBigUInt64LE(40)), from: Number(long.readBigUInt64LE(48)) };
}

/** Packed length and place of an entry, from its 64-bit field where the usual ones point there (4.5.3: only those that do, in this order). */
function longFields(directory: Buffer, at: number, nameLength: number): { packed: number; start: number } {
  const usual = [directory.readUInt32LE(at + 24), directory.readUInt32LE(at + 20), directory.readUInt32LE(at + 42)];
  const values = [...usual];
  const end = at + 46 + nameLength + directory.readUInt16LE(at + 30);
  for (let field = at + 46 + nameLength; field + 4 <= end; field += 4 + directory.readUInt16LE(field + 2)) {
    if (directory.readUInt16LE(field) !== 1) continue;
    let next = field + 4;
    for (const [index, value] of usual.entries()) {
      if (value !== ELSEWHERE || next + 8 > end) continue;
      values[index] = Number(directory.readBigUInt64LE(next));
      next += 8;
    }
  }
  return { packed: values[1] as number, start: values[2] as number };
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
