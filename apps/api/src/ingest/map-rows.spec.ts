import fc from 'fast-check';
import { expect, it } from 'vitest';
import { columnFields, type Layout, type Mapping, mapping as mappingShape } from '#contract/ingest';
import { RowMapper } from './map-rows.js';
import { lookupOf, type NamedCharacteristic, type Names } from './names.js';
import type { Spot } from './placed-row.js';

const characteristic = (id: number, code: string, name: string, more: Partial<NamedCharacteristic> = {}) => ({ code, name, value: { id, code, name, unit: 'mm', stepKind: 'seamer', derived: false, plausibleLow: 0.8, plausibleHigh: 3, ...more } });
const names: Names = {
  machines: lookupOf([
    { code: 'SE1', name: 'Seamer', value: { id: 1, code: 'SE1', lineId: 1, stepKind: 'seamer', units: lookupOf([{ code: 'H1', value: 11 }, { code: 'H2', value: 12 }]), lanes: lookupOf([{ code: 'A', name: 'upper half', value: 21 }]) } },
    { code: 'SE2', name: 'Seamer', value: { id: 2, code: 'SE2', lineId: 2, stepKind: 'seamer', units: lookupOf([{ code: 'H1', value: 13 }]), lanes: lookupOf<number>([]) } },
  ]),
  products: lookupOf([{ code: 'T65', name: 'Test can', value: { id: 5, code: 'T65' } }]),
  characteristics: lookupOf([characteristic(7, 'body-hook', 'Body hook'), characteristic(8, 'film', 'Film', { unit: 'µm', plausibleLow: null, plausibleHigh: null }), characteristic(9, 'seam-overlap', 'Seam overlap', { derived: true })]),
  gauges: lookupOf([{ code: 'MIC-1', name: 'Micrometer', value: 31 }]),
};
const layout: Layout = { encoding: 'utf-8', separator: ',', decimal: '.', dateOrder: 'year-month-day', timeZone: 'UTC' };
const now = new Date('2026-01-01T00:00:00Z');
const long = ['takenAt', 'machine', 'product', 'unit', 'lane', 'can', 'position', 'characteristic', 'value', 'unitOfMeasure', 'gauge', 'check'] as const;
const mapping = (more: Partial<Mapping> = {}): Mapping => ({ columns: long.map((field) => ({ column: field, field })), conversions: [], asMeasured: false, ...more });
const good = { takenAt: '2025-03-01 08:00', machine: 'SE1', product: 't65', unit: 'h2', lane: 'Upper half', can: '3', position: '60°', characteristic: 'Body hook', value: '1.65', unitOfMeasure: 'mm', gauge: 'MIC-1', check: 'X7' };
/** Each good reading of a row as an object of its own. */
function readingsOf({ placed, refusals }: ReturnType<RowMapper['map']>) {
  if (!placed) return { readings: [], refusals };
  const { spots, values, ...place } = placed;
  expect(spots).toHaveLength(values.length);
  return { readings: values.map((value, index) => ({ ...place, ...(spots[index] as Spot), value })), refusals };
}
const map = (change: Partial<Record<(typeof long)[number], string>>, more: Partial<Mapping> = {}) => readingsOf(new RowMapper(long, layout, mapping(more), names, now).map(4, long.map((field) => ({ ...good, ...change })[field])));
const reason = (...args: Parameters<typeof map>) => { const { readings, refusals } = map(...args); expect(readings).toEqual([]); expect(refusals).toHaveLength(1); return refusals[0]?.reason; };

it('places a reading by codes and names, whatever their case', () => {
  expect(map({})).toEqual({ refusals: [], readings: [{ row: 4, machineId: 1, productId: 5, takenAt: '2025-03-01T08:00:00.000Z', checkNumber: 'X7', unitId: 12, laneId: 21, can: 3, position: '60°', characteristicId: 7, characteristic: 'body-hook', value: 1.65, gaugeId: 31, inspector: null, note: null }] });
});

