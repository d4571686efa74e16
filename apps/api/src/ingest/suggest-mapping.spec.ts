import { expect, it } from 'vitest';
import { lookupOf, type Names } from './names.js';
import { suggestMapping } from './suggest-mapping.js';

const characteristic = (id: number, code: string, name: string, stepKind: string, unit = 'mm') => ({ code, name, value: { id, code, name, unit, stepKind, derived: false, plausibleLow: null, plausibleHigh: null } });
const machine = (id: number, code: string, stepKind: string) => ({ code, name: `Machine ${code}`, value: { id, code, lineId: 1, stepKind, units: lookupOf([{ code: 'H1', value: 1 }]), lanes: lookupOf<number>([]) } });
const names: Names = {
  machines: lookupOf([machine(1, 'BM1', 'body-maker'), machine(2, 'FL1', 'flanger'), machine(3, 'SE1', 'seamer')]), products: lookupOf<{ id: number; code: string }>([]), gauges: lookupOf<number>([]),
  characteristics: lookupOf([characteristic(1, 'weld-overlap', 'Weld overlap', 'body-maker'), characteristic(2, 'weld-thickness', 'Weld thickness', 'body-maker'), characteristic(3, 'flange-width', 'Flange width', 'flanger'), characteristic(4, 'body-hook', 'Body hook', 'seamer'), characteristic(5, 'cover-hook', 'Cover hook', 'seamer')]),
};
const fields = (header: string[], ...sample: string[][]) => suggestMapping(header, sample, names, '.').columns.map((column) => (column.field === 'reading' ? `${column.characteristic}@${column.position}${column.measuredIn ? ` in ${column.measuredIn}` : ''}` : column.field));

it('finds the fields of the long form, in English and German', () => {
  expect(fields(['Timestamp', 'Machine', 'Can no', 'Characteristic', 'Value [mm]', 'UoM'], ['2024-02-06 06:26', 'SE1', '1', 'Body hook', '1.7', 'mm'])).toEqual(['takenAt', 'machine', 'can', 'characteristic', 'value', 'unitOfMeasure']);
  expect(fields(['Zeitpunkt', 'Maschine', 'Produkt', 'Kopf', 'Merkmal', 'Wert', 'Einheit', 'Prüfer'], ['06.02.2024 06:26', 'SE1', 'T', 'H1', 'Body hook', '1.7', 'mm', 'x'])).toEqual(['takenAt', 'machine', 'product', 'unit', 'characteristic', 'value', 'unitOfMeasure', 'inspector']);
});

it('keeps the unit of measure that the value’s column names', () => {
  expect(suggestMapping(['Characteristic', 'Value [µm]'], [['Film', '6']], names, '.').columns[1]).toEqual({ column: 'Value [µm]', field: 'value', measuredIn: 'µm' });
});

it('tells by the cells whether "time" is a clock beside a date or both in one', () => {
  expect(fields(['Date', 'Time'], ['2024-02-06', '06:26'])).toEqual(['date', 'time']);
  expect(fields(['Time', 'Date'], ['6:26 AM', '02/06/2024'])).toEqual(['time', 'date']);
  expect(fields(['Date', 'Remark'], ['2024-02-06 06:26', ''])).toEqual(['takenAt', 'note']);
  expect(fields(['Datum', 'Zeit'], ['06.02.2024', '06:26:00'])).toEqual(['date', 'time']);
});

it('tells by the cells whether "unit" is a head or a unit of measure', () => {
  expect(fields(['unit'], ['H1'])).toEqual(['unit']);
  expect(fields(['unit'], ['mm'])).toEqual(['unitOfMeasure']);
});

it('splits the columns of the wide form into characteristic and position', () => {
  expect(fields(['machine', 'overlap front', 'weld thickness back [µm]', 'Overlap'], ['BM1', '0.4', '210', '0.4'])).toEqual(['machine', 'weld-overlap@front', 'weld-thickness@back in µm', 'weld-overlap@any']);
  expect(fields(['machine', 'body hook 60°', 'cover hook 60° mm'], ['SE1', '1.7', '1.6'])).toEqual(['machine', 'body-hook@60°', 'cover-hook@60° in mm']);
});

it('does not guess between characteristics whose names end alike', () => {
  expect(fields(['machine', 'hook 60°'], ['SE1', '1.7'])).toEqual(['machine', 'ignore']);
});

it('takes number columns for positions where the step has one characteristic', () => {
  expect(fields(['machine', 'beside weld', '90°', 'text'], ['FL1', '2.7', '2.8', 'x'])).toEqual(['machine', 'flange-width@beside weld', 'flange-width@90°', 'ignore']);
});
