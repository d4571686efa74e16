import { expect, it } from 'vitest';
import { type Choices, START } from '../choices.js';
import { readTable } from '../read/read-table.js';
import { formData } from './form-data.js';
import { nestingOf } from './nesting.js';

const nesting = (text: string, given: Partial<Choices>) => {
  const read = readTable(text);
  if ('fault' in read) throw new Error(read.fault.code);
  const choices = { ...START, ...given };
  const formed = formData(read.table, choices);
  if ('faults' in formed) throw new Error(JSON.stringify(formed.faults));
  return nestingOf(read.table, choices, formed.data, 'subgroup');
};

it('takes the levels from their columns, outermost first, and leaves missing readings out', () => {
  const text = 'lane;can;hook\nA;1;1.1\nA;1;1.2\nA;2;\nB;1;1.4';
  expect(nesting(text, { form: 'column', column: 2, levels: [0, 1] })).toEqual({ values: [1.1, 1.2, 1.4], levels: [{ name: 'lane', labels: ['A', 'A', 'B'] }, { name: 'can', labels: ['1', '1', '1'] }] });
});

it('puts the column that names the subgroup innermost', () => {
  const text = 'can;lane;hook\nc1;A;1.1\nc1;A;1.2\nc2;B;1.3';
  expect(nesting(text, { form: 'named', column: 2, naming: 0, levels: [1] })?.levels.map(({ name }) => name)).toEqual(['lane', 'can']);
  expect(nesting(text, { form: 'named', column: 2, naming: 0, levels: [0, 1] })?.levels.map(({ name }) => name)).toEqual(['lane', 'can']);
});

it('takes subgroups for the one level where no column names any, and nothing for single readings and counts', () => {
  expect(nesting('1;2\n3;\n5;6', { form: 'rows', columns: [0, 1] })).toEqual({ values: [1, 2, 3, 5, 6], levels: [{ name: 'subgroup', labels: ['1', '1', '2', '3', '3'] }] });
  expect(nesting('1\n2', {})).toBeNull();
  expect(nesting('1\n2', { form: 'counts', counted: 'defects' })).toBeNull();
});
