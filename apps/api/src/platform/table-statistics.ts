import type { Tx } from './work.js';

/** Below so many rows PostgreSQL likes to read a table whole, and the plans of its checks of foreign keys stay so while the table grows in one go. */
const SMALL = 1000;

/** Counts the checks for PostgreSQL's planner when it still takes them for few: the manual advises ANALYZE after loading much ("Populating a Database"), and its own turn comes only once a minute. */
export async function countChecksForPlanner(tx: Tx): Promise<void> {
  const [table] = await tx.$queryRaw<{ rows: number }[]>`SELECT reltuples AS rows FROM pg_class WHERE oid = '"check"'::regclass`;
  if ((table?.rows ?? 0) < SMALL) await tx.$executeRaw`ANALYZE "check"`;
}
