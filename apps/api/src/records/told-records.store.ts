import { z } from 'zod';
import type { ToldKind } from '#contract/records';
import { Prisma } from '../platform/generated/client.js';
import type { Tx } from '../platform/work.js';

type Sides = (plantId: number) => { stored: Prisma.Sql; told: Prisma.Sql };
const ms = (moment: Prisma.Sql): Prisma.Sql => Prisma.sql`(extract(epoch FROM ${moment}) * 1000)::bigint`;
const told = (field: string): Prisma.Sql => Prisma.sql`told_row.after->${field}`;
const toldAt = (field: string): Prisma.Sql => ms(Prisma.sql`(told_row.after->>${field})::timestamptz`);
const SUBJECT_ID = Prisma.sql`substring(a.subject FROM ' ([0-9]+)$')::int`;

/**
 * By kind: `id` and `content` of what is stored, and the same as the audit trail told it when it was written. Columns one by one, so that
 * what a later version adds is no difference.
 */
const kinds: Record<ToldKind, Sides> = {
  limits: (plantId) => ({
    stored: Prisma.sql`SELECT l.id, jsonb_build_array(l.stream_id, l.kind, l.centre, l.sigma, l.spread_centre, l.subgroups, l.readings, l.formula, ${ms(Prisma.sql`l.baseline_from`)}, ${ms(Prisma.sql`l.baseline_to`)}, ${ms(Prisma.sql`l.effective_from`)}, l.excluded, l.author_id, l.reason)::text AS content FROM limits l WHERE l.plant_id = ${plantId}`,
    told: Prisma.sql`SELECT (told_row.after->>'id')::int AS id, jsonb_build_array(${told('streamId')}, ${told('kind')}, ${told('centre')}, ${told('sigma')}, ${told('spreadCentre')}, ${told('subgroups')}, ${told('readings')}, ${told('formula')}, ${toldAt('baselineFrom')}, ${toldAt('baselineTo')}, ${toldAt('effectiveFrom')}, ${told('excluded')}, ${told('authorId')}, ${told('reason')})::text AS content
      FROM audit_row told_row WHERE told_row.plant_id = ${plantId} AND told_row.action = 'limits.frozen'`,
  }),
  specification: (plantId) => ({
    stored: Prisma.sql`SELECT s.id, jsonb_build_array(s.product_id, s.characteristic_id, s.revision, s.lsl, s.target, s.usl, ${ms(Prisma.sql`s.effective_from`)}, s.reason, s.author_id, s.state)::text AS content FROM specification s WHERE s.plant_id = ${plantId}`,
    told: Prisma.sql`SELECT substring(told_row.subject FROM ' ([0-9]+)$')::int AS id, jsonb_build_array(${told('productId')}, ${told('characteristicId')}, ${told('revision')}, ${told('lsl')}, ${told('target')}, ${told('usl')}, ${toldAt('effectiveFrom')}, ${told('reason')}, told_row.user_id,
        coalesce((SELECT d.after->>'state' FROM audit_row d WHERE d.plant_id = told_row.plant_id AND d.subject = told_row.subject AND d.action IN ('specification.approved', 'specification.rejected') ORDER BY d.id LIMIT 1), 'proposed'))::text AS content
      FROM audit_row told_row WHERE told_row.plant_id = ${plantId} AND told_row.action = 'specification.proposed'`,
  }),
  study: (plantId) => ({
    stored: Prisma.sql`SELECT s.id, study_seal(s) AS content FROM study s WHERE s.plant_id = ${plantId}`,
    told: Prisma.sql`SELECT ${SUBJECT_ID} AS id, a.after->>'seal' AS content FROM audit_row a WHERE a.plant_id = ${plantId} AND a.subject ~ '^study [0-9]+$' AND a.action = 'study kept' AND a.after ? 'seal'`,
  }),
  'study-record': (plantId) => ({
    stored: Prisma.sql`SELECT s.id, study_record_seal(s) AS content FROM study_record s WHERE s.plant_id = ${plantId}`,
    told: Prisma.sql`SELECT DISTINCT ON (${SUBJECT_ID}) ${SUBJECT_ID} AS id, a.after->>'seal' AS content FROM audit_row a WHERE a.plant_id = ${plantId} AND a.subject ~ '^study record [0-9]+$' AND a.after ? 'seal' ORDER BY ${SUBJECT_ID}, a.id DESC`,
  }),
  pack: (plantId) => ({
    stored: Prisma.sql`SELECT k.id, jsonb_build_array(k.sha256, k.title, k.customer)::text AS content FROM pack k WHERE k.plant_id = ${plantId}`,
    told: Prisma.sql`SELECT ${SUBJECT_ID} AS id, jsonb_build_array(a.after->'sha256', a.after->'title', a.after->'customer')::text AS content FROM audit_row a WHERE a.plant_id = ${plantId} AND a.action = 'pack.made'`,
  }),
  signature: (plantId) => ({
    stored: Prisma.sql`SELECT g.id, jsonb_build_array(g.kind || ' ' || g.record_id, g.meaning, g.content_hash, g.comment, g.printed_name, g.user_id)::text AS content FROM signature g WHERE g.plant_id = ${plantId}`,
    told: Prisma.sql`SELECT (a.after->>'signature')::int AS id, jsonb_build_array(a.subject, a.after->'meaning', a.after->'contentHash', a.after->'comment', a.actor, a.user_id)::text AS content FROM audit_row a WHERE a.plant_id = ${plantId} AND a.action = 'record.signed' AND a.after ? 'signature'`,
  }),
};

