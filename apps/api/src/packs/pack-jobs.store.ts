import { type PackJobView, packRequest } from '#contract/packs';
import type { Tx } from '../platform/work.js';

/** Longer than any one step of making a pack takes: who was silent for so long is dead. */
const SILENT_SECONDS = 30;
export type PackJob = { plantId: number; id: number; attempt: number; askedBy: number; askedByName: string; request: ReturnType<typeof packRequest.parse> };

export async function insertJob(tx: Tx, plantId: number, askedBy: number, request: PackJob['request']): Promise<number> {
  return (await tx.packJob.create({ data: { plantId, askedBy, customer: request.customer, request }, select: { id: true } })).id;
}

/** Takes the oldest job that waits, or whose worker fell silent; each by one worker only. */
export async function takeJob(tx: Tx): Promise<PackJob | null> {
  const [row] = await tx.$queryRaw<{ plant_id: number; id: number; attempt: number; asked_by: number; name: string; request: unknown }[]>`
    WITH taken AS (SELECT plant_id, id FROM pack_job WHERE state = 'waiting' OR (state = 'running' AND heartbeat_at < now() - make_interval(secs => ${SILENT_SECONDS}::int)) ORDER BY id LIMIT 1 FOR UPDATE SKIP LOCKED)
    UPDATE pack_job j SET state = 'running', attempt = j.attempt + 1, done = 0, heartbeat_at = now() FROM taken, "user" u
    WHERE j.plant_id = taken.plant_id AND j.id = taken.id AND u.plant_id = j.plant_id AND u.id = j.asked_by
    RETURNING j.plant_id, j.id, j.attempt, j.asked_by, u.name, j.request`;
  return row ? { plantId: row.plant_id, id: row.id, attempt: row.attempt, askedBy: row.asked_by, askedByName: row.name, request: packRequest.parse(row.request) } : null;
}

/** False: cancelled meanwhile, or another worker has taken it over. */
export async function reportProgress(tx: Tx, job: PackJob, done: number, total: number): Promise<boolean> {
  return (await tx.packJob.updateMany({ where: { plantId: job.plantId, id: job.id, state: 'running', attempt: job.attempt }, data: { done, total, heartbeatAt: new Date() } })).count === 1;
}

/** In the transaction that stores the pack: of two workers only the one that holds the job can end it. */
export async function endJob(tx: Tx, job: PackJob, end: { state: 'done'; packId: number } | { state: 'failed'; error: string }): Promise<boolean> {
  return (await tx.packJob.updateMany({ where: { plantId: job.plantId, id: job.id, state: 'running', attempt: job.attempt }, data: { ...end, finishedAt: new Date() } })).count === 1;
}

/** A worker that is stopped gives its job back. */
export async function giveBack(tx: Tx, job: PackJob): Promise<void> {
  await tx.packJob.updateMany({ where: { plantId: job.plantId, id: job.id, state: 'running', attempt: job.attempt }, data: { state: 'waiting' } });
}

export async function cancelJob(tx: Tx, plantId: number, id: number): Promise<boolean> {
  return (await tx.packJob.updateMany({ where: { plantId, id, state: { in: ['waiting', 'running'] } }, data: { state: 'cancelled', finishedAt: new Date() } })).count === 1;
}

/** Jobs that are not done, or ended badly within the last day; newest first. */
export async function listJobs(tx: Tx, plantId: number, customer: string | null, id: number | null = null): Promise<PackJobView[]> {
  const rows = await tx.$queryRaw<(Omit<PackJobView, 'createdAt'> & { createdAt: Date })[]>`
    SELECT j.id, j.customer, j.request->>'title' AS title, j.state, j.done, j.total, j.pack_id AS "packId", j.error, j.created_at AS "createdAt", u.name AS "askedBy"
    FROM pack_job j JOIN "user" u ON u.plant_id = j.plant_id AND u.id = j.asked_by
    WHERE j.plant_id = ${plantId} AND (${customer}::text IS NULL OR j.customer = ${customer})
      AND (j.id = ${id}::int OR (${id}::int IS NULL AND (j.state IN ('waiting', 'running') OR (j.state IN ('failed', 'cancelled') AND j.finished_at > now() - interval '1 day'))))
    ORDER BY j.id DESC LIMIT 100`;
  return rows.map((row) => ({ ...row, createdAt: row.createdAt.toISOString() }));
}
