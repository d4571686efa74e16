import type { Choices } from '../choices.js';
import type { Column, DataTable } from '../read/read-table.js';
import { readTyped } from './read-typed.js';

export type FormFault =
  | { code: 'text-cell'; row: number; column: string; text: string; more: number }
  | { code: 'not-whole' | 'negative' | 'size-missing' | 'above-size'; row: number; column: string; text: string; more: number }
  | { code: 'no-column' | 'no-naming' | 'no-readings' | 'no-sizes-column' | 'same-column' }
  | { code: 'nominal-missing'; row: number; column: string; text: string; more: number }
  | { code: 'bad-size' | 'bad-sample-size' };

/** The choices that form readings. */
export type FormParts = Pick<Choices, 'form' | 'column' | 'columns' | 'size' | 'naming' | 'textsAsMissing' | 'counted' | 'sizes' | 'sampleSize' | 'sizesColumn' | 'event' | 'product' | 'nominal'>;

type Named = { names: readonly string[] | null };
/** What each point is of, where several products share a chart. */
export type Products = { names: readonly string[]; nominals: readonly number[] };
export type FormedData = (
  | { type: 'values'; values: (number | null)[]; products: Products | null } & Named
  | { type: 'subgroups'; subgroups: (number | null)[][]; heads: readonly string[] | null; incomplete: boolean; scattered: number; products: Products | null } & Named
  | { type: 'counts'; counts: (number | null)[]; sizes: number | number[] | null } & Named
  | { type: 'events'; gaps: (number | null)[] } & Named
) & { readings: number; missing: number; decimals: number };
export type FormAnswer = { data: FormedData } | { faults: readonly FormFault[] };

/** What the table says when it is read as chosen, or what is wrong, by row and column. */
export function formData(table: DataTable, choices: FormParts): FormAnswer {
  const column = table.columns[choices.column];
  switch (choices.form) {
    case 'rows': return formRows(table, choices);
    case 'counts': return column ? formCounts(table, column, choices) : { faults: [{ code: 'no-column' }] };
    case 'events': return column ? formEvents(table, column, choices) : { faults: [{ code: 'no-column' }] };
    case 'named': return column ? formNamed(table, column, choices) : { faults: [{ code: 'no-column' }] };
    case 'column': return column ? formColumn(table, column, choices) : { faults: [{ code: 'no-column' }] };
  }
}

const found = (values: readonly (number | null)[]): number => values.reduce<number>((sum, value) => sum + (value === null ? 0 : 1), 0);
const nullable = ({ numbers }: Column): (number | null)[] => Array.from(numbers, (value) => (Number.isNaN(value) ? null : value));

/** What each row is called; null when no column names it. */
export function namesOf(table: DataTable, place: number | null): string[] | null {
  const column = place === null ? undefined : table.columns[place];
  if (!column) return null;
  return column.texts ? [...column.texts] : Array.from(column.numbers, (value) => (Number.isNaN(value) ? '' : String(value)));
}

/** Text where a number belongs, unless it was agreed to stand for "missing". */
function textFaults(columns: readonly Column[], choices: FormParts): FormFault[] {
  if (choices.textsAsMissing) return [];
  return columns.flatMap(({ name, firstTexts, textCount }): FormFault[] => {
    const [first] = firstTexts;
    return first ? [{ code: 'text-cell', row: first.line, column: name, text: first.text, more: textCount - 1 }] : [];
  });
}

function formColumn(table: DataTable, column: Column, choices: FormParts): FormAnswer {
  const size = readTyped(choices.size);
  const faults: FormFault[] = textFaults([column], choices);
  if (size === null || size === 'bad' || !Number.isInteger(size) || size < 1 || size > 10_000) faults.push({ code: 'bad-size' });
  const values = nullable(column);
  const readings = found(values);
  if (readings === 0) faults.push({ code: 'no-readings' });
  if (faults.length > 0 || typeof size !== 'number') return { faults };
  const products = productsOf(table, choices, Array.from({ length: Math.ceil(values.length / size) }, (_none, index) => index * size));
  if (products && 'fault' in products) return { faults: [products.fault] };
  const common = { readings, missing: values.length - readings, decimals: column.decimals };
  const names = namesOf(table, choices.naming);
  if (size === 1) return { data: { type: 'values', values, names, products, ...common } };
  const subgroups: (number | null)[][] = [];
  for (let start = 0; start < values.length; start += size) subgroups.push(values.slice(start, start + size));
  return { data: { type: 'subgroups', subgroups, names: names && subgroups.map((_readings, index) => names[index * size] ?? ''), heads: null, incomplete: values.length % size !== 0, scattered: 0, products, ...common } };
}

function formRows(table: DataTable, choices: FormParts): FormAnswer {
  const columns = choices.columns.flatMap((place) => table.columns[place] ?? []);
  if (columns.length < 2) return { faults: [{ code: 'no-column' }] };
  const faults = textFaults(columns, choices);
  const subgroups = Array.from({ length: table.rows }, (_none, row) => columns.map(({ numbers }) => { const value = numbers[row] ?? Number.NaN; return Number.isNaN(value) ? null : value; }));
  const readings = subgroups.reduce((sum, members) => sum + found(members), 0);
  if (readings === 0) faults.push({ code: 'no-readings' });
  if (faults.length > 0) return { faults };
  const products = productsOf(table, choices, Array.from({ length: table.rows }, (_none, row) => row));
  if (products && 'fault' in products) return { faults: [products.fault] };
  return { data: {
    type: 'subgroups', subgroups, names: namesOf(table, choices.naming), heads: columns.map(({ name }) => name), incomplete: false, scattered: 0, products,
    readings, missing: table.rows * columns.length - readings, decimals: Math.max(...columns.map(({ decimals }) => decimals)),
  } };
}

