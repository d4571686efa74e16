import fc from 'fast-check';
import { expect, it } from 'vitest';
import type { Layout } from '#contract/ingest';
import { Problem } from '#contract/problem';
import { readHead, readTable } from './read-table.js';
import { refusedCsv } from './refused-csv.js';

const layout: Layout = { encoding: 'utf-8', separator: ';', decimal: ',', dateOrder: 'year-month-day', timeZone: 'UTC' };
const bytes = (text: string) => new TextEncoder().encode(text);
async function rows(text: string, change: Partial<Layout> = {}) {
  const read: [number, string[]][] = [];
  for await (const { row, cells } of readTable(bytes(text), { ...layout, ...change })) read.push([row, cells]);
  return read;
}

it('numbers rows by the line they end in, whatever the line ends, and passes over empty lines', async () => {
  for (const end of ['\n', '\r\n']) expect(await rows(['a;b', '1;2', '', '3;4'].join(end))).toEqual([[1, ['a', 'b']], [2, ['1', '2']], [4, ['3', '4']]]);
});

it('understands quoted separators, quotes and line breaks, and hands on ragged rows as they are', async () => {
  expect(await rows('a;b\n"x;y";"say ""so"""\n"two\nlines";1\nonly one\n1;2;3\n')).toEqual([[1, ['a', 'b']], [2, ['x;y', 'say "so"']], [4, ['two\nlines', '1']], [5, ['only one']], [6, ['1', '2', '3']]]);
});

it('reads characters whole where pieces of the file meet', async () => {
  const cell = 'ü😀'.repeat(30_000);
  expect((await rows(`a;b\n${cell};1\n`))[1]).toEqual([2, [cell, '1']]);
});

it('tells columns apart that have no name or the same', async () => {
  expect((await rows('front;front; ;front (2)\n'))[0]?.[1]).toEqual(['front', 'front (2)', 'column 3', 'front (2) (2)']);
});

it('refuses a quotation that never ends, and a file without columns', async () => {
  await expect(rows('a;b\n"1;2\n3;4')).rejects.toMatchObject({ code: 'not-readable' });
  await expect(readHead(bytes('only\n1\n'), layout)).rejects.toMatchObject({ code: 'not-readable' });
  await expect(readHead(bytes(`${'a;'.repeat(500)}\n`), layout)).rejects.toMatchObject({ code: 'not-readable', detail: expect.stringContaining('400 columns') });
});

it('reads the head of a large file whose first part ends inside a quotation', async () => {
  const file = bytes(`a;b\n${'1;2\n'.repeat(3)}"${'x\n'.repeat(200_000)}";2\n`);
  expect(await readHead(file, layout)).toEqual({ header: ['a', 'b'], sample: [['1', '2'], ['1', '2'], ['1', '2']] });
});

it('writes refused rows so that they read back as they came', async () => {
  await fc.assert(fc.asyncProperty(fc.array(fc.tuple(fc.string({ minLength: 1 }), fc.string()), { minLength: 1, maxLength: 8 }), async (pairs) => {
    const quoted = (text: string) => `"${text.replaceAll('"', '""')}"`;
    const file = bytes(`a;b\n${pairs.map((pair) => pair.map(quoted).join(';')).join('\n')}\n`);
    const read: { row: number; cells: string[] }[] = [];
    for await (const entry of readTable(file, layout)) read.push(entry);
    const refused = await refusedCsv(file, layout, read.slice(1).map(({ row }) => ({ row, reason: `no; "${row}"`, sort: '', why: null })));
    expect(refused.startsWith('\uFEFFrow;reason;a;b\r\n')).toBe(true);
    const back: string[][] = [];
    for await (const { cells } of readTable(bytes(refused), layout)) back.push(cells);
    expect(back.slice(1)).toEqual(read.slice(1).map(({ row, cells }) => [String(row), `no; "${row}"`, ...cells]));
  }), { numRuns: 60 });
});

it('gives a file of refused rows that is refused again new reasons, not two more columns', async () => {
  const again = await refusedCsv(bytes('row;reason;a;b\n41;old;1;2\n78;old;3;4\n'), layout, [{ row: 3, reason: 'new', sort: '', why: null }]);
  expect(again).toBe('\uFEFFrow;reason;a;b\r\n3;new;3;4\r\n');
});

it('answers rows or a readable refusal to any bytes', async () => {
  await fc.assert(fc.asyncProperty(fc.uint8Array({ maxLength: 300 }), fc.constantFrom(',' as const, ';' as const, '\t' as const), fc.constantFrom('utf-8' as const, 'windows-1252' as const), async (content, separator, encoding) => {
    try {
      for await (const { cells } of readTable(content, { ...layout, separator, encoding })) expect(Array.isArray(cells)).toBe(true);
    } catch (error) {
      expect(error).toBeInstanceOf(Problem);
    }
  }), { numRuns: 300 });
});
