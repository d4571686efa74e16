import type { InputOf } from '#contract/endpoint';
import { Problem } from '#contract/problem';
import type { LineEvent, listLineEvents, PlacedLineEvent, ProductionCount } from '#contract/production';
import type { Tx } from '../platform/work.js';

type EventRow = Omit<LineEvent, 'at' | 'until' | 'enteredAt'> & { at: Date; until: Date | null; enteredAt: Date };
const viewOf = (row: EventRow): LineEvent => ({ ...row, at: row.at.toISOString(), until: row.until?.toISOString() ?? null, enteredAt: row.enteredAt.toISOString() });

/** Events that touch the span, in order of time; of too many the newest. */
export async function listEvents(tx: Tx, plantId: number, { line = null, from = null, to = null, id = null }: { [Key in keyof InputOf<typeof listLineEvents>['query']]?: InputOf<typeof listLineEvents>['query'][Key] | null } & { id?: number | null }): Promise<LineEvent[]> {
  const rows = await tx.$queryRaw<EventRow[]>`
    SELECT * FROM (
      SELECT e.id, e.line_id AS "lineId", l.code AS line, e.machine_id AS "machineId", m.code AS machine, e.kind, e.at, e.until, e.text, e.actor, e.entered_at AS "enteredAt"
      FROM line_event e JOIN line l ON l.plant_id = e.plant_id AND l.id = e.line_id LEFT JOIN machine m ON m.plant_id = e.plant_id AND m.id = e.machine_id
      WHERE e.plant_id = ${plantId} AND (${id}::int IS NULL OR e.id = ${id}) AND (${line}::int IS NULL OR e.line_id = ${line})
        AND (${from}::timestamptz IS NULL OR coalesce(e.until, e.at) >= ${from}::timestamptz) AND (${to}::timestamptz IS NULL OR e.at <= ${to}::timestamptz)
      ORDER BY e.at DESC, e.id DESC LIMIT 1000) newest ORDER BY at, id`;
  return rows.map(viewOf);
}

/** Which of line and machine are not there, or do not belong together. */
export async function findEventPlace(tx: Tx, plantId: number, lineId: number, machineId: number | null): Promise<{ line: boolean; machine: boolean }> {
  const [row] = await tx.$queryRaw<{ line: boolean; machine: boolean }[]>`
    SELECT EXISTS (SELECT 1 FROM line WHERE plant_id = ${plantId} AND id = ${lineId}) AS line,
      (${machineId}::int IS NULL OR EXISTS (SELECT 1 FROM machine m JOIN step p ON p.plant_id = m.plant_id AND p.id = m.step_id WHERE m.plant_id = ${plantId} AND m.id = ${machineId} AND p.line_id = ${lineId})) AS machine`;
  return row ?? { line: false, machine: false };
}

export async function insertEvent(tx: Tx, plantId: number, { lineId, machineId, kind, at, until, text }: PlacedLineEvent, actor: string, enteredAt: Date): Promise<number> {
  const row = await tx.lineEvent.create({ data: { plantId, lineId, machineId, kind, at: new Date(at), until: until === null ? null : new Date(until), text, actor, enteredAt }, select: { id: true } });
  return row.id;
}

/** The event that this feed sent before, if it did. One at a time a plant: two tries of one request must not pass each other. */
export async function findSameEvent(tx: Tx, plantId: number, { lineId, machineId, kind, at, text }: PlacedLineEvent, actor: string): Promise<number | null> {
  await tx.$executeRaw`SELECT pg_advisory_xact_lock(hashtext('line_event'), ${plantId}::int)`;
  return (await tx.lineEvent.findFirst({ where: { plantId, lineId, machineId, kind, at: new Date(at), text, actor }, select: { id: true } }))?.id ?? null;
}

export async function findKnownMachines(tx: Tx, plantId: number, ids: readonly number[]): Promise<Set<number>> {
  const rows = await tx.machine.findMany({ where: { plantId, id: { in: [...ids] } }, select: { id: true } });
  return new Set(rows.map((row) => row.id));
}

/** Stores counts by machine and beginning; answers those that were there with other numbers, as they were. One statement at a time a plant: two batches must not slip overlapping spans past each other. */
export async function upsertCounts(tx: Tx, plantId: number, counts: readonly ProductionCount[]): Promise<{ inserted: number; replaced: ProductionCount[] }> {
  await tx.$executeRaw`SELECT pg_advisory_xact_lock(hashtext('production_count'), ${plantId}::int)`;
  const given = JSON.stringify(counts);
  const replaced = await tx.$queryRaw<(Omit<ProductionCount, 'at'> & { at: Date })[]>`
    SELECT k.machine_id AS "machineId", k.at, k.minutes, k.good, k.rejected FROM jsonb_to_recordset(${given}::jsonb) AS g("machineId" int, at timestamptz, minutes float8, good int, rejected int)
    JOIN production_count k ON k.plant_id = ${plantId} AND k.machine_id = g."machineId" AND k.at = g.at WHERE (k.minutes, k.good, k.rejected) IS DISTINCT FROM (g.minutes, g.good, g.rejected)`;
  const [{ inserted } = { inserted: 0n }] = await tx.$queryRaw<{ inserted: bigint }[]>`
    WITH written AS (
      INSERT INTO production_count (plant_id, machine_id, at, minutes, good, rejected)
      SELECT ${plantId}, g."machineId", g.at, g.minutes, g.good, g.rejected FROM jsonb_to_recordset(${given}::jsonb) AS g("machineId" int, at timestamptz, minutes float8, good int, rejected int)
      ON CONFLICT (plant_id, machine_id, at) DO UPDATE SET minutes = excluded.minutes, good = excluded.good, rejected = excluded.rejected, from_readings = false RETURNING (xmax = 0) AS fresh)
    SELECT count(*) FILTER (WHERE fresh) AS inserted FROM written`;
  return { inserted: Number(inserted), replaced: replaced.map((row) => ({ ...row, at: row.at.toISOString() })) };
}

/** Positions in the batch (from 0) whose span overlaps another stored span of the same machine. */
export async function findOverlaps(tx: Tx, plantId: number, counts: readonly ProductionCount[]): Promise<{ place: number; at: Date; minutes: number }[]> {
  const rows = await tx.$queryRaw<{ place: bigint; at: Date; minutes: number }[]>`
    SELECT g.place - 1 AS place, k.at, k.minutes FROM jsonb_array_elements(${JSON.stringify(counts)}::jsonb) WITH ORDINALITY AS g(c, place)
    JOIN production_count k ON k.plant_id = ${plantId} AND k.machine_id = (g.c->>'machineId')::int AND k.at <> (g.c->>'at')::timestamptz
      AND k.at > (g.c->>'at')::timestamptz - interval '1 day' AND k.at < (g.c->>'at')::timestamptz + make_interval(secs => (g.c->>'minutes')::float8 * 60)
      AND k.at + make_interval(secs => k.minutes * 60) > (g.c->>'at')::timestamptz
    ORDER BY g.place LIMIT 50`;
  return rows.map((row) => ({ ...row, place: Number(row.place) }));
}

export async function findEvent(tx: Tx, plantId: number, id: number): Promise<LineEvent> {
  const [row] = await listEvents(tx, plantId, { id });
  if (!row) throw new Problem('not-found', `There is no line event ${id}.`);
  return row;
}
