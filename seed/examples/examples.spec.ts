import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { findMachine, seedPlant } from '../plant.js';

const bytes = (name: string) => readFileSync(new URL(name, import.meta.url));
const table = (text: string, separator: string) => text.split(/\r?\n/).filter((line) => line !== '').map((line) => line.split(separator));

it('has a long file in Windows-1252 with decimal commas and German dates', () => {
  const content = bytes('seam-teardown-long.csv');
  expect(() => new TextDecoder('utf-8', { fatal: true }).decode(content)).toThrow();
  const [header, ...rows] = table(new TextDecoder('windows-1252').decode(content), ';');
  expect(header).toContain('Prüfer');
  expect(rows).toHaveLength(360);
  const names = new Set(seedPlant.characteristics.map(({ name }) => name));
  for (const row of rows) {
    expect(row).toHaveLength(11);
    expect(row[0]).toMatch(/^05\.02\.2024 \d\d:\d\d$/);
    expect(names.has(row[6] ?? ''), row[6]).toBe(true);
    expect(row[7]).toMatch(/^\d,\d{2,3}$/);
  }
});

it('has a wide file with a can a row, two readings missing and a quoted remark', () => {
  const [, ...rows] = table(new TextDecoder('utf-8', { fatal: true }).decode(bytes('weld-wide.csv')), ',');
  expect(rows).toHaveLength(280);
  expect(new Set(rows.map((row) => row[1]))).toEqual(new Set(['BM11', 'BM12']));
  expect(rows.filter((row) => row.slice(6, 12).includes(''))).toHaveLength(2);
  expect(rows.every((row) => /^2024-02-0[67]T\d\d:\d\d$/.test(row[0] ?? ''))).toBe(true);
});

it('has a tab file with a byte-order mark, US dates and three bad rows', () => {
  const content = bytes('flange-tab.txt');
  expect([...content.subarray(0, 3)]).toEqual([0xef, 0xbb, 0xbf]);
  const [, ...rows] = table(new TextDecoder('utf-8').decode(content), '\t');
  expect(rows).toHaveLength(168);
  const bad = rows.flatMap((row, index) => {
    const reasons = [
      ...(row[1] === 'FL2' ? [] : [`machine ${row[1]}`]),
      ...row.slice(5, 9).filter((value) => Number.isNaN(Number(value))).map((value) => `number ${value}`),
      ...(/^02\/\d\d\/2024 /.test(row[0] ?? '') ? [] : [`date ${row[0]}`]),
    ];
    return reasons.length === 0 ? [] : [`${index + 2}: ${reasons.join(', ')}`];
  });
  expect(bad).toEqual(['41: machine FL9', '78: number 2.7O', '121: date 02/13/2099 10:53 AM']);
  expect(() => findMachine('FL9')).toThrow(/FL9/);
});
