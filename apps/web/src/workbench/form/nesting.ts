import type { Choices } from '../choices.js';
import type { DataTable } from '../read/read-table.js';
import { type FormedData, namesOf } from './form-data.js';

/** Readings without the missing ones, and for each of them where it belongs at every level, outermost first. */
export type Nesting = { values: number[]; levels: { name: string; labels: (string | number)[] }[] };

/** The hierarchy of readings: by the columns that name its levels, else by subgroup. What no level names is variation within. Null where readings have none. */
export function nestingOf(table: DataTable, choices: Pick<Choices, 'form' | 'column' | 'naming' | 'levels'>, data: FormedData, subgroupName: string): Nesting | null {
  const places = choices.form === 'named' && choices.naming !== null && choices.levels.length > 0 ? [...choices.levels.filter((place) => place !== choices.naming), choices.naming] : choices.levels;
  const named = choices.form === 'column' || choices.form === 'named' ? places.flatMap((place) => { const labels = namesOf(table, place); const name = table.columns[place]?.name; return labels && name ? [{ name, labels }] : []; }) : [];
  const column = table.columns[choices.column];
  if (named.length > 0 && column && (data.type === 'values' || data.type === 'subgroups')) {
    const rows = [...column.numbers.keys()].filter((row) => !Number.isNaN(column.numbers[row] ?? Number.NaN));
    return { values: rows.map((row) => column.numbers[row] ?? 0), levels: named.map(({ name, labels }) => ({ name, labels: rows.map((row) => labels[row] ?? '') })) };
  }
  if (data.type !== 'subgroups') return null;
  const members = data.subgroups.flatMap((readings, index) => readings.flatMap((value) => (value === null ? [] : [{ value, label: index + 1 }])));
  return { values: members.map(({ value }) => value), levels: [{ name: subgroupName, labels: members.map(({ label }) => label) }] };
}
