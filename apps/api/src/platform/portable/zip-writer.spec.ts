import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { unzipSync } from 'fflate';
import { afterAll, describe, expect, it } from 'vitest';
import { readDirectory, readEntry } from './zip-reader.js';
import { zipPieces } from './zip-writer.js';

// A file of more than 4 GB is written by the same code with other bounds: here the bounds are small, so that every 64-bit field is in use.
const folder = mkdtempSync(path.join(tmpdir(), 'zip-'));
afterAll(() => { rmSync(folder, { recursive: true }); });
const AT = new Date('2026-05-20T13:07:00Z');
const contents: Record<string, string> = { 'first.csv': 'a,b\r\n1,2\r\n', 'tables/height.csv': 'x'.repeat(5000), 'empty.csv': '', 'last.json': '{}' };

async function* files() {
  for (const [name, text] of Object.entries(contents)) yield { name, content: (async function* () { for (let at = 0; at < text.length; at += 1000) yield Buffer.from(text.slice(at, at + 1000)); })() };
}
async function written(most?: { bytes: number; files: number }): Promise<{ file: string; bytes: Buffer }> {
  const pieces: Buffer[] = [];
  for await (const piece of zipPieces(files(), AT, most)) pieces.push(piece);
  const [bytes, file] = [Buffer.concat(pieces), path.join(folder, `${most?.bytes ?? 'usual'}-${most?.files ?? ''}.zip`)];
  writeFileSync(file, bytes);
  return { file, bytes };
}
async function readBack(file: string): Promise<Record<string, string>> {
  const found: Record<string, string> = {};
  for (const [name, entry] of await readDirectory(file)) {
    const pieces: Buffer[] = [];
    for await (const piece of readEntry(file, entry)) pieces.push(piece);
    found[name] = Buffer.concat(pieces).toString('utf8');
  }
  return found;
}

describe.each([['as usual', undefined], ['with every place and length in 64 bits', { bytes: 0, files: 0 }], ['with one long file', { bytes: 4000, files: 100 }], ['with many files', { bytes: 0xffff_fffe, files: 2 }]])('a ZIP %s', (_name, most) => {
  it('is read back by its own reader and by another library', async () => {
    const { file, bytes } = await written(most);
    expect(await readBack(file)).toEqual(contents);
    expect(Object.fromEntries(Object.entries(unzipSync(bytes)).map(([name, content]) => [name, Buffer.from(content).toString('utf8')]))).toEqual(contents);
  });

  it('is whole to another program', async ({ skip }) => {
    const { file } = await written(most);
    try {
      expect(execFileSync('unzip', ['-t', file], { encoding: 'utf8' })).toContain('No errors detected');
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code === 'ENOENT') return skip('unzip is not installed');
      throw error;
    }
  });
});

it('says what is wrong with a long file whose 64-bit directory was cut out', async () => {
  const { bytes } = await written({ bytes: 0, files: 0 });
  const file = path.join(folder, 'broken.zip');
  writeFileSync(file, Buffer.concat([bytes.subarray(0, bytes.length - 42), bytes.subarray(bytes.length - 22)]));
  await expect(readDirectory(file)).rejects.toThrow('64-bit directory cannot be found');
});
