import { expect, it } from 'vitest';
import { type Choices, START } from '../choices.js';
import { type DataTable, readTable } from '../read/read-table.js';
import { type FormedData, type FormFault, formData } from './form-data.js';
import { readTyped } from './read-typed.js';
import { suggestForm } from './suggest-form.js';

const table = (text: string): DataTable => { const answer = readTable(text); if ('fault' in answer) throw new Error(answer.fault.code); return answer.table; };
const formed = (text: string, choices: Partial<Choices>): FormedData => { const answer = formData(table(text), { ...START, ...choices }); if ('faults' in answer) throw new Error(JSON.stringify(answer.faults)); return answer.data; };
const faults = (text: string, choices: Partial<Choices>): readonly FormFault[] => { const answer = formData(table(text), { ...START, ...choices }); return 'faults' in answer ? answer.faults : []; };

it('takes one column as individuals, or cuts it into subgroups of one size', () => {
  expect(formed('1.10\n\n1.30', {})).toEqual({ type: 'values', values: [1.1, null, 1.3], names: null, products: null, readings: 2, missing: 1, decimals: 2 });
  expect(formed('1\n2\n3\n4\n\n6\n7', { size: '3' })).toEqual({ type: 'subgroups', subgroups: [[1, 2, 3], [4, null, 6], [7]], names: null, heads: null, incomplete: true, scattered: 0, products: null, readings: 6, missing: 1, decimals: 0 });
  for (const size of ['0', '2.5', 'three', '', '10001']) expect(faults('1\n2', { size })).toEqual([{ code: 'bad-size' }]);
});

it('takes each row as one subgroup, named by another column', () => {
  const data = formed('check;front;middle;back\nK1;1.1;1.2;1.3\nK2;1.4;;1.6', { form: 'rows', columns: [1, 2, 3], naming: 0 });
  expect(data).toMatchObject({ type: 'subgroups', subgroups: [[1.1, 1.2, 1.3], [1.4, null, 1.6]], names: ['K1', 'K2'], heads: ['front', 'middle', 'back'], readings: 5, missing: 1 });
  expect(faults('1;2\n3;4', { form: 'rows', columns: [0] })).toEqual([{ code: 'no-column' }]);
});

it('gathers subgroups by name, also where a name comes back, and says so', () => {
  const text = 'can;hook\nA;1\nA;2\nB;3\nA;4\nB;\nC;6';
  expect(formed(text, { form: 'named', column: 1, naming: 0 })).toMatchObject({ subgroups: [[1, 2, 4], [3, null], [6]], names: ['A', 'B', 'C'], scattered: 2, readings: 5, missing: 1 });
  expect(faults(text, { form: 'named', column: 1 })).toEqual([{ code: 'no-naming' }]);
});

it('names row and column of text where a number is expected, and takes it as missing when told to', () => {
  const text = ['a;b', '1;2', '1;2', '1;2', '1;2', '1;2', '1;torn', '1;2', '1;gone'].join('\n');
  expect(faults(text, { form: 'rows', columns: [0, 1] })).toEqual([{ code: 'text-cell', row: 7, column: 'b', text: 'torn', more: 1 }]);
  expect(formed(text, { form: 'rows', columns: [0, 1], textsAsMissing: true })).toMatchObject({ readings: 14, missing: 2 });
  expect(faults('x\ny', { column: 0, textsAsMissing: true })).toEqual([{ code: 'no-readings' }]);
});

it('takes counts with one size, a column of sizes or none, and refuses what no count can be', () => {
  expect(formed('3\n0\n\n2', { form: 'counts', sizes: 'same', sampleSize: '50' })).toMatchObject({ type: 'counts', counts: [3, 0, null, 2], sizes: 50 });
  expect(formed('3;50\n0;48\n;\n2;51', { form: 'counts', sizes: 'column', sizesColumn: 1 })).toMatchObject({ counts: [3, 0, null, 2], sizes: [50, 48, 1, 51] });
  expect(formed('3\n9', { form: 'counts', counted: 'defects' })).toMatchObject({ sizes: null });
  expect(formed('3;1.5\n9;2.5', { form: 'counts', counted: 'defects', sizes: 'column', sizesColumn: 1 })).toMatchObject({ sizes: [1.5, 2.5] });
  expect(faults('3\n9', { form: 'counts' })).toEqual([{ code: 'bad-sample-size' }]);
  expect(faults('3\n2.5\n-1\n60', { form: 'counts', sizes: 'same', sampleSize: '50' })).toEqual([
    { code: 'negative', row: 3, column: 'a', text: '-1', more: 0 }, { code: 'not-whole', row: 2, column: 'a', text: '2.5', more: 0 }, { code: 'above-size', row: 4, column: 'a', text: '60', more: 0 },
  ]);
  expect(faults('3;50\n2;', { form: 'counts', sizes: 'column', sizesColumn: 1 })).toEqual([{ code: 'size-missing', row: 2, column: 'a', text: '2', more: 0 }]);
});

it('takes whole numbers for gaps, numbers with decimals for times, and neither below zero', () => {
  expect(formed('12000\n\n0', { form: 'events' })).toMatchObject({ type: 'events', gaps: [12000, null, 0] });
  expect(formed('1.5\n2', { form: 'events', event: 'times' })).toMatchObject({ gaps: [1.5, 2] });
  expect(faults('1.5\n-2', { form: 'events' }).map(({ code }) => code)).toEqual(['negative', 'not-whole']);
  expect(faults('1.5\n-2', { form: 'events', event: 'times' }).map(({ code }) => code)).toEqual(['negative']);
});

it('suggests a form for a new table', () => {
  expect(suggestForm(table('1\n2\n3'))).toMatchObject({ form: 'column', column: 0 });
  expect(suggestForm(table('a;b\n1;2\n3;4'))).toMatchObject({ form: 'rows', columns: [0, 1], naming: null });
  expect(suggestForm(table('can;front;back\nK1;2;3\nK2;4;5\nK3;x;5'))).toMatchObject({ form: 'rows', columns: [1, 2], naming: 0 });
  expect(suggestForm(table('lane;hook\nA;1\nA;2\nB;3\nB;4'))).toMatchObject({ form: 'named', column: 1, naming: 0 });
  expect(suggestForm(table('shift;hook\nearly;1\nlate;2\nnight;3'))).toMatchObject({ form: 'column', column: 1, naming: 0 });
});

it('reads typed limits with point or comma', () => {
  expect(['1.25', '1,25', '', ' ', '1.2.3', '-0,5'].map(readTyped)).toEqual([1.25, 1.25, null, null, 'bad', -0.5]);
});

it('takes product and nominal of each point from the first row of its subgroup', () => {
  const text = 'format;nominal;hook\n73;1.95;1.94\n73;1.95;1.96\n99;2.1;2.11\n99;2.1;2.09\n73;1.95;1.95';
  expect(formed(text, { column: 2, size: '2', product: 0, nominal: 1 })).toMatchObject({ type: 'subgroups', products: { names: ['73', '99', '73'], nominals: [1.95, 2.1, 1.95] } });
  expect(formed(text, { column: 2, product: 0, nominal: 1 })).toMatchObject({ type: 'values', products: { nominals: [1.95, 1.95, 2.1, 2.1, 1.95] } });
  expect(formed(text, { column: 2, product: 0 })).toMatchObject({ products: null });
  expect(faults('format;nominal;hook\n73;1.95;1.94\n99;;2.1', { column: 2, product: 0, nominal: 1 })).toEqual([{ code: 'nominal-missing', row: 3, column: 'nominal', text: '99', more: 0 }]);
});
