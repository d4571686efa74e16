import { Buffer } from 'node:buffer';
import { createHash } from 'node:crypto';
import pg from 'pg';
import { version } from '../version.js';
import { appliedMigrations, partitionsOf, portableTables, quoted, SAME_TEXTS, type Table } from './catalogue.js';
import { csvRow } from './csv-text.js';
import { dictionaryOf, readMeanings } from './dictionary.js';
import { DICTIONARY, fileOf, FORMAT, MANIFEST, type Manifest } from './manifest.js';
import { zipPieces } from './zip-writer.js';

const BATCH = 2000;

/**
 * All that one plant has recorded, as a ZIP in pieces: one CSV a table as PostgreSQL writes each value, a data dictionary,
 * and a manifest with rows and SHA-256 of each file. One snapshot: what is saved meanwhile is in none of the tables.
 */
export async function* exportEverything(databaseUrl: string, plantId: number, now: Date): AsyncGenerator<Buffer> {
  const client = new pg.Client({ connectionString: databaseUrl });
  client.on('error', () => {});
  await client.connect();
  try {
    await client.query('BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY');
    await client.query(SAME_TEXTS);
    yield* zipPieces(everyFile(client, plantId, now), now);
    await client.query('COMMIT');
  } finally {
    await client.end();
  }
}

async function* everyFile(client: pg.Client, plantId: number, now: Date) {
  const tables = await portableTables(client);
  const files: Manifest['files'] = [];
  const counted = (name: string, table: string | null, pieces: AsyncIterable<{ text: string; rows: number }>) => ({ name, content: counting(pieces, (found) => files.push({ name, table, ...found })) });
  yield counted(DICTIONARY, null, whole(dictionaryOf(tables, readMeanings()).map(csvRow)));
  for (const table of tables) yield counted(fileOf(table.name), table.name, rowsOf(client, table, plantId));
  const plant = await client.query<{ name: string }>('SELECT name FROM plant WHERE id = $1', [plantId]);
  const head = await client.query<{ seq: string; hash: string }>("SELECT seq::text, encode(hash, 'hex') AS hash FROM audit_link WHERE plant_id = $1 ORDER BY audit_link.seq DESC LIMIT 1", [plantId]);
  const manifest: Manifest = {
    format: FORMAT, program: 'seamledger', version, plant: plant.rows[0]?.name ?? '', at: now.toISOString(), migrations: await appliedMigrations(client), head: head.rows[0] ?? null, files, partitions: await partitionsOf(client), leftOut: [{ table: 'outbox_row', rows: await waitingMessages(client, plantId) }],
    withheld: tables.flatMap((table) => table.columns.filter((column) => column.secret).map((column) => `${table.name}.${column.name}`)),
  };
  yield { name: MANIFEST, content: bytes(JSON.stringify(manifest, null, 1)) };
}

async function waitingMessages(client: pg.Client, plantId: number): Promise<number> {
  const { rows } = await client.query<{ waiting: number }>('SELECT count(*)::int AS waiting FROM outbox_row WHERE plant_id = $1 AND done_at IS NULL', [plantId]);
  return rows[0]?.waiting ?? 0;
}

async function* whole(rows: readonly string[]) { yield { text: rows.join(''), rows: Math.max(0, rows.length - 1) }; }
async function* bytes(text: string) { yield Buffer.from(text, 'utf8'); }

async function* counting(pieces: AsyncIterable<{ text: string; rows: number }>, done: (found: { rows: number; bytes: number; sha256: string }) => void): AsyncGenerator<Buffer> {
  const hash = createHash('sha256');
  let [rows, size] = [0, 0];
  for await (const piece of pieces) {
    const content = Buffer.from(piece.text, 'utf8');
    hash.update(content);
    rows += piece.rows;
    size += content.length;
    yield content;
  }
  done({ rows, bytes: size, sha256: hash.digest('hex') });
}

/** In the order of the key, so that two exports of the same rows are the same text. */
async function* rowsOf(client: pg.Client, table: Table, plantId: number): AsyncGenerator<{ text: string; rows: number }> {
  const columns = table.columns.filter((column) => !column.generated);
  yield { text: csvRow(columns.map((column) => column.name)), rows: 0 };
  const chosen = columns.map((column) => (column.secret ? (column.required ? "''" : 'NULL::text') : `${quoted(column.name)}::text`)).join(', ');
  const ofPlant = table.name === 'plant' ? 'WHERE id = $1' : table.columns.some((column) => column.name === 'plant_id') ? 'WHERE plant_id = $1' : '';
  const order = table.columns.filter((column) => column.key).map((column) => `${quoted(table.name)}.${quoted(column.name)}`).join(', ');
  await client.query(`DECLARE everything NO SCROLL CURSOR FOR SELECT ${chosen} FROM ${quoted(table.name)} ${ofPlant} ${order ? `ORDER BY ${order}` : ''}`, ofPlant ? [plantId] : []);
  for (;;) {
    const { rows } = await client.query<(string | null)[]>({ text: `FETCH ${BATCH} FROM everything`, rowMode: 'array' });
    if (rows.length > 0) yield { text: rows.map(csvRow).join(''), rows: rows.length };
    if (rows.length < BATCH) break;
  }
  await client.query('CLOSE everything');
}
