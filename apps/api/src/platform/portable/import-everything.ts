import { createHash } from 'node:crypto';
import { StringDecoder } from 'node:string_decoder';
import pg from 'pg';
import { z } from 'zod';
import { StartError } from '../start-error.js';
import { appliedMigrations, partitionsOf, portableTables, quoted, SAME_TEXTS, type Table } from './catalogue.js';
import { CsvReader } from './csv-text.js';
import { fileOf, MANIFEST, type Manifest, manifest as manifestShape } from './manifest.js';
import { readDirectory, readEntry, type ZipEntry } from './zip-reader.js';

const BATCH = { rows: 2000, characters: 4_000_000 };

/**
 * Brings the file of `exportEverything` into an installation that holds nothing yet: all of it or nothing, every file held
 * against the manifest. Triggers rest meanwhile, so that rows come in as they were; references are checked anew at the end.
 * `settle` are statements of the same transaction for what came in and must not go on here.
 */
export async function importEverything(databaseUrl: string, file: string, say: (line: string) => void, settle: readonly string[] = []): Promise<Manifest> {
  const entries = await readDirectory(file);
  const manifest = await readManifest(file, entries);
  const client = new pg.Client({ connectionString: databaseUrl });
  client.on('error', () => {});
  await client.connect();
  try {
    await client.query('BEGIN');
    await client.query(SAME_TEXTS);
    const tables = await portableTables(client);
    await refuseUnfit(client, tables, manifest, entries);
    const references = await restReferences(client);
    await makePartitions(client, tables, manifest);
    for (const table of tables) {
      await client.query(`ALTER TABLE ${quoted(table.name)} DISABLE TRIGGER USER`);
      const rows = await fillTable(client, table, file, entries.get(fileOf(table.name)) as ZipEntry, manifest);
      await client.query(`ALTER TABLE ${quoted(table.name)} ENABLE TRIGGER USER`);
      if (rows > 0) say(`${table.name}: ${rows} rows`);
    }
    for (const { add } of references) await client.query(add);
    await moveSequences(client, tables);
    for (const statement of settle) await client.query(statement);
    await client.query('COMMIT');
    return manifest;
  } finally {
    await client.end();
  }
}

async function readManifest(file: string, entries: Map<string, ZipEntry>): Promise<Manifest> {
  const entry = entries.get(MANIFEST);
  if (!entry) throw new StartError(`"${file}" holds no ${MANIFEST}: it is not an export of everything`);
  const pieces: Buffer[] = [];
  for await (const piece of readEntry(file, entry)) pieces.push(piece);
  let value: unknown;
  try { value = JSON.parse(Buffer.concat(pieces).toString('utf8')); } catch { throw new StartError(`${MANIFEST} is not JSON`); }
  const parsed = manifestShape.safeParse(value);
  if (!parsed.success) throw new StartError(`${MANIFEST} is not as expected:\n${z.prettifyError(parsed.error)}`);
  return parsed.data;
}

async function refuseUnfit(client: pg.Client, tables: readonly Table[], manifest: Manifest, entries: Map<string, ZipEntry>): Promise<void> {
  const applied = await appliedMigrations(client);
  const other = manifest.migrations.find((name) => !applied.includes(name)) ?? applied.find((name) => !manifest.migrations.includes(name));
  if (other) throw new StartError(`the file comes from version ${manifest.version} with other tables (migration "${other}" is on one side only): import it with the version that wrote it, then update`);
  for (const table of tables) {
    if (!entries.has(fileOf(table.name))) throw new StartError(`the file holds no ${fileOf(table.name)}`);
    const { rows } = await client.query(`SELECT 1 FROM ${quoted(table.name)} LIMIT 1`);
    if (rows.length > 0) throw new StartError(`this installation is not empty (table ${table.name} has rows): everything goes into an empty one only, so that nothing is overwritten. Give a new folder in SEAMLEDGER_DATA, or an empty database in DATABASE_URL`);
  }
}

async function makePartitions(client: pg.Client, tables: readonly Table[], manifest: Manifest): Promise<void> {
  const present = await partitionsOf(client);
  for (const { table, name, bounds } of manifest.partitions) {
    if (present.some((each) => each.table === table && each.bounds === bounds)) continue;
    if (!tables.some((each) => each.name === table)) throw new StartError(`${MANIFEST} names a part of "${table}", which is no table here`);
    await client.query(`CREATE TABLE ${quoted(name)} PARTITION OF ${quoted(table)} ${bounds}`);
  }
}

