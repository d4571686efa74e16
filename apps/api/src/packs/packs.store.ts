import { gunzipSync, gzipSync } from 'node:zlib';
import { z } from 'zod';
import type { PackListed } from '#contract/packs';
import type { NotedHead } from '../platform/audit-chain.js';
import type { Tx } from '../platform/work.js';
import { sha256 } from './canonical.js';

export type NewPack = { customer: string; title: string; productIds: number[]; from: string; to: string; content: string; sha256: string; subjects: number; readings: number; findings: number; softwareVersion: string; madeBy: number; madeAt: string };

/** Content is canonical JSON; it is stored as gzip. */
export async function insertPack(tx: Tx, plantId: number, { from, to, madeAt, content, ...pack }: NewPack): Promise<number> {
  const row = await tx.pack.create({ data: { plantId, ...pack, periodFrom: new Date(from), periodTo: new Date(to), madeAt: new Date(madeAt), content: new Uint8Array(gzipSync(content, { level: 6 })) }, select: { id: true } });
  return row.id;
}

type Row = Omit<PackListed, 'from' | 'to' | 'madeAt'> & { from: Date; to: Date; madeAt: Date };

/**
 * Newest first. `customer` narrows to what a person bound to one customer may see; null = all. Stale: a reading of its
 * products and period was corrected, added or taken back after the pack was made. A correction that was being written at that
 * very moment may be missed here; verifying compares every reading.
 */
export async function listPackRows(tx: Tx, plantId: number, customer: string | null, id: number | null = null): Promise<PackListed[]> {
  const rows = await tx.$queryRaw<Row[]>`
    SELECT k.id, k.customer, k.title, ARRAY(SELECT p.code FROM product p WHERE p.plant_id = k.plant_id AND p.id = ANY(k.product_ids) ORDER BY p.code) AS products,
      k.period_from AS "from", k.period_to AS "to", k.sha256, k.subjects, k.readings, k.findings, k.software_version AS "softwareVersion", u.name AS "madeBy", k.made_at AS "madeAt",
      CASE WHEN NOT EXISTS (SELECT 1 FROM signature s WHERE s.plant_id = k.plant_id AND s.kind = 'pack' AND s.record_id = k.id AND s.meaning = 'reviewed') THEN 'draft'
        WHEN EXISTS (SELECT 1 FROM signature s WHERE s.plant_id = k.plant_id AND s.kind = 'pack' AND s.record_id = k.id AND s.meaning = 'approved') THEN 'approved' ELSE 'checked' END AS state,
      (EXISTS (SELECT 1 FROM subgroup_revision r JOIN stream st ON st.plant_id = r.plant_id AND st.id = r.stream_id WHERE r.plant_id = k.plant_id AND st.product_id = ANY(k.product_ids) AND r.replaced_at >= k.made_at AND r.taken_at >= k.period_from AND r.taken_at < k.period_to)
        OR EXISTS (SELECT 1 FROM "check" c WHERE c.plant_id = k.plant_id AND c.product_id = ANY(k.product_ids) AND c.taken_at >= k.period_from AND c.taken_at < k.period_to AND (c.entered_at >= k.made_at OR c.voided_at >= k.made_at))) AS stale
    FROM pack k JOIN "user" u ON u.plant_id = k.plant_id AND u.id = k.made_by
    WHERE k.plant_id = ${plantId} AND (${customer}::text IS NULL OR k.customer = ${customer}) AND (${id}::int IS NULL OR k.id = ${id}::int)
    ORDER BY k.id DESC LIMIT 500`;
  return rows.map((row) => ({ ...row, from: row.from.toISOString(), to: row.to.toISOString(), madeAt: row.madeAt.toISOString() }));
}

/** The frozen bytes of a pack and the hash beside them; null for what is not there, or not of this customer. */
export async function findPackContent(tx: Tx, plantId: number, id: number, customer: string | null): Promise<{ json: string; sha256: string } | null> {
  const row = await tx.pack.findFirst({ where: { plantId, id, ...(customer === null ? {} : { customer }) }, select: { content: true, sha256: true } });
  return row === null ? null : { json: gunzipSync(row.content).toString('utf8'), sha256: row.sha256 };
}

/** The text of a pack; null where it is not there, or its bytes are not those that were hashed. */
export async function findWholePack(tx: Tx, plantId: number, id: number): Promise<string | null> {
  const row = await tx.pack.findFirst({ where: { plantId, id }, select: { content: true, sha256: true } });
  if (row === null) return null;
  try {
    const json = gunzipSync(row.content).toString('utf8');
    return sha256(json) === row.sha256 ? json : null;
  } catch {
    return null;
  }
}

/** Packs that an act of retention names; the trigger refuses any other. */
export async function deletePacks(tx: Tx, plantId: number, ids: readonly number[]): Promise<void> {
  await tx.pack.deleteMany({ where: { plantId, id: { in: [...ids] } } });
}

export const listPackIds = async (tx: Tx, plantId: number): Promise<number[]> => (await tx.pack.findMany({ where: { plantId }, select: { id: true }, orderBy: { id: 'asc' } })).map(({ id }) => id);

/** The pack that holds this content, if it is one of this plant. */
export async function findPackByHash(tx: Tx, plantId: number, sha256: string): Promise<number | null> {
  return (await tx.pack.findFirst({ where: { plantId, sha256 }, select: { id: true } }))?.id ?? null;
}

export type Choice = { customer: string; products: { id: number; code: string; name: string }[]; first: Date | null; last: Date | null };

export function listCustomers(tx: Tx, plantId: number, customer: string | null): Promise<Choice[]> {
  return tx.$queryRaw<Choice[]>`
    SELECT p.customer, jsonb_agg(jsonb_build_object('id', p.id, 'code', p.code, 'name', p.name) ORDER BY p.code) AS products, min(s.first) AS first, max(s.last) AS last
    FROM product p
    LEFT JOIN LATERAL (SELECT min(a.taken_at) AS first, max(z.taken_at) AS last FROM stream st
      CROSS JOIN LATERAL (SELECT taken_at FROM subgroup g WHERE g.plant_id = st.plant_id AND g.stream_id = st.id ORDER BY taken_at LIMIT 1) a
      CROSS JOIN LATERAL (SELECT taken_at FROM subgroup g WHERE g.plant_id = st.plant_id AND g.stream_id = st.id ORDER BY taken_at DESC LIMIT 1) z
      WHERE st.plant_id = p.plant_id AND st.product_id = p.id) s ON true
    WHERE p.plant_id = ${plantId} AND p.customer <> '' AND (${customer}::text IS NULL OR p.customer = ${customer})
    GROUP BY p.customer ORDER BY p.customer`;
}

const headed = z.object({ chainHead: z.object({ seq: z.string(), hash: z.string() }).nullable() });

/** The heads of the audit chain that packs noted when they were frozen, read one at a time: a pack of a year is megabytes. One that is not whole notes none. */
export async function listPackHeads(tx: Tx, plantId: number): Promise<NotedHead[]> {
  const heads: NotedHead[] = [];
  for (const id of await listPackIds(tx, plantId)) {
    const json = await findWholePack(tx, plantId, id);
    const chainHead = json === null ? null : headed.parse(JSON.parse(json)).chainHead;
    if (chainHead) heads.push({ ...chainHead, notedBy: `pack ${id}` });
  }
  return heads;
}
