import { z } from 'zod';
import type { CodedLine } from '#canmaking/can-code/match-code';
import type { CanCodePattern } from '#contract/can-codes';
import type { Tx } from '../platform/work.js';

export type StoredPattern = Omit<CanCodePattern, 'effectiveFrom' | 'effectiveUntil' | 'createdAt' | 'state' | 'retiredAt'> & { effectiveFrom: Date; effectiveUntil: Date | null; createdAt: Date; retiredAt: Date | null };

/** Every version, newest first; one ends where the next of its line begins, or where it was retired. */
export async function listPatterns(tx: Tx, plantId: number, id: number | null = null): Promise<StoredPattern[]> {
  return tx.$queryRaw<StoredPattern[]>`
    SELECT * FROM (
      SELECT c.id, c.line_id AS "lineId", l.code AS line, c.pattern, c.coded_at_step_id AS "codedAtStepId", s.kind AS "codedAtStepKind", c.clock_minutes AS "clockMinutes", c.effective_from AS "effectiveFrom",
        least(c.retired_at, lead(c.effective_from) OVER (PARTITION BY c.line_id ORDER BY c.effective_from)) AS "effectiveUntil", c.retired_at AS "retiredAt", c.example, u.name AS author, c.created_at AS "createdAt", c.reason, c.retired_by AS "retiredBy", c.retired_reason AS "retiredReason", l.position
      FROM can_code_pattern c JOIN line l ON l.plant_id = c.plant_id AND l.id = c.line_id JOIN step s ON s.plant_id = c.plant_id AND s.id = c.coded_at_step_id JOIN "user" u ON u.plant_id = c.plant_id AND u.id = c.author_id
      WHERE c.plant_id = ${plantId}) listed
    WHERE ${id}::int IS NULL OR id = ${id} ORDER BY position, "effectiveFrom" DESC`;
}

const tagged = z.object({ id: z.number(), code: z.string() });
const codedLine = z.object({
  id: z.number(), code: z.string(), name: z.string(), lanes: z.array(tagged), machines: z.array(tagged.extend({ stepId: z.number(), units: z.array(tagged) })),
  steps: z.array(z.object({ id: z.number(), kind: z.string() })), firstRecord: z.iso.datetime({ offset: true, local: true }).nullable(), timeZone: z.string(),
  shifts: z.array(z.object({ name: z.string(), beginMinute: z.number(), endMinute: z.number(), days: z.array(z.number()) })),
});
export type PlantLine = CodedLine & z.infer<typeof codedLine>;

/** Lines with everything that a code may name, the shifts of the plant, and the oldest check, count or event of each. Retired machines too: their cans are still about. */
export async function listCodedLines(tx: Tx, plantId: number): Promise<PlantLine[]> {
  const rows = await tx.$queryRaw<unknown[]>`
    SELECT l.id, l.code, l.name, p.time_zone AS "timeZone",
      (SELECT coalesce(jsonb_agg(jsonb_build_object('name', h.name, 'beginMinute', h.begin_minute, 'endMinute', h.end_minute, 'days', to_jsonb(h.days)) ORDER BY h.begin_minute, h.name), '[]') FROM shift h WHERE h.plant_id = l.plant_id) AS shifts,
      (SELECT coalesce(jsonb_agg(jsonb_build_object('id', a.id, 'code', a.code) ORDER BY a.position), '[]') FROM lane a WHERE a.plant_id = l.plant_id AND a.line_id = l.id) AS lanes,
      (SELECT coalesce(jsonb_agg(jsonb_build_object('id', s.id, 'kind', s.kind) ORDER BY s.position), '[]') FROM step s WHERE s.plant_id = l.plant_id AND s.line_id = l.id) AS steps,
      (SELECT coalesce(jsonb_agg(jsonb_build_object('id', m.id, 'code', m.code, 'stepId', s.id, 'units', (
          SELECT coalesce(jsonb_agg(jsonb_build_object('id', u.id, 'code', u.code) ORDER BY u.position), '[]') FROM unit u WHERE u.plant_id = m.plant_id AND u.machine_id = m.id)) ORDER BY s.position, m.code), '[]')
        FROM step s JOIN machine m ON m.plant_id = s.plant_id AND m.step_id = s.id WHERE s.plant_id = l.plant_id AND s.line_id = l.id) AS machines,
      to_char(least(
        (SELECT min(c.taken_at) FROM "check" c JOIN machine m ON m.plant_id = c.plant_id AND m.id = c.machine_id JOIN step s ON s.plant_id = m.plant_id AND s.id = m.step_id WHERE s.plant_id = l.plant_id AND s.line_id = l.id),
        (SELECT min(first.at) FROM step s JOIN machine m ON m.plant_id = s.plant_id AND m.step_id = s.id
          CROSS JOIN LATERAL (SELECT n.at FROM production_count n WHERE n.plant_id = m.plant_id AND n.machine_id = m.id ORDER BY n.at LIMIT 1) first WHERE s.plant_id = l.plant_id AND s.line_id = l.id),
        (SELECT min(e.at) FROM line_event e WHERE e.plant_id = l.plant_id AND e.line_id = l.id)) AT TIME ZONE 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"') AS "firstRecord"
    FROM line l JOIN plant p ON p.id = l.plant_id WHERE l.plant_id = ${plantId} ORDER BY l.position`;
  return z.array(codedLine).parse(rows);
}

export type NewPattern = { lineId: number; pattern: string; codedAtStepId: number; clockMinutes: number; effectiveFrom: Date; example: string; reason: string };

export async function insertPattern(tx: Tx, actor: { plantId: number; userId: number }, pattern: NewPattern, now: Date): Promise<number> {
  const { id } = await tx.canCodePattern.create({ data: { plantId: actor.plantId, ...pattern, authorId: actor.userId, createdAt: now }, select: { id: true } });
  return id;
}

/** False when it was retired before. */
export async function retirePattern(tx: Tx, plantId: number, id: number, { by, reason }: { by: string; reason: string }, now: Date): Promise<boolean> {
  const { count } = await tx.canCodePattern.updateMany({ where: { plantId, id, retiredAt: null }, data: { retiredAt: now, retiredBy: by, retiredReason: reason } });
  return count === 1;
}
