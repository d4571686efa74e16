import { Problem } from '#contract/problem';
import type { Work } from './work.js';

/** Asks the database a question; a database that does not answer is a 503 with a code, not a hanging request. */
export async function checkHealth(work: Work) {
  const uptimeSeconds = Math.round(process.uptime());
  const question = work.read.$queryRaw<{ applied: number; pending: number }[]>`
    SELECT count(*) FILTER (WHERE finished_at IS NOT NULL)::int AS applied, count(*) FILTER (WHERE finished_at IS NULL)::int AS pending FROM _prisma_migrations`;
  const late = new Promise<never>((_resolve, reject) => { setTimeout(() => reject(new Problem('database-unavailable', 'It did not answer within 3 seconds.')), 3000).unref(); });
  const [migrations] = await Promise.race([question, late]);
  return { status: 'ok' as const, process: { uptimeSeconds }, database: 'ok' as const, migrations: migrations ?? { applied: 0, pending: 0 } };
}