function formNamed(table: DataTable, column: Column, choices: FormParts): FormAnswer {
  const faults = textFaults([column], choices);
  const names = namesOf(table, choices.naming);
  if (!names) faults.push({ code: 'no-naming' });
  else if (choices.naming === choices.column) faults.push({ code: 'same-column' });
  const values = nullable(column);
  const readings = found(values);
  if (readings === 0) faults.push({ code: 'no-readings' });
  if (faults.length > 0 || !names) return { faults };
  const groups = new Map<string, (number | null)[]>();
  const firstRows: number[] = [];
  let scattered = 0;
  // A name that comes again later still means the same subgroup; how often that happens is told.
  values.forEach((value, row) => {
    const name = names[row] ?? '';
    const members = groups.get(name);
    if (members) {
      if (names[row - 1] !== name) scattered += 1;
      members.push(value);
    } else {
      groups.set(name, [value]);
      firstRows.push(row);
    }
  });
  const products = productsOf(table, choices, firstRows);
  if (products && 'fault' in products) return { faults: [products.fault] };
  return { data: { type: 'subgroups', subgroups: [...groups.values()], names: [...groups.keys()], heads: null, incomplete: false, scattered, products, readings, missing: values.length - readings, decimals: column.decimals } };
}

/** Product and nominal of each point, taken from the first row of its subgroup; null where the table names none. */
function productsOf(table: DataTable, { product, nominal }: FormParts, rows: readonly number[]): Products | { fault: FormFault } | null {
  const [all, column] = [namesOf(table, product), nominal === null ? undefined : table.columns[nominal]];
  if (!all || !column) return null;
  const missing = rows.filter((row) => Number.isNaN(column.numbers[row] ?? Number.NaN) || (all[row] ?? '') === '');
  const [first] = missing;
  if (first !== undefined) return { fault: { code: 'nominal-missing', row: first + table.firstLine, column: column.name, text: all[first] ?? '', more: missing.length - 1 } };
  return { names: rows.map((row) => all[row] ?? ''), nominals: rows.map((row) => column.numbers[row] ?? 0) };
}

type Check = { code: 'not-whole' | 'negative' | 'size-missing' | 'above-size'; holds: (value: number, row: number) => boolean };
/** The first row that fails each check, and how many more do. */
function rowFaults(table: DataTable, column: Column, checks: readonly Check[]): FormFault[] {
  return checks.flatMap(({ code, holds }): FormFault[] => {
    const rows = [...column.numbers.keys()].filter((row) => { const value = column.numbers[row] ?? Number.NaN; return !Number.isNaN(value) && !holds(value, row); });
    const [first] = rows;
    return first === undefined ? [] : [{ code, row: first + table.firstLine, column: column.name, text: String(column.numbers[first]), more: rows.length - 1 }];
  });
}

function formCounts(table: DataTable, column: Column, choices: FormParts): FormAnswer {
  const sizesColumn = choices.sizes === 'column' && choices.sizesColumn !== null ? table.columns[choices.sizesColumn] : undefined;
  const faults: FormFault[] = textFaults(sizesColumn ? [column, sizesColumn] : [column], choices);
  const same = choices.sizes === 'same' ? readTyped(choices.sampleSize) : null;
  const whole = choices.counted === 'units';
  if (choices.sizes === 'column' && !sizesColumn) faults.push({ code: 'no-sizes-column' });
  if (choices.sizes === 'same' && (typeof same !== 'number' || same <= 0 || (whole && !Number.isInteger(same)))) faults.push({ code: 'bad-sample-size' });
  // Defective units are a share of the units looked at: without their number there is no chart of them.
  if (choices.sizes === 'none' && whole) faults.push({ code: 'bad-sample-size' });
  const checks: Check[] = [{ code: 'negative', holds: (value) => value >= 0 }, { code: 'not-whole', holds: (value) => Number.isInteger(value) }];
  if (sizesColumn) checks.push({ code: 'size-missing', holds: (_value, row) => (sizesColumn.numbers[row] ?? Number.NaN) > 0 });
  if (whole && (sizesColumn || typeof same === 'number')) checks.push({ code: 'above-size', holds: (value, row) => !(value > (sizesColumn ? sizesColumn.numbers[row] ?? Number.NaN : Number(same))) });
  faults.push(...rowFaults(table, column, checks));
  if (sizesColumn && whole) faults.push(...rowFaults(table, sizesColumn, [{ code: 'not-whole', holds: (value) => Number.isInteger(value) }]));
  const counts = nullable(column);
  const readings = found(counts);
  if (readings === 0) faults.push({ code: 'no-readings' });
  if (faults.length > 0) return { faults };
  // Where a count is missing its size is not used; it has to be a size all the same.
  const sizes = sizesColumn ? Array.from(sizesColumn.numbers, (size) => (Number.isNaN(size) || size <= 0 ? 1 : size)) : typeof same === 'number' ? same : null;
  return { data: { type: 'counts', counts, sizes, names: namesOf(table, choices.naming), readings, missing: counts.length - readings, decimals: 0 } };
}

function formEvents(table: DataTable, column: Column, choices: FormParts): FormAnswer {
  const checks: Check[] = [{ code: 'negative', holds: (value) => value >= 0 }];
  if (choices.event === 'gaps') checks.push({ code: 'not-whole', holds: (value) => Number.isInteger(value) });
  const faults = [...textFaults([column], choices), ...rowFaults(table, column, checks)];
  const gaps = nullable(column);
  const readings = found(gaps);
  if (readings === 0) faults.push({ code: 'no-readings' });
  if (faults.length > 0) return { faults };
  return { data: { type: 'events', gaps, names: namesOf(table, choices.naming), readings, missing: gaps.length - readings, decimals: column.decimals } };
}
