import { z } from 'zod';
import { Prisma } from '../platform/generated/client.js';
import { isReviewed } from '../platform/reviewed.store.js';
import type { Tx } from '../platform/work.js';

const entry = z.object({
  check_id: z.number(), taken_at: z.date(), entered_at: z.date(), entered_by: z.number().nullable(), entered_by_name: z.string(), inspector: z.string(), line: z.string(), machine: z.string(), product: z.string(), source: z.string(),
  subgroups: z.number(), outside: z.number(), signals: z.array(z.number()).nullable(), corrected: z.boolean(), reviewed_before: z.boolean(),
});
export type WaitingCheck = z.infer<typeof entry>;

/** How many checks wait on each day of the plant, oldest day first. Monitors' summaries and the demo's past are not asked for: what a person or a file brought is. */
export async function countWaiting(tx: Tx, plantId: number, timeZone: string, machineId: number | null): Promise<{ day: string; waiting: number }[]> {
  return tx.$queryRaw<{ day: string; waiting: number }[]>`
    SELECT to_char(c.taken_at AT TIME ZONE ${timeZone}, 'YYYY-MM-DD') AS day, count(*)::int AS waiting FROM "check" c
    WHERE c.plant_id = ${plantId} AND c.voided_at IS NULL AND c.source <> 'monitor' AND (${machineId}::int IS NULL OR c.machine_id = ${machineId})
      AND NOT ${isReviewed(plantId, Prisma.sql`c.id`)}
    GROUP BY 1 ORDER BY 1 LIMIT 1000`;
}

export async function listWaiting(tx: Tx, plantId: number, timeZone: string, filter: { day: string | null; machineId: number | null; take: number }): Promise<WaitingCheck[]> {
  return z.array(entry).parse(await tx.$queryRaw`
    SELECT c.id AS check_id, c.taken_at, c.entered_at, c.entered_by, coalesce(u.name, c.feed) AS entered_by_name, c.inspector, l.code AS line, m.code || ' ' || m.name AS machine, p.name AS product, c.source,
      g.subgroups, g.outside, g.signals, r.at IS NOT NULL AS corrected, EXISTS (SELECT 1 FROM signature s WHERE s.plant_id = c.plant_id AND s.kind = 'check' AND s.record_id = c.id AND s.meaning = 'reviewed') AS reviewed_before
    FROM "check" c
    LEFT JOIN "user" u ON u.plant_id = c.plant_id AND u.id = c.entered_by
    JOIN machine m ON m.plant_id = c.plant_id AND m.id = c.machine_id JOIN step t ON t.plant_id = m.plant_id AND t.id = m.step_id JOIN line l ON l.plant_id = t.plant_id AND l.id = t.line_id
    JOIN product p ON p.plant_id = c.plant_id AND p.id = c.product_id
    LEFT JOIN LATERAL (SELECT max(replaced_at) AS at FROM subgroup_revision r WHERE r.plant_id = c.plant_id AND r.check_id = c.id) r ON true
    LEFT JOIN LATERAL (
      SELECT count(*)::int AS subgroups, count(*) FILTER (WHERE g.low < sp.lsl OR g.high > sp.usl)::int AS outside,
        (SELECT array_agg(DISTINCT sp2.signal_id) FROM signal_point sp2 JOIN subgroup g2 ON g2.plant_id = sp2.plant_id AND g2.stream_id = sp2.stream_id AND g2.taken_at = sp2.taken_at AND g2.sequence = sp2.sequence WHERE g2.plant_id = c.plant_id AND g2.check_id = c.id) AS signals
      FROM subgroup g JOIN stream st ON st.plant_id = g.plant_id AND st.id = g.stream_id
      LEFT JOIN LATERAL (SELECT lsl, usl FROM specification x WHERE x.plant_id = g.plant_id AND x.product_id = st.product_id AND x.characteristic_id = st.characteristic_id AND x.state = 'approved' AND x.effective_from <= g.taken_at ORDER BY x.effective_from DESC, x.revision DESC LIMIT 1) sp ON true
      WHERE g.plant_id = c.plant_id AND g.check_id = c.id) g ON true
    WHERE c.plant_id = ${plantId} AND c.voided_at IS NULL AND c.source <> 'monitor' AND (${filter.machineId}::int IS NULL OR c.machine_id = ${filter.machineId})
      AND (${filter.day}::date IS NULL OR (c.taken_at AT TIME ZONE ${timeZone})::date = ${filter.day}::date)
      AND NOT ${isReviewed(plantId, Prisma.sql`c.id`)}
    ORDER BY c.taken_at, c.id LIMIT ${filter.take}`);
}