/** What acts of retention deleted, each with the hash that the act names. */
const deleted = (plantId: number, kind: ToldKind): Prisma.Sql => Prisma.sql`
  SELECT n.key::int AS id, n.value AS hash FROM audit_row a, jsonb_each_text(a.after->'hashes') AS n(key, value) WHERE a.plant_id = ${plantId} AND a.action = 'records.deleted' AND a.after->>'kind' = ${kind}`;

const row = z.object({ compared: z.number(), untold: z.number(), faults: z.array(z.object({ id: z.number(), kind: z.enum(['changed', 'gone', 'unsealed']) })) });
export type ToldCounts = z.infer<typeof row>;

/**
 * Records of one kind beside what the trail told of them: changed, gone, or stored with no act (unsealed). What has an id below the first that the trail tells
 * of came before it was told (an older version, the demo plant): counted as untold, because nothing can be said. What an act of retention names with its
 * content is gone by that act.
 */
export async function compareWithTold(tx: Tx, plantId: number, kind: ToldKind): Promise<ToldCounts> {
  const { stored, told: said } = kinds[kind](plantId);
  const [found] = await tx.$queryRaw(Prisma.sql`
    WITH said AS MATERIALIZED (${said}),
      gone AS MATERIALIZED (${deleted(plantId, kind)}),
      pairs AS (SELECT coalesce(s.id, t.id) AS id, s.id IS NOT NULL AS stored, t.id IS NOT NULL AS told, s.content = t.content AS same, encode(sha256(convert_to(t.content, 'UTF8')), 'hex') AS said_hash FROM (${stored}) s FULL JOIN said t ON t.id = s.id),
      judged AS (SELECT id, CASE WHEN stored AND id IN (SELECT id FROM gone) THEN 'unsealed' WHEN stored AND told THEN CASE WHEN same THEN 'fits' ELSE 'changed' END WHEN told AND EXISTS (SELECT 1 FROM gone WHERE gone.id = pairs.id AND gone.hash = pairs.said_hash) THEN 'by-an-act' WHEN told THEN 'gone' WHEN id > (SELECT min(id) FROM said) THEN 'unsealed' ELSE 'untold' END AS kind FROM pairs)
    SELECT (count(*) FILTER (WHERE kind IN ('fits', 'changed')))::int AS compared, (count(*) FILTER (WHERE kind = 'untold'))::int AS untold,
      coalesce(jsonb_agg(jsonb_build_object('id', id, 'kind', kind) ORDER BY id) FILTER (WHERE kind IN ('changed', 'gone', 'unsealed')), '[]') AS faults FROM judged`) as unknown[];
  return row.parse(found);
}

/** SHA-256 (hexadecimal) of what is stored of each record, as it is compared with the trail. */
export async function hashesOf(tx: Tx, plantId: number, kind: ToldKind, ids: readonly number[]): Promise<Map<number, string>> {
  const rows = await tx.$queryRaw<{ id: number; hash: string }[]>(Prisma.sql`SELECT id, encode(sha256(convert_to(content, 'UTF8')), 'hex') AS hash FROM (${kinds[kind](plantId).stored}) s WHERE id = ANY(${[...ids]}::int[])`);
  return new Map(rows.map(({ id, hash }) => [id, hash]));
}
