import { Prisma } from '../platform/generated/client.js';

/**
 * The table expression `newest`, which the reads of the Now board share: of each machine the newest span with cans that has begun
 * (`counted_at`, `ended`), its newest check (`check_id`, `check_at`, `check_source`), and of the newest one up to `now` the moment,
 * plan and product (`until_now_…`), which is looked up only where a check is dated ahead.
 */
export const newestOfMachines = (plantId: number, now: Date): Prisma.Sql => Prisma.sql`newest AS MATERIALIZED (
  SELECT p.line_id, m.id AS machine_id, k.at AS counted_at, k.at + make_interval(secs => k.minutes * 60) AS ended, c.id AS check_id, c.taken_at AS check_at, c.source AS check_source,
    CASE WHEN c.taken_at <= ${now} THEN c.taken_at ELSE b.taken_at END AS until_now_at, CASE WHEN c.taken_at <= ${now} THEN c.plan_id ELSE b.plan_id END AS until_now_plan, CASE WHEN c.taken_at <= ${now} THEN c.product_id ELSE b.product_id END AS until_now_product
  FROM step p JOIN machine m ON m.plant_id = p.plant_id AND m.step_id = p.id
  LEFT JOIN LATERAL (SELECT k.at, k.minutes FROM production_count k WHERE k.plant_id = m.plant_id AND k.machine_id = m.id AND k.good + k.rejected > 0 AND k.at <= ${now} ORDER BY k.at DESC LIMIT 1) k ON true
  LEFT JOIN LATERAL (SELECT c.id, c.taken_at, c.source, c.plan_id, c.product_id FROM "check" c WHERE c.plant_id = m.plant_id AND c.machine_id = m.id AND c.voided_at IS NULL ORDER BY c.taken_at DESC LIMIT 1) c ON true
  LEFT JOIN LATERAL (SELECT o.taken_at, o.plan_id, o.product_id FROM "check" o WHERE c.taken_at > ${now} AND o.plant_id = m.plant_id AND o.machine_id = m.id AND o.voided_at IS NULL AND o.taken_at <= ${now} ORDER BY o.taken_at DESC LIMIT 1) b ON true
  WHERE p.plant_id = ${plantId})`;