it('says for each field what is expected', () => {
  expect(reason({ machine: 'FL9' })).toBe('unknown machine "FL9": the code or name of a machine of this plant expected');
  expect(reason({ machine: 'Seamer' })).toBe('machine: several are called "Seamer": the code of one expected');
  expect(reason({ product: '' })).toContain('unknown product ""');
  expect(reason({ takenAt: '01.03.2025 08:00' })).toBe('date and time: a date and time such as 2026-03-01 08:30 expected, not "01.03.2025 08:00"');
  expect(reason({ takenAt: '2026-01-01 00:06' })).toContain('date in the future');
  expect(reason({ unit: 'H9' })).toBe('unknown unit "H9": a unit of machine SE1 expected');
  expect(reason({ lane: 'C' })).toContain('a lane of the line of machine SE1 expected');
  expect(reason({ can: '1.5' })).toContain('can: a whole number from 1 to 100000 expected, not "1.5"');
  expect(reason({ can: '0' })).toContain('can: a whole number');
  expect(reason({ gauge: 'MIC-9' })).toContain('unknown gauge "MIC-9"');
  expect(reason({ characteristic: 'Hook' })).toContain('unknown characteristic "Hook"');
  expect(reason({ characteristic: 'Seam overlap' })).toContain('derived from other readings');
  expect(reason({ value: '1,65' })).toBe('Body hook: a number with decimal point expected, not "1,65"');
  expect(reason({ value: '' })).toContain('at least one reading');
  expect(reason({ position: 'x'.repeat(41) })).toContain('position: at most 40 characters');
  expect(reason({ characteristic: 'Film', value: `${'9'.repeat(300)}`, unitOfMeasure: '' })).toContain('a number up to 1000000000 expected');
});

it('refuses a reading that cannot be, asks about the decimal, and takes it when a person says that it is as measured', () => {
  expect(reason({ value: '16.5' })).toBe('Body hook: implausible: 0.8 to 3 mm expected, not 16.5 (1.65 would be possible: did the decimal slip?)');
  expect(map({ value: '16.5' }, { asMeasured: true }).readings).toMatchObject([{ value: 16.5 }]);
});

it('refuses another unit of measure, naming both, and converts only where the mapping says how', () => {
  expect(reason({ unitOfMeasure: 'in', value: '0.065' })).toBe('Body hook: unit mismatch: kept in mm, the file says in, and no conversion is stated');
  expect(map({ unitOfMeasure: 'um', value: '1650' }, { conversions: [{ from: 'µm', to: 'mm', factor: 0.001 }] }).readings).toMatchObject([{ value: 1.65 }]);
  expect(map({ unitOfMeasure: 'Micron', characteristic: 'Film', value: '6.2' }).readings).toMatchObject([{ value: 6.2 }]);
  expect(reason({ unitOfMeasure: 'mm', characteristic: 'Film', value: '6.2' }, { conversions: [{ from: 'µm', to: 'mm', factor: 0.001 }] })).toContain('kept in µm, the file says mm');
  // Stated for the column instead of in each row.
  const columns = long.filter((field) => field !== 'unitOfMeasure').map((field) => ({ column: field, field, ...(field === 'value' ? { measuredIn: 'in' } : {}) }));
  expect(reason({}, { columns })).toContain('the file says in');
});

it('reads wide rows: readings that are there, empty cells passed over, bad ones refused alone', () => {
  const header = ['time', 'hook front [mm]', 'hook back', 'film'];
  const wide = mappingShape.parse({ machine: 'SE1', product: 'T65', columns: [{ column: 'time', field: 'takenAt' }, { column: 'hook front [mm]', field: 'reading', characteristic: 'body-hook', position: 'front', measuredIn: 'mm' }, { column: 'hook back', field: 'reading', characteristic: 'body-hook', position: 'back' }, { column: 'film', field: 'reading', characteristic: 'film', position: 'any', measuredIn: 'mm' }] });
  const mapper = new RowMapper(header, layout, wide, names, now);
  expect(mapper.missing()).toEqual([]);
  const { readings, refusals } = readingsOf(mapper.map(2, ['2025-03-01 08:00', '1.65', '', '6.2']));
  expect(readings.map(({ characteristic: code, position, value, can, unitId }) => [code, position, value, can, unitId])).toEqual([['body-hook', 'front', 1.65, 1, null]]);
  expect(refusals).toEqual([{ row: 2, why: { code: 'unit', values: { name: 'Film', unit: 'µm', measuredIn: 'mm' } }, reason: 'Film: unit mismatch: kept in µm, the file says mm, and no conversion is stated', sort: expect.any(String) }]);
  expect(mapper.map(3, ['2025-03-01 08:00', '1.65']).refusals[0]?.reason).toBe('4 columns expected as in the header line, 2 found');
});

