import pg from 'pg';

export type Column = { name: string; type: string; required: boolean; key: boolean; generated: boolean; secret: boolean };
export type Table = { name: string; columns: Column[]; references: { columns: string[]; table: string; to: string[] }[] };

/** Of the moment (log-ins, what is on its way: an import must not send old messages again), or the migration engine's own: not what a plant has recorded. */
const NOT_PORTABLE = ['_prisma_migrations', 'login_failure', 'outbox_row', 'session'];
/** A text that opens something. It stays here; its place in the file is empty. */
const isSecret = (name: string, type: string) => ['text', 'bytea'].includes(type) && /(^|_)(password|secret)(_hash)?$/.test(name);

type Row = { table: string; column: string; type: string; required: boolean; key: boolean; generated: boolean };

/** Every table of the database that holds what was recorded, from the catalogue: a new one is found without an edit here. Ordered by name. */
export async function portableTables(client: pg.Client): Promise<Table[]> {
  const { rows } = await client.query<Row>(`
    SELECT t.relname AS table, a.attname AS column, format_type(a.atttypid, a.atttypmod) AS type, a.attnotnull AS required, a.attgenerated <> '' AS generated,
      EXISTS (SELECT 1 FROM pg_constraint k WHERE k.conrelid = t.oid AND k.contype = 'p' AND a.attnum = ANY(k.conkey)) AS key
    FROM pg_class t JOIN pg_namespace s ON s.oid = t.relnamespace JOIN pg_attribute a ON a.attrelid = t.oid AND a.attnum > 0 AND NOT a.attisdropped
    WHERE s.nspname = 'public' AND t.relkind IN ('r', 'p') AND NOT t.relispartition AND NOT t.relname = ANY($1)
    ORDER BY t.relname COLLATE "C", a.attnum`, [NOT_PORTABLE]);
  const references = await client.query<{ table: string; to_table: string; columns: string[]; to: string[] }>(`
    SELECT k.conrelid::regclass::text AS table, f.relname AS to_table,
      ARRAY(SELECT a.attname::text FROM unnest(k.conkey) WITH ORDINALITY AS c(number, place) JOIN pg_attribute a ON a.attrelid = k.conrelid AND a.attnum = c.number ORDER BY place) AS columns,
      ARRAY(SELECT a.attname::text FROM unnest(k.confkey) WITH ORDINALITY AS c(number, place) JOIN pg_attribute a ON a.attrelid = k.confrelid AND a.attnum = c.number ORDER BY place) AS to
    FROM pg_constraint k JOIN pg_class f ON f.oid = k.confrelid JOIN pg_namespace s ON s.oid = k.connamespace WHERE s.nspname = 'public' AND k.contype = 'f' AND k.conparentid = 0`);
  const tables = new Map<string, Table>();
  for (const { table, column, ...rest } of rows) {
    const known = tables.get(table) ?? { name: table, columns: [], references: references.rows.filter((row) => row.table.replaceAll('"', '') === table).map((row) => ({ columns: row.columns, table: row.to_table, to: row.to })) };
    known.columns.push({ name: column, ...rest, secret: isSecret(column, rest.type) });
    tables.set(table, known);
  }
  return [...tables.values()];
}

export type Partition = { table: string; name: string; bounds: string };

/** The parts that tables are cut into (months), as they are at this moment: rows can come in only where there is one. */
export async function partitionsOf(client: pg.Client): Promise<Partition[]> {
  const { rows } = await client.query<Partition>(`
    SELECT p.relname AS table, t.relname AS name, pg_get_expr(t.relpartbound, t.oid) AS bounds FROM pg_class t JOIN pg_inherits i ON i.inhrelid = t.oid JOIN pg_class p ON p.oid = i.inhparent
    JOIN pg_namespace s ON s.oid = t.relnamespace WHERE s.nspname = 'public' AND t.relispartition AND t.relkind = 'r' ORDER BY 1, 2`);
  return rows;
}

export async function appliedMigrations(client: pg.Client): Promise<string[]> {
  const { rows } = await client.query<{ name: string }>('SELECT migration_name AS name FROM _prisma_migrations WHERE rolled_back_at IS NULL AND finished_at IS NOT NULL ORDER BY migration_name');
  return rows.map((row) => row.name);
}

/** Texts of moments, numbers and bytes that every installation reads alike. */
export const SAME_TEXTS = "SET LOCAL TimeZone = 'UTC'; SET LOCAL DateStyle = 'ISO, YMD'; SET LOCAL IntervalStyle = 'postgres'; SET LOCAL bytea_output = 'hex'; SET LOCAL extra_float_digits = 1";

export const quoted = (name: string): string => pg.escapeIdentifier(name);
