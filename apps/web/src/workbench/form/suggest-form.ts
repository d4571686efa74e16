import type { Choices } from '../choices.js';
import type { DataTable } from '../read/read-table.js';

/** A first reading of a new table: one column as individuals, several number columns as one subgroup a row, names where the first column holds text. */
export function suggestForm({ columns, rows }: DataTable): Partial<Choices> {
  const numeric = columns.flatMap(({ textCount, missing }, place) => (textCount === 0 && missing < rows ? [place] : []));
  // A column that is mostly numbers is one with mistakes in it, not one of names.
  const nearly = columns.flatMap(({ textCount, missing }, place) => (textCount * 2 < rows - missing ? [place] : []));
  const [first = 0] = numeric.length > 0 ? numeric : nearly;
  const naming = columns.findIndex(({ textCount, missing }) => textCount > 0 && textCount * 2 >= rows - missing);
  const named = naming < 0 ? null : naming;
  const base: Partial<Choices> = { column: first, columns: nearly.length > 0 ? nearly : numeric, naming: named, product: null, nominal: null, levels: [], sizesColumn: null, kind: null };
  if (nearly.length >= 2) return { ...base, form: 'rows' };
  if (named === null) return { ...base, form: 'column' };
  const { texts } = columns[named] ?? { texts: null };
  const repeats = texts !== null && new Set(texts).size * 2 <= texts.length;
  return { ...base, form: repeats ? 'named' : 'column' };
}
