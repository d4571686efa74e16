import { Problem } from '#contract/problem';
import type { Tx } from '../platform/work.js';

export type Complaint = { id: number; madeAt: Date };
export type Counted = { cans: number | null; longestHoleHours: number };

/** Complaints of a customer about cans of one line, in the order in which the cans were made. */
export async function listComplaints(tx: Tx, plantId: number, customer: string, lineId: number): Promise<Complaint[]> {
  if ((await tx.line.count({ where: { plantId, id: lineId } })) === 0) throw new Problem('not-found', `There is no line ${lineId}.`);
  return tx.incident.findMany({ where: { plantId, customer, lineId, kind: 'complaint' }, select: { id: true, madeAt: true }, orderBy: [{ madeAt: 'asc' }, { id: 'asc' }] });
}

export type CountingStep = { machineIds: number[]; codes: string[]; first: Date; last: Date };

/** The machines of the last step of a line that counts its cans, and from when to when there are counts; null where nothing is counted. */
export async function findCountingStep(tx: Tx, plantId: number, lineId: number): Promise<CountingStep | null> {
  const rows = await tx.$queryRaw<{ id: number; code: string; position: number; first: Date; last: Date }[]>`
    SELECT m.id, m.code, p.position, k.first, k.last FROM machine m JOIN step p ON p.plant_id = m.plant_id AND p.id = m.step_id
    CROSS JOIN LATERAL (SELECT min(at) AS first, max(at + make_interval(secs => minutes * 60)) AS last FROM production_count c WHERE c.plant_id = m.plant_id AND c.machine_id = m.id) k
    WHERE m.plant_id = ${plantId} AND p.line_id = ${lineId} AND k.first IS NOT NULL ORDER BY p.position DESC, m.code`;
  const position = rows[0]?.position;
  const own = rows.filter((row) => row.position === position);
  if (own.length === 0) return null;
  return { machineIds: own.map(({ id }) => id), codes: own.map(({ code }) => code), first: new Date(Math.min(...own.map(({ first }) => first.getTime()))), last: new Date(Math.max(...own.map(({ last }) => last.getTime()))) };
}

/** Good cans counted in each span, a bucket that lies partly within by its share, and the longest stretch of the span without a count; cans are null where no bucket touches it. */
export async function countBetween(tx: Tx, plantId: number, machineIds: readonly number[], spans: readonly { from: Date; to: Date }[]): Promise<Counted[]> {
  return tx.$queryRaw<Counted[]>`
    WITH span AS (SELECT * FROM unnest(${spans.map(({ from }) => from.toISOString())}::timestamptz[], ${spans.map(({ to }) => to.toISOString())}::timestamptz[]) WITH ORDINALITY AS s(from_at, to_at, place))
    SELECT k.cans, coalesce(greatest(k.hole, extract(epoch FROM span.to_at - k.ended)), extract(epoch FROM span.to_at - span.from_at))::float8 / 3600 AS "longestHoleHours"
    FROM span CROSS JOIN LATERAL (
      SELECT sum(b.cans)::float8 AS cans, max(extract(epoch FROM b.began - b.before)) AS hole, max(b.ended) AS ended FROM (
        SELECT t.began, t.ended, t.good * extract(epoch FROM t.ended - t.began) / extract(epoch FROM t.whole_end - t.at) AS cans,
          coalesce(max(t.ended) OVER (ORDER BY t.began, t.ended ROWS BETWEEN UNBOUNDED PRECEDING AND 1 PRECEDING), span.from_at) AS before
        FROM (SELECT c.at, c.good, c.at + make_interval(secs => c.minutes * 60) AS whole_end, greatest(c.at, span.from_at) AS began, least(c.at + make_interval(secs => c.minutes * 60), span.to_at) AS ended
          FROM production_count c WHERE c.plant_id = ${plantId} AND c.machine_id = ANY(${[...machineIds]}::int[]) AND c.at > span.from_at - interval '1 day' AND c.at < span.to_at
            AND c.at + make_interval(secs => c.minutes * 60) > span.from_at) t) b) k
    ORDER BY span.place`;
}
