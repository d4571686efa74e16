import type { Tx } from './work.js';

/** PostgreSQL's own share (autovacuum_analyze_scale_factor): a table that changed by more is to be counted anew. */
const SHARE = 0.1;

/**
 * Counts checks and subgroups for PostgreSQL's planner before much more of them comes. It plans by what it last counted, once a minute at
 * the most: a table that it takes for small it reads whole, for each row that refers to it. Advised after loading much (manual, "Populating a Database").
 * @param more how many checks are to come
 */
export async function countForPlanner(tx: Tx, more: number): Promise<void> {
  const [known] = await tx.$queryRaw<{ checks: number }[]>`SELECT reltuples AS checks FROM pg_class WHERE oid = '"check"'::regclass`;
  if (more < SHARE * (known?.checks ?? 0)) return;
  // The columns that rows are found by: counting the elements of all arrays of readings takes ten times as long.
  await tx.$executeRaw`ANALYZE "check" (plant_id, id, machine_id, product_id, taken_at)`;
  await tx.$executeRaw`ANALYZE subgroup (plant_id, stream_id, taken_at, check_id)`;
}
