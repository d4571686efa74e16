import fc from 'fast-check';
import { expect, it } from 'vitest';
import type { Layout, Mapping } from '#contract/ingest';
import { lookupOf, type Names } from './names.js';
import { sortRows, type SortedPart, type StoredOf } from './sort-rows.js';

const layout: Layout = { encoding: 'utf-8', separator: ';', decimal: '.', dateOrder: 'year-month-day', timeZone: 'UTC' };
const mapping: Mapping = {
  columns: [{ column: 'Time', field: 'takenAt' }, { column: 'Machine', field: 'machine' }, { column: 'Check', field: 'check' }, { column: 'Can', field: 'can' }, { column: 'Overlap', field: 'reading', characteristic: 'overlap', position: '1' }],
  product: 'P1', conversions: [], asMeasured: false,
};
const machine = (id: number) => ({ id, code: `M${id}`, lineId: 1, stepKind: 'seamer', units: lookupOf<number>([]), lanes: lookupOf<number>([]) });
const names: Names = {
  machines: lookupOf([1, 2].map((id) => ({ code: `M${id}`, name: `Seamer ${id}`, value: machine(id) }))), products: lookupOf([{ code: 'P1', value: { id: 1, code: 'P1' } }]), gauges: lookupOf<number>([]),
  characteristics: lookupOf([{ code: 'overlap', value: { id: 1, code: 'overlap', name: 'Overlap', unit: 'mm', stepKind: 'seamer', derived: false, plausibleLow: 0, plausibleHigh: 10 } }]),
};
const nothing: StoredOf = async () => [];
const START = Date.UTC(2026, 0, 1);
const rowsOf = (moments: number, cans: number) => Array.from({ length: moments * cans }, (_, row) => `${new Date(START + Math.floor(row / cans) * 60_000).toISOString()};M1;;${1 + (row % cans)};${(1 + (row % 7) / 100).toFixed(2)}`);

async function sorted(rows: readonly string[], { quoted = false, storedOf = nothing } = {}): Promise<SortedPart[]> {
  const header = quoted ? '"Time";Machine;Check;Can;Overlap' : 'Time;Machine;Check;Can;Overlap';
  const parts: SortedPart[] = [];
  for await (const part of sortRows({ content: Buffer.from(`${[header, ...rows].join('\n')}\n`), layout, mapping, names, now: new Date('2026-11-26T00:00:00Z') }, storedOf)) parts.push(part);
  return parts;
}
const whole = (parts: readonly SortedPart[]) => ({
  checks: parts.flatMap((part) => part.checks), refusals: parts.flatMap((part) => part.refusals).sort((a, b) => a.row - b.row),
  rows: parts.reduce((sum, part) => sum + part.rows, 0), readings: parts.reduce((sum, part) => sum + part.readings, 0), cells: new Map(parts.flatMap((part) => [...part.cells])),
});

it('answers checks while it reads a file whose rows are in order, and knows from the start how many there are', async () => {
  const parts = await sorted(rowsOf(1000, 2));
  expect(parts.map((part) => [part.expected, part.checks.length])).toEqual([[1000, 50], [1000, 50], [1000, 100], [1000, 200], [1000, 400], [1000, 200]]);
  expect((await sorted(rowsOf(1000, 2), { quoted: true })).map((part) => part.checks.length), 'a quoted cell: only the parser can tell').toEqual([1000]);
});

it('finds the same checks of a file in any order of its rows as when it reads the whole first', async () => {
  const row = fc.record({ minute: fc.nat(3), machine: fc.constantFrom('M1', 'm1', 'Seamer 1', 'M2', 'M9'), check: fc.constantFrom('', 'a', 'b'), can: fc.integer({ min: 0, max: 2 }), value: fc.constantFrom('1.01', '1.02', '', '99', 'x'), zone: fc.constantFrom('Z', '+01:00') });
  await fc.assert(fc.asyncProperty(fc.array(row, { maxLength: 12 }), fc.oneof(fc.oneof(...[100, 200, 400, 800].map((edge) => fc.integer({ min: edge - 2, max: edge + 8 }))), fc.nat(900)), fc.nat(1200), async (odd, from, to) => {
    const rows = rowsOf(600, 2);
    rows.splice(from, 0, ...odd.map(({ minute, machine: name, check, can, value, zone }) => `${new Date(START + (minute + 300) * 60_000).toISOString().slice(0, 19)}${zone};${name};${check};${can};${value}`));
    rows.splice(to, 0, ...rows.splice(0, Math.max(0, (to % 5) - 2)));
    expect(whole(await sorted(rows))).toEqual(whole(await sorted(rows, { quoted: true })));
  }), { numRuns: 60, seed: 20261126 });
});

it('asks of each moment once what is stored there, and stores nothing twice', async () => {
  const asked: string[] = [];
  let questions = 0;
  const parts = await sorted(rowsOf(900, 1), { storedOf: async (moments) => {
    questions += 1;
    asked.push(...moments.map(({ takenAt }) => takenAt));
    return moments.filter((_, index) => index === 0).map((moment) => ({ ...moment, unitId: null, laneId: null, can: 1, characteristicId: 1, position: '1', value: asked.length % 7 === 0 ? 9 : 1, checkId: 5, key: 'by hand' }));
  } });
  expect(new Set(asked).size).toBe(900);
  expect(asked).toHaveLength(900);
  expect(parts.reduce((sum, part) => sum + part.alreadyStored + part.checks.length + part.refusals.length, 0)).toBe(900);
  expect(questions).toBe(6);
  expect(parts.reduce((sum, part) => sum + part.checks.length, 0), 'one check of each question is there already').toBe(900 - questions);
});

it('throws what a mapping lacks, and where there is no header line', async () => {
  await expect(sorted([], {}).then(() => sortRows({ content: Buffer.from('Time;Machine\n'), layout, mapping: { ...mapping, columns: [] }, names, now: new Date() }, nothing).next())).rejects.toMatchObject({ code: 'invalid-input' });
  await expect(sortRows({ content: Buffer.from(''), layout, mapping, names, now: new Date() }, nothing).next()).rejects.toThrow('a header line');
});
