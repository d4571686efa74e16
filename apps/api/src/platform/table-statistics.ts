import type { Tx } from './work.js';

/** So many times as large as when it was last counted: a plan that was right for a quarter of the rows is seldom wrong for all. */
const GROWTH = 4;

/**
 * Counts checks and subgroups anew for PostgreSQL's planner where they have grown much since it last counted, once a minute at the most: a table
 * that it took for small it goes on reading whole, for each row that refers to it. Advised after loading much (manual, "Populating a Database").
 */
export async function countForPlanner(tx: Tx): Promise<void> {
  const grown = await tx.$queryRaw<{ name: string }[]>`
    SELECT relname::text AS name FROM pg_class
    WHERE oid IN ('"check"'::regclass, 'subgroup'::regclass) AND pg_relation_size(oid) > ${GROWTH}::int * greatest(relpages, 1) * current_setting('block_size')::bigint`;
  // The columns that rows are found by: counting the elements of all arrays of readings takes ten times as long.
  if (grown.some(({ name }) => name === 'check')) await tx.$executeRaw`ANALYZE "check" (plant_id, id, machine_id, product_id, taken_at)`;
  if (grown.some(({ name }) => name === 'subgroup')) await tx.$executeRaw`ANALYZE subgroup (plant_id, stream_id, taken_at, check_id)`;
}