it('shares the list of spots among rows without gaps, and the spots themselves among all', () => {
  const header = ['time', 'can', 'a', 'b', 'unit of measure'];
  const wide = mappingShape.parse({ machine: 'SE1', product: 'T65', conversions: [{ from: 'in', to: 'mm', factor: 25.4 }], columns: [{ column: 'time', field: 'takenAt' }, { column: 'can', field: 'can' }, { column: 'a', field: 'reading', characteristic: 'Body hook', position: 'front' }, { column: 'b', field: 'reading', characteristic: 'body-hook', position: 'back' }, { column: 'unit of measure', field: 'unitOfMeasure' }] });
  const mapper = new RowMapper(header, layout, wide, names, now);
  const [one, two, gap, inches] = [['1.65', '1.66', ''], ['1.67', '1.68', ''], ['', '1.7', ''], ['0.065', '', 'in']].map((cells, index) => mapper.map(index + 2, ['2025-03-01 08:00', String(index + 1), ...cells]).placed);
  expect(two?.spots).toBe(one?.spots);
  expect(gap?.spots).toEqual([{ characteristicId: 7, characteristic: 'body-hook', position: 'back' }]);
  expect(gap?.spots[0]).toBe(one?.spots[1]);
  expect(inches?.spots[0]).toBe(one?.spots[0]);
  expect(inches?.values).toEqual([1.651]);
});

it('says what a mapping lacks', () => {
  const missing = (columns: Mapping['columns'], more: Partial<Mapping> = {}) => new RowMapper(columns.map((entry) => entry.column), layout, mapping({ columns, ...more }), names, now).missing();
  expect(missing([{ column: 'a', field: 'ignore' }])).toEqual(['a column for date and time (or one for each)', 'a column for the machine, or one machine for all rows', 'a column for the product, or one product for all rows', 'a column for the value, or columns for readings']);
  const rest = { machine: 'SE1', product: 'T65' };
  expect(missing([{ column: 'd', field: 'date' }, { column: 't', field: 'time' }, { column: 'v', field: 'value' }], rest)).toEqual(['a column for the characteristic, or one characteristic for all rows']);
  expect(missing([{ column: 't', field: 'takenAt' }, { column: 'r', field: 'reading' }], rest)).toEqual(['the characteristic of column "r"']);
  expect(missing([{ column: 't', field: 'takenAt' }, { column: 'v', field: 'value' }, { column: 'w', field: 'value' }], { ...rest, characteristic: 'body-hook' })).toEqual([expect.stringContaining('"w"')]);
});

it('answers readings or reasons to any row, and never throws', () => {
  const cell = fc.oneof(fc.string(), fc.constantFrom(...Object.values(good)), fc.constantFrom('1e400', '-0', '9'.repeat(400), '\u0000', '2025-03-01 08:00Z', '__proto__', 'constructor'));
  fc.assert(fc.property(fc.array(cell, { minLength: 0, maxLength: 14 }), fc.array(fc.constantFrom(...columnFields), { minLength: long.length, maxLength: long.length }), fc.boolean(), (cells, fields, asMeasured) => {
    const columns = long.map((column, index) => ({ column, field: fields[index] ?? 'ignore', characteristic: 'body-hook' }));
    for (const more of [{ asMeasured }, { asMeasured, columns, machine: 'SE1', product: 'T65', characteristic: 'film' }]) {
      const mapper = new RowMapper(long, layout, mapping(more), names, now);
      mapper.missing();
      const { readings, refusals } = readingsOf(mapper.map(2, cells));
      expect(readings.length + refusals.length).toBeGreaterThan(0);
      for (const reading of readings) expect(Math.abs(reading.value)).toBeLessThanOrEqual(1e9);
    }
  }), { numRuns: 500 });
});

it('reads the same, at the same spots, after a file has stated more units of measure than are kept in mind', () => {
  const mapper = new RowMapper(long, layout, mapping(), names, now);
  const read = (row: number, unitOfMeasure: string) => mapper.map(row, long.map((field) => ({ ...good, unitOfMeasure })[field]));
  const before = read(1, 'mm').placed;
  for (let row = 2; row <= 10_100; row += 1) expect(read(row, `unit ${row}`).refusals[0]?.why?.code).toBe('unit');
  const after = read(10_101, 'mm').placed;
  expect(after?.values).toEqual([1.65]);
  expect(after?.spots[0]).toBe(before?.spots[0]);
});