/** Takes the foreign keys out for the moment and answers how to put them back; PostgreSQL then checks every row against them. */
async function restReferences(client: pg.Client): Promise<{ add: string }[]> {
  const { rows } = await client.query<{ drop: string; add: string }>(`
    SELECT format('ALTER TABLE %s DROP CONSTRAINT %I', conrelid::regclass, conname) AS drop, format('ALTER TABLE %s ADD CONSTRAINT %I %s', conrelid::regclass, conname, pg_get_constraintdef(oid)) AS add
    FROM pg_constraint WHERE contype = 'f' AND conparentid = 0 AND connamespace = 'public'::regnamespace ORDER BY conrelid, conname`);
  for (const { drop } of rows) await client.query(drop);
  return rows;
}

async function fillTable(client: pg.Client, table: Table, file: string, entry: ZipEntry, manifest: Manifest): Promise<number> {
  const stated = manifest.files.find((each) => each.name === entry.name);
  if (!stated) throw new StartError(`${MANIFEST} does not name ${entry.name}`);
  const [hash, decoder, reader] = [createHash('sha256'), new StringDecoder('utf8'), new CsvReader()];
  const columns = table.columns.filter((column) => !column.generated);
  const insert = `INSERT INTO ${quoted(table.name)} (${columns.map((column) => quoted(column.name)).join(', ')}) OVERRIDING SYSTEM VALUE SELECT ${columns.map((column, index) => `c${index}::${column.type}`).join(', ')} FROM unnest(${columns.map((_, index) => `$${index + 1}::text[]`).join(', ')}) AS given(${columns.map((_, index) => `c${index}`).join(', ')})`;
  let [header, batch, characters, rows]: [readonly (string | null)[] | null, (string | null)[][], number, number] = [null, [], 0, 0];
  const store = async () => {
    if (batch.length === 0) return;
    try {
      await client.query(insert, columns.map((_, index) => batch.map((row) => row[index] ?? null)));
    } catch (error) {
      throw new StartError(`${entry.name}, rows ${rows - batch.length + 1} to ${rows}: ${error instanceof Error ? error.message : String(error)}`);
    }
    [batch, characters] = [[], 0];
  };
  const take = async (text: string) => {
    for (const row of readRows(reader, text, entry.name)) {
      if (header === null) { header = row; refuseHeader(entry.name, header, columns.map((column) => column.name)); continue; }
      rows += 1;
      if (row.length !== columns.length) throw new StartError(`${entry.name}, row ${rows}: needs ${columns.length} fields, ${row.length} given`);
      batch.push(row);
      for (const field of row) characters += field?.length ?? 0;
      if (batch.length >= BATCH.rows || characters >= BATCH.characters) await store();
    }
  };
  for await (const piece of readEntry(file, entry)) { hash.update(piece); await take(decoder.write(piece)); }
  try { reader.end(); } catch (error) { throw new StartError(`${entry.name}, ${(error as Error).message}`); }
  await store();
  const found = hash.digest('hex');
  if (header === null || found !== stated.sha256 || rows !== stated.rows) throw new StartError(`${entry.name} is not what was exported: needs ${stated.rows} rows with SHA-256 ${stated.sha256}, ${rows} rows with ${found} given. Nothing was imported`);
  return rows;
}

function readRows(reader: CsvReader, text: string, name: string): (string | null)[][] {
  try { return reader.read(text); } catch (error) { throw new StartError(`${name}, ${(error as Error).message}`); }
}

function refuseHeader(name: string, given: readonly (string | null)[], wanted: readonly string[]): void {
  if (given.join() !== wanted.join()) throw new StartError(`${name}: needs the columns ${wanted.join(', ')}; ${given.join(', ')} given`);
}

/** The next number of each table goes on after the highest that came in. */
async function moveSequences(client: pg.Client, tables: readonly Table[]): Promise<void> {
  for (const table of tables) {
    for (const column of table.columns) {
      const { rows } = await client.query<{ sequence: string | null }>('SELECT pg_get_serial_sequence($1, $2) AS sequence', [quoted(table.name), column.name]);
      const sequence = rows[0]?.sequence;
      if (sequence) await client.query(`SELECT setval($1::regclass, (SELECT coalesce(max(${quoted(column.name)}), 0) + 1 FROM ${quoted(table.name)}), false)`, [sequence]);
    }
  }
}
