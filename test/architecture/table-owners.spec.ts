import { expect, it } from 'vitest';
import { sourceFiles } from './source-files.js';

type Table = { table: string; accessor: string; owner: string };

/** The schema file that declares a table names the feature that writes it. */
const tables: Table[] = sourceFiles(['prisma/schema'], /\.prisma$/).flatMap(({ file, text }) => {
  const owner = /([^/]+)\.prisma$/.exec(file)?.[1] ?? '';
  return [...text.matchAll(/^model (\w+) \{([\s\S]*?)^\}/gm)].map(([, model = '', body = '']) => ({
    owner, table: /@@map\("(\w+)"\)/.exec(body)?.[1] ?? model, accessor: model.charAt(0).toLowerCase() + model.slice(1),
  }));
});

type Write = { file: string; line: number; table: string; owner: string };
const SQL_WRITE = /\b(?:INSERT\s+INTO|UPDATE|DELETE\s+FROM|TRUNCATE(?:\s+TABLE)?|MERGE\s+INTO|COPY)\s+(?:ONLY\s+)?"?([a-z_]+)"?/gi;
const PRISMA_WRITE = /\.(\w+)\s*\.\s*(?:create|createMany|createManyAndReturn|update|updateMany|updateManyAndReturn|upsert|delete|deleteMany)\s*\(/g;

/** Writes that stand in a source text: SQL by table name, Prisma by model. A nested write inside a relation is not seen, and so not allowed. */
function writesIn(file: string, text: string): Write[] {
  const found = (pattern: RegExp, key: 'table' | 'accessor') => [...text.matchAll(pattern)].flatMap((match) => {
    const table = tables.find((candidate) => candidate[key] === match[1]);
    return table ? [{ file, line: text.slice(0, match.index).split('\n').length, table: table.table, owner: table.owner }] : [];
  });
  return [...found(SQL_WRITE, 'table'), ...found(PRISMA_WRITE, 'accessor')];
}

/** The one exception: the demo plant fills an empty database in bulk, by stores of its own that nothing else may import (an import rule sees to it). */
const DEMO_STORE = /^apps\/api\/src\/flows\/demo\/demo-[a-z-]+\.store\.ts$/;

/** Platform is one place; a feature writes in its stores. */
function isOwners({ file, owner }: Write): boolean {
  if (DEMO_STORE.test(file)) return true;
  const folder = `apps/api/src/${owner}/`;
  return file.startsWith(folder) && (owner === 'platform' || file.endsWith('.store.ts'));
}

it('a table is written only by the stores of the feature whose schema file declares it', () => {
  const writes = sourceFiles(['apps', 'libs', 'seed'], /(?<!\.spec)\.(?:m?ts|tsx|mjs)$/).flatMap(({ file, text }) => writesIn(file, text));
  // The check sees the writes there are: an empty list would pass and prove nothing.
  expect(writes.length).toBeGreaterThan(10);
  expect(writes.filter((write) => !isOwners(write)).map(({ file, line, table, owner }) => `${file}:${line} writes ${table}, which is of ${owner}`)).toEqual([]);
});

it('every schema file is one feature with at least one table, and no table is declared twice', () => {
  expect(tables.length).toBeGreaterThan(20);
  expect(new Set(tables.map(({ table }) => table)).size).toBe(tables.length);
  expect([...new Set(tables.map(({ owner }) => owner))].filter((owner) => owner !== 'platform' && sourceFiles([`apps/api/src/${owner}`], /\.module\.ts$/).length !== 1)).toEqual([]);
});

it('sees a foreign write in either form, and no write where there is none', () => {
  const foreign = (text: string) => writesIn('apps/api/src/studies/x.store.ts', text).filter((write) => !isOwners(write)).map(({ table }) => table);
  expect(foreign('tx.$executeRaw`DELETE FROM "check" WHERE id = 1`')).toEqual(['check']);
  expect(foreign('tx.$executeRaw`UPDATE stream s SET revision = 2`')).toEqual(['stream']);
  expect(foreign('await tx.limits.upsert({})')).toEqual(['limits']);
  expect(foreign('SELECT id FROM stream ORDER BY id FOR UPDATE OF s; tx.limits.findMany({}); ON CONFLICT DO UPDATE SET a = 1')).toEqual([]);
  expect(isOwners({ file: 'apps/api/src/signals/raise.ts', line: 1, table: 'signal', owner: 'signals' })).toBe(false);
});
