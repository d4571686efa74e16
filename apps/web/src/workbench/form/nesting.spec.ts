import { expect, it } from 'vitest';
import { START } from '../choices.js';
import type { DataTable } from '../read/read-table.js';
import { formData } from './form-data.js';
import { nestingOf } from './nesting.js';

const texts = (name: string, given: string[]) => ({ name, numbers: Float64Array.from(given, () => Number.NaN), texts: given, textCount: given.length, missing: 0, firstTexts: [], decimals: 0 });
const numbers = (name: string, given: number[]) => ({ name, numbers: Float64Array.from(given), texts: null, textCount: 0, missing: 0, firstTexts: [], decimals: 1 });
const table = { columns: [texts('unit', ['H1', 'H1', 'H2', 'H2']), numbers('can', [1, 1, 1, 1]), numbers('seam', [1.1, Number.NaN, 1.3, 1.2])], rows: 4 } as unknown as DataTable;
const formedOf = (choices: typeof START) => {
  const formed = formData(table, choices);
  if ('faults' in formed) throw new Error(JSON.stringify(formed.faults));
  return formed.data;
};

it('takes the levels from the columns that name them, and leaves missing readings out', () => {
  const choices = { ...START, form: 'column' as const, column: 2, levels: [0, 1] };
  expect(nestingOf(table, choices, formedOf(choices), 'subgroup')).toEqual({ values: [1.1, 1.3, 1.2], levels: [{ name: 'unit', labels: ['H1', 'H2', 'H2'] }, { name: 'can', labels: ['1', '1', '1'] }] });
});

it('takes the column that names the subgroup as the innermost level beside others', () => {
  const choices = { ...START, form: 'named' as const, column: 2, naming: 1, levels: [0] };
  expect(nestingOf(table, choices, formedOf(choices), 'subgroup')?.levels.map(({ name }) => name)).toEqual(['unit', 'can']);
});

it('takes subgroups as the one level where no column names any, and nothing for single readings', () => {
  const pairs = { ...START, form: 'column' as const, column: 2, size: '2' };
  expect(nestingOf(table, pairs, formedOf(pairs), 'subgroup')).toEqual({ values: [1.1, 1.3, 1.2], levels: [{ name: 'subgroup', labels: [1, 2, 2] }] });
  const singles = { ...START, form: 'column' as const, column: 2 };
  expect(nestingOf(table, singles, formedOf(singles), 'subgroup')).toBeNull();
});
