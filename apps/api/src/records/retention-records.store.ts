import { z } from 'zod';
import type { DeletableKind } from '#contract/retention';
import { Prisma } from '../platform/generated/client.js';
import type { Tx } from '../platform/work.js';

/** Of one kind: `id`, `at` (when it was made) and whether a legal hold in force keeps it, for what may go at all. */
type Listed = (plantId: number) => Prisma.Sql;
const holdOf = (plantId: number, covers: Prisma.Sql): Prisma.Sql => Prisma.sql`EXISTS (SELECT 1 FROM legal_hold h WHERE h.plant_id = ${plantId} AND h.lifted_at IS NULL AND ${covers})`;

/**
 * A hold keeps a pack when its customer or product is the pack's and its span touches the pack's period; by an incident when a product of the pack is the
 * incident's and its period touches the fortnight around it. A study of one product is kept by customer, product and incident, whatever the span: it may rest on
 * readings of any time. A study without a product, and one that was kept from the Workbench, name nobody: every hold keeps them.
 * A study that stands approved or is still on its way does not go.
 */
const kinds: Record<DeletableKind, Listed> = {
  pack: (plantId) => Prisma.sql`SELECT k.id, k.made_at AS at, ${holdOf(plantId, Prisma.sql`
      (h.customer IS NULL OR h.customer = k.customer) AND (h.product_id IS NULL OR h.product_id = ANY(k.product_ids)) AND (h.from_at IS NULL OR k.period_to > h.from_at) AND (h.until_at IS NULL OR k.period_from < h.until_at)
      AND (h.incident_id IS NULL OR EXISTS (SELECT 1 FROM incident i WHERE i.plant_id = h.plant_id AND i.id = h.incident_id AND i.product_id = ANY(k.product_ids) AND i.made_at >= k.period_from - interval '7 days' AND i.made_at < k.period_to + interval '7 days'))`)} AS held
    FROM pack k WHERE k.plant_id = ${plantId}`,
  study: (plantId) => Prisma.sql`SELECT s.id, s.created_at AS at, ${holdOf(plantId, Prisma.sql`true`)} AS held FROM study s WHERE s.plant_id = ${plantId}`,
  'study-record': (plantId) => Prisma.sql`SELECT s.id, s.created_at AS at, ${holdOf(plantId, Prisma.sql`(s.product_id IS NULL OR (
      (h.customer IS NULL OR EXISTS (SELECT 1 FROM product p WHERE p.plant_id = s.plant_id AND p.id = s.product_id AND p.customer = h.customer)) AND (h.product_id IS NULL OR h.product_id = s.product_id)
      AND (h.incident_id IS NULL OR EXISTS (SELECT 1 FROM incident i WHERE i.plant_id = h.plant_id AND i.id = h.incident_id AND i.product_id = s.product_id))))`)} AS held
    FROM study_record s WHERE s.plant_id = ${plantId} AND s.state = 'superseded'`,
};

const counted = z.object({ records: z.number(), kept: z.number(), oldest: z.date().nullable(), newest: z.date().nullable() });
export type PastCount = z.infer<typeof counted>;

/** How many of a kind were made before a moment and may go, and how many of those a hold keeps. */
export async function countPastRecords(tx: Tx, plantId: number, kind: DeletableKind, madeBefore: Date): Promise<PastCount> {
  const [row] = await tx.$queryRaw(Prisma.sql`
    SELECT (count(*) FILTER (WHERE NOT held))::int AS records, (count(*) FILTER (WHERE held))::int AS kept, min(at) FILTER (WHERE NOT held) AS oldest, max(at) FILTER (WHERE NOT held) AS newest
    FROM (${kinds[kind](plantId)}) listed WHERE at < ${madeBefore}`) as unknown[];
  return counted.parse(row);
}

/** What may go, the oldest first. */
export async function listPastRecords(tx: Tx, plantId: number, kind: DeletableKind, madeBefore: Date, most: number): Promise<number[]> {
  const rows = await tx.$queryRaw<{ id: number }[]>(Prisma.sql`SELECT id FROM (${kinds[kind](plantId)}) listed WHERE at < ${madeBefore} AND NOT held ORDER BY at, id LIMIT ${most}`);
  return rows.map(({ id }) => id);
}

/** Names the records of an act: only then the triggers let them go. */
export async function nameRecords(tx: Tx, plantId: number, actId: number, kind: DeletableKind, ids: readonly number[]): Promise<void> {
  await tx.retentionRecord.createMany({ data: ids.map((recordId) => ({ plantId, kind, recordId, actId })) });
}
