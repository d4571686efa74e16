import type { Tx } from '../platform/work.js';

/** What a signal rests on: its minutes, and so much around them. What an incident rests on: so much of its line before the cans were made. Our choice, no source. */
const [AROUND_SIGNAL, BEFORE_INCIDENT] = ['1 hour', '1 day'];
/** A legal hold on an incident means its line from a week before to a week after, as it does for checks. */
const AROUND_HELD = '7 days';

/** Plants that keep every-body readings for so many days only. */
export async function listRetentions(tx: Tx): Promise<{ plantId: number; keepDays: number }[]> {
  const rows = await tx.feedSetting.findMany({ where: { keepDays: { not: null } } });
  return rows.flatMap(({ plantId, keepDays }) => (keepDays === null ? [] : [{ plantId, keepDays }]));
}

/** Months (UTC) that hold readings of the plant and ended before `before`, oldest first. */
export async function listOldMonths(tx: Tx, plantId: number, before: Date): Promise<Date[]> {
  const rows = await tx.$queryRaw<{ month: Date }[]>`
    SELECT m.month FROM (SELECT to_timestamp(substring(c.relname FROM 12), 'YYYY_MM') AS month FROM pg_inherits i JOIN pg_class c ON c.oid = i.inhrelid WHERE i.inhparent = 'body_chunk'::regclass) m
    WHERE m.month + interval '1 month' <= ${before} AND EXISTS (SELECT 1 FROM body_chunk b WHERE b.plant_id = ${plantId} AND b.minute >= m.month AND b.minute < m.month + interval '1 month') ORDER BY m.month`;
  return rows.map(({ month }) => month);
}

/** A legal hold is neither placed nor lifted while a month is dropped. */
export async function freezeHolds(tx: Tx): Promise<void> {
  await tx.$executeRaw`LOCK TABLE legal_hold IN SHARE MODE`;
}

/** Copies the minutes of a month that a signal or an incident of the plant rests on, or that a legal hold covers (by the same rule as checks: all that the hold gives fits); answers how many. */
export async function keepCited(tx: Tx, plantId: number, month: Date): Promise<number> {
  return tx.$executeRaw`
    WITH cited AS (
      SELECT g.stream_id, g.first_at - ${AROUND_SIGNAL}::interval AS from_at, g.last_at + ${AROUND_SIGNAL}::interval AS until_at, 'signal ' || g.id AS why FROM signal g WHERE g.plant_id = ${plantId}
      UNION ALL
      SELECT s.id, i.made_at - ${BEFORE_INCIDENT}::interval, coalesce(i.made_until, i.made_at) + ${AROUND_SIGNAL}::interval, 'incident ' || i.id
      FROM incident i JOIN step p ON p.plant_id = i.plant_id AND p.line_id = i.line_id JOIN machine m ON m.plant_id = p.plant_id AND m.step_id = p.id JOIN stream s ON s.plant_id = m.plant_id AND s.machine_id = m.id WHERE i.plant_id = ${plantId}
      UNION ALL
      SELECT s.id, greatest(coalesce(h.from_at, '-infinity'), coalesce(i.made_at - ${AROUND_HELD}::interval, '-infinity')), least(coalesce(h.until_at, 'infinity'), coalesce(coalesce(i.made_until, i.made_at) + ${AROUND_HELD}::interval, 'infinity')), 'legal hold ' || h.id
      FROM legal_hold h JOIN stream s ON s.plant_id = h.plant_id JOIN product p ON p.plant_id = s.plant_id AND p.id = s.product_id JOIN machine m ON m.plant_id = s.plant_id AND m.id = s.machine_id JOIN step q ON q.plant_id = m.plant_id AND q.id = m.step_id
        LEFT JOIN incident i ON i.plant_id = h.plant_id AND i.id = h.incident_id
      WHERE h.plant_id = ${plantId} AND h.lifted_at IS NULL AND (h.customer IS NULL OR p.customer = h.customer) AND (h.product_id IS NULL OR p.id = h.product_id) AND (h.incident_id IS NULL OR q.line_id = i.line_id))
    INSERT INTO body_chunk_kept (plant_id, stream_id, minute, part, n, mean, range, sd, low, high, first_count, last_count, offsets, readings, why)
    SELECT DISTINCT ON (c.stream_id, c.minute, c.part) c.plant_id, c.stream_id, c.minute, c.part, c.n, c.mean, c.range, c.sd, c.low, c.high, c.first_count, c.last_count, c.offsets, c.readings, cited.why
    FROM cited JOIN body_chunk c ON c.plant_id = ${plantId} AND c.stream_id = cited.stream_id AND c.minute BETWEEN cited.from_at AND cited.until_at
    WHERE c.minute >= ${month} AND c.minute < ${month}::timestamptz + interval '1 month' ORDER BY c.stream_id, c.minute, c.part, cited.why
    ON CONFLICT DO NOTHING`;
}

/** Takes the plant's readings of a month away, as a whole partition where it is alone in it. */
export async function dropMonth(tx: Tx, plantId: number, month: Date): Promise<boolean> {
  const [row] = await tx.$queryRaw<{ dropped: boolean }[]>`SELECT drop_body_month(${plantId}::int, ${month}::timestamptz) AS dropped`;
  return row?.dropped ?? false;
}
