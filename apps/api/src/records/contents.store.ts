import { createHash } from 'node:crypto';
import { z } from 'zod';
import type { RecordKind } from '#contract/records';
import { Prisma } from '../platform/generated/client.js';
import type { Tx } from '../platform/work.js';

export type RecordContent = { recordId: number; title: string; authorId: number | null; author: string | null; contentHash: string };

const tables: Record<RecordKind, Prisma.Sql> = {
  check: Prisma.sql`"check"`, limits: Prisma.sql`limits`, specification: Prisma.sql`specification`, incident: Prisma.sql`incident`, hold: Prisma.sql`hold`, study: Prisma.sql`study`, pack: Prisma.sql`pack`, 'study-record': Prisma.sql`study_record`,
};

const row = z.object({ id: z.number().int(), title: z.string(), author_id: z.number().int().nullable(), author: z.string().nullable(), content: z.string() });

/**
 * What a signature covers, by kind: columns named one by one, so that a column which a later version adds changes no
 * hash. The last person who wrote it is its author.
 */
const contents: Record<RecordKind, (plantId: number, ids: number[]) => Prisma.Sql> = {
  check: (plantId, ids) => Prisma.sql`
    SELECT c.id, 'check ' || c.id AS title, c.entered_by AS author_id, (jsonb_build_array(
      c.machine_id, c.product_id, (extract(epoch FROM c.taken_at) * 1000)::bigint, coalesce(to_jsonb(c.entered_by), to_jsonb(c.feed)), c.inspector, c.can_numbers, c.can_unit_ids, c.can_lane_ids, c.positions, c.note, c.voided_at IS NOT NULL, c.skips, c.second_readings,
      (SELECT jsonb_agg(jsonb_build_array(k.characteristic_id, k.inspected, k.nonconforming) ORDER BY k.characteristic_id) FROM check_count k WHERE k.plant_id = c.plant_id AND k.check_id = c.id),
      (SELECT jsonb_agg(jsonb_build_array(r.characteristic_id, r.can, r.position, r.rating) ORDER BY r.characteristic_id, r.can, r.position) FROM check_rating r WHERE r.plant_id = c.plant_id AND r.check_id = c.id),
      (SELECT jsonb_agg(jsonb_build_array(g.stream_id, g.sequence, g.cans, g.readings, g.n, g.mean, g.range, g.sd, g.low, g.high, g.gauge_id, g.formula) ORDER BY g.stream_id, g.sequence) FROM subgroup g WHERE g.plant_id = c.plant_id AND g.check_id = c.id))
      || coalesce((SELECT jsonb_build_array(jsonb_agg(f.sha256 ORDER BY f.id)) FROM check_photo f WHERE f.plant_id = c.plant_id AND f.check_id = c.id HAVING count(*) > 0), '[]'))::text AS content
    FROM "check" c WHERE c.plant_id = ${plantId} AND c.id = ANY(${ids}::int[])`,
  limits: (plantId, ids) => Prisma.sql`
    SELECT l.id, 'limits ' || l.id AS title, l.author_id, jsonb_build_array(l.stream_id, l.kind, l.centre, l.sigma, l.spread_centre, l.subgroups, l.readings, (extract(epoch FROM l.baseline_from) * 1000)::bigint, (extract(epoch FROM l.baseline_to) * 1000)::bigint, l.excluded, l.formula, (extract(epoch FROM l.effective_from) * 1000)::bigint, l.reason)::text AS content
    FROM limits l WHERE l.plant_id = ${plantId} AND l.id = ANY(${ids}::int[])`,
  specification: (plantId, ids) => Prisma.sql`
    SELECT s.id, 'specification ' || s.id || ', revision ' || s.revision AS title, s.author_id, jsonb_build_array(s.product_id, s.characteristic_id, s.revision, s.lsl, s.target, s.usl, (extract(epoch FROM s.effective_from) * 1000)::bigint, s.reason)::text AS content
    FROM specification s WHERE s.plant_id = ${plantId} AND s.id = ANY(${ids}::int[])`,
  incident: (plantId, ids) => Prisma.sql`
    SELECT i.id, 'incident ' || i.id AS title, (SELECT s.user_id FROM incident_step s WHERE s.plant_id = i.plant_id AND s.incident_id = i.id AND s.user_id IS NOT NULL ORDER BY s.id DESC LIMIT 1) AS author_id,
      jsonb_build_array(i.kind, i.state, i.customer, i.product_id, i.line_id, i.can_code, (extract(epoch FROM i.made_at) * 1000)::bigint, i.cans_complained, i.cans_examined, i.cans_leaking, i.leak_place, i.defect, i.description, i.containment, i.cause, i.action, i.closing_note, i.whys,
        (SELECT jsonb_agg(jsonb_build_array(s.id, s.action, s.comment, s.state, s.evidence) ORDER BY s.id) FROM incident_step s WHERE s.plant_id = i.plant_id AND s.incident_id = i.id))::text AS content
    FROM incident i WHERE i.plant_id = ${plantId} AND i.id = ANY(${ids}::int[])`,
  hold: (plantId, ids) => Prisma.sql`
    SELECT h.id, 'hold ' || h.id AS title, (SELECT s.user_id FROM hold_step s WHERE s.plant_id = h.plant_id AND s.hold_id = h.id AND s.user_id IS NOT NULL ORDER BY s.id DESC LIMIT 1) AS author_id,
      jsonb_build_array(h.line_id, h.step_id, h.machine_id, h.unit_id, h.lane_id, (extract(epoch FROM h.from_at) * 1000)::bigint, (extract(epoch FROM h.until_at) * 1000)::bigint, h.state, h.reason, h.arithmetic, h.disposition,
        (SELECT jsonb_agg(jsonb_build_array(s.id, s.actor, s.role, s.action, s.comment, s.detail) ORDER BY s.id) FROM hold_step s WHERE s.plant_id = h.plant_id AND s.hold_id = h.id))::text AS content
    FROM hold h WHERE h.plant_id = ${plantId} AND h.id = ANY(${ids}::int[])`,
  study: (plantId, ids) => Prisma.sql`
    SELECT s.id, 'study ' || s.id AS title, s.author_id, jsonb_build_array(s.title, s.note, s.state, s.answers, s.version)::text AS content
    FROM study s WHERE s.plant_id = ${plantId} AND s.id = ANY(${ids}::int[])`,
  // The hash stands for all that was frozen.
  pack: (plantId, ids) => Prisma.sql`
    SELECT k.id, 'pack ' || k.id AS title, k.made_by AS author_id, jsonb_build_array(k.sha256, k.customer, k.title)::text AS content
    FROM pack k WHERE k.plant_id = ${plantId} AND k.id = ANY(${ids}::int[])`,
  // Not its state: a signature moves it on, and still covers what was asked and what came out.
  'study-record': (plantId, ids) => Prisma.sql`
    SELECT s.id, s.kind || ' study ' || s.id AS title, s.author_id, jsonb_build_array(s.kind, s.title, s.note, s.question, s.inputs, s.inputs_hash, s.results, s.verdict, s.version, s.supersedes_id)::text AS content
    FROM study_record s WHERE s.plant_id = ${plantId} AND s.id = ANY(${ids}::int[])`,
};

