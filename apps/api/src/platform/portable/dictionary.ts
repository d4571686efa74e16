import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import type { Column, Table } from './catalogue.js';
import { columnWords } from './column-words.js';

/** What the schema files say of tables and columns, by their names in the database: "table" and "table.column". */
export type Meanings = ReadonlyMap<string, string>;

/** Reads the `///` comments of prisma/schema; start, build and tests run from the project root. */
export function readMeanings(folder: string = path.join(process.cwd(), 'prisma', 'schema')): Meanings {
  return meaningsOf(readdirSync(folder).filter((name) => name.endsWith('.prisma')).sort().map((name) => readFileSync(path.join(folder, name), 'utf8')).join('\n'));
}

export function meaningsOf(schema: string): Meanings {
  const meanings = new Map<string, string>();
  for (const [, said = '', body = ''] of schema.matchAll(/((?:^\/\/\/.*\n)*)^model \w+ \{\n([\s\S]*?)^\}/gm)) {
    const table = /@@map\("(\w+)"\)/.exec(body)?.[1];
    if (!table) continue;
    meanings.set(table, words(said));
    let comment = '';
    for (const line of body.split('\n')) {
      const text = line.trim();
      if (text.startsWith('///')) { comment = `${comment} ${text.slice(3).trim()}`.trim(); continue; }
      const field = /^(\w+)\s+\w/.exec(text)?.[1];
      if (field && comment) meanings.set(`${table}.${/@map\("(\w+)"\)/.exec(text)?.[1] ?? field}`, comment);
      comment = '';
    }
  }
  return meanings;
}

const words = (comment: string) => comment.split('\n').map((line) => line.replace(/^\/\/\/ ?/, '')).join(' ').trim();

/** Heading and one row a column: table, column, meaning, unit, type, and what a person needs to read the file elsewhere. */
export function dictionaryOf(tables: readonly Table[], meanings: Meanings): string[][] {
  const rows = tables.flatMap((table) => table.columns.filter((column) => !column.generated).map((column) => {
    const refers = table.references.filter((each) => each.columns.at(-1) === column.name).map((each) => `${each.table}.${each.to.at(-1)}`);
    const meaning = meanings.get(`${table.name}.${column.name}`) ?? meaningOf(column, refers);
    return [table.name, column.name, meaning, unitOf(column), column.type, column.key ? 'yes' : 'no', column.required ? 'no' : 'yes', refers.join(' '), column.secret ? 'yes' : 'no', meanings.get(table.name) ?? ''];
  }));
  return [['table', 'column', 'meaning', 'unit', 'type', 'part_of_key', 'may_be_empty', 'refers_to', 'withheld', 'what_the_table_holds'], ...rows];
}

function meaningOf({ name }: Column, refers: readonly string[]): string {
  const known = columnWords[name]?.meaning;
  if (known) return known;
  const said = name.replaceAll('_', ' ');
  if (name.endsWith('_id')) return refers[0] ? `which ${said.slice(0, -3)}: ${refers[0]}` : `which ${said.slice(0, -3)}, by its id`;
  if (name.endsWith('_by')) return `who ${said.slice(0, -3)} it: user.id`;
  if (name.endsWith('_at')) return `when it was ${said.slice(0, -3)}`;
  return said;
}

function unitOf({ name, type }: Column): string {
  if (type.startsWith('timestamp')) return 'UTC';
  const known = columnWords[name]?.unit;
  if (known) return known;
  if (/(^|_)minutes?$/.test(name)) return 'min';
  if (/(^|_)seconds$/.test(name)) return 's';
  return /(^|_)cans($|_)/.test(name) && /^(integer|bigint)$/.test(type) ? 'cans' : '';
}
