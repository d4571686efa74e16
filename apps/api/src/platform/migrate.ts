import { readdir, readFile } from 'node:fs/promises';
import path from 'node:path';
import pg from 'pg';
import { withSchemaEngine } from './schema-engine.js';
import { StartError } from './start-error.js';

/** Any 64-bit number will do as long as every Seamledger start uses the same one. */
const START_LOCK = 7_326_551_904;

/** The folder of committed SQL, found from the project root whether this runs from source or from dist. */
export function migrationsFolder(): string {
  return path.join(process.cwd(), 'prisma', 'migrations');
}

async function readMigrations(folder: string) {
  const names = (await readdir(folder, { withFileTypes: true })).filter((entry) => entry.isDirectory()).map((entry) => entry.name).sort();
  return Promise.all(names.map(async (name) => ({
    path: name,
    migrationFile: { path: 'migration.sql', content: { tag: 'ok' as const, value: await readFile(path.join(folder, name, 'migration.sql'), 'utf8') } },
  })));
}

/** Holds the start lock while `work` runs, so that two starts on one database migrate and seed one after the other. */
export async function underStartLock<Answer>(databaseUrl: string, work: () => Promise<Answer>): Promise<Answer> {
  const client = new pg.Client({ connectionString: databaseUrl });
  client.on('error', () => {});
  await client.connect();
  try {
    await client.query('SELECT pg_advisory_lock($1)', [START_LOCK]);
    return await work();
  } finally {
    await client.end();
  }
}

/** Names of the migrations on disk that the database has not applied; refuses a database that holds somebody else's tables. */
export async function pendingMigrations(databaseUrl: string): Promise<string[]> {
  const known = (await readMigrations(migrationsFolder())).map((migration) => migration.path);
  const client = new pg.Client({ connectionString: databaseUrl });
  await client.connect();
  try {
    const tables = (await client.query<{ name: string }>("SELECT table_name AS name FROM information_schema.tables WHERE table_schema = 'public'")).rows.map((row) => row.name);
    if (tables.length === 0) return known;
    if (!tables.includes('_prisma_migrations')) {
      throw new StartError(`the database is not empty and not Seamledger's (it holds ${tables.length} tables, for example "${tables[0]}"): give an empty one in DATABASE_URL`);
    }
    const rows = (await client.query<{ name: string; done: boolean }>('SELECT migration_name AS name, finished_at IS NOT NULL AS done FROM _prisma_migrations WHERE rolled_back_at IS NULL')).rows;
    const foreign = rows.find((row) => !known.includes(row.name));
    if (foreign) throw new StartError(`the database holds a migration that this version does not know ("${foreign.name}"): it belongs to a newer Seamledger or to another program`);
    const broken = rows.find((row) => !row.done);
    if (broken) throw new StartError(`an earlier start broke off inside migration "${broken.name}": restore the last backup or ask for help, nothing was changed now`);
    return known.filter((name) => !rows.some((row) => row.name === name));
  } finally {
    await client.end();
  }
}

/** Applies the committed SQL with Prisma's schema engine and answers the names applied. */
export async function applyMigrations(databaseUrl: string): Promise<string[]> {
  const pool = new pg.Pool({ connectionString: databaseUrl, max: 2 });
  try {
    const migrationDirectories = await readMigrations(migrationsFolder());
    const answer = await withSchemaEngine(pool, [['datasource.prisma', 'datasource db {\n  provider = "postgresql"\n}\n']], (engine) => engine.applyMigrations({
      migrationsList: {
        baseDir: migrationsFolder(), migrationDirectories, shadowDbInitScript: '',
        lockfile: { path: 'migration_lock.toml', content: 'provider = "postgresql"' },
      },
      filters: { externalTables: [], externalEnums: [] },
    }));
    return answer.appliedMigrationNames;
  } finally {
    await pool.end();
  }
}