/** The records of one kind as they are now, each with the SHA-256 (hexadecimal) of its content; unknown ids are left out. */
export async function listContents(tx: Tx, plantId: number, kind: RecordKind, ids: readonly number[]): Promise<Map<number, RecordContent>> {
  if (ids.length === 0) return new Map();
  const rows = z.array(row).parse(await tx.$queryRaw(Prisma.sql`
    SELECT listed.*, u.name AS author FROM (${contents[kind](plantId, [...ids])}) listed LEFT JOIN "user" u ON u.plant_id = ${plantId} AND u.id = listed.author_id`));
  return new Map(rows.map(({ id, title, author_id, author, content }) => [id, { recordId: id, title, authorId: author_id, author, contentHash: createHash('sha256').update(`${kind} ${id} ${content}`).digest('hex') }]));
}

/** Holds the records as they are until the transaction ends: who wants to change one waits, and who is changing one is waited for. */
export async function keepAsTheyAre(tx: Tx, plantId: number, kind: RecordKind, ids: readonly number[]): Promise<void> {
  await tx.$queryRaw(Prisma.sql`SELECT id FROM ${tables[kind]} WHERE plant_id = ${plantId} AND id = ANY(${[...ids]}::int[]) ORDER BY id FOR NO KEY UPDATE`);
}

/** How many values of each check were replaced so far. */
export async function countCorrections(tx: Tx, plantId: number, checkIds: readonly number[]): Promise<Map<number, number>> {
  const rows = await tx.$queryRaw<{ id: number; corrections: number }[]>`
    SELECT c.id, (SELECT count(*)::int FROM subgroup_revision r WHERE r.plant_id = ${plantId} AND r.check_id = c.id) AS corrections FROM unnest(${[...checkIds]}::int[]) AS c(id)`;
  return new Map(rows.map(({ id, corrections }) => [id, corrections]));
}
