import { Prisma } from '../platform/generated/client.js';
import { isReviewed } from '../platform/reviewed.store.js';
import type { Tx } from '../platform/work.js';
import type { PackInputs, PackSubject } from './pack-content.js';

export type PackGroupIds = { product: number; machine: number; characteristic: number };
/** ISO text; `to` is not included. */
export type PackPeriod = { from: string; to: string };

/** ISO text in UTC with milliseconds, as JavaScript writes it: frozen and stored moments compare as text. */
export const ISO = 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"';
/** Stands for what tells of another customer. */
export const WITHHELD = '(not told here: may name another customer)';
type Around = Omit<PackInputs, 'subjects' | 'missed' | 'studies' | 'gaugeStudies'>;

/**
 * The text of an event, unless it tells of others: lines are shared, and the pack goes to one customer. A changeover says its text only where it names a product of
 * the pack; any other event, unless it names another customer or a product of theirs (names of three letters or more).
 */
const tellable = (plantId: number, productIds: readonly number[]): Prisma.Sql => Prisma.sql`
  CASE WHEN e.text = '' THEN '' WHEN EXISTS (SELECT 1 FROM product o, unnest(ARRAY[o.customer, o.code, o.name]) AS named(word) WHERE o.plant_id = ${plantId} AND length(named.word) >= 3
      AND o.customer NOT IN (SELECT own.customer FROM product own WHERE own.plant_id = ${plantId} AND own.id = ANY(${[...productIds]}::int[])) AND strpos(lower(e.text), lower(named.word)) > 0)
    OR (e.kind = 'changeover' AND NOT EXISTS (SELECT 1 FROM product own, unnest(ARRAY[own.code, own.name]) AS named(word) WHERE own.plant_id = ${plantId} AND own.id = ANY(${[...productIds]}::int[]) AND strpos(lower(e.text), lower(named.word)) > 0))
  THEN ${WITHHELD} ELSE e.text END`;

async function list<Row>(tx: Tx, select: Prisma.Sql, order: Prisma.Sql): Promise<Row[]> {
  const [row] = await tx.$queryRaw<{ rows: Row[] }[]>(Prisma.sql`SELECT coalesce(json_agg(to_json(listed) ORDER BY ${order}), '[]'::json) AS rows FROM (${select}) listed`);
  return (row as { rows: Row[] }).rows;
}

/** What belongs to the readings of a pack: gauges, signals, corrections, incidents, events, signatures. One statement each. */
export async function readAround(tx: Tx, plantId: number, subjects: readonly PackSubject[], productIds: readonly number[], { from, to }: PackPeriod): Promise<Around> {
  const streams = subjects.flatMap((subject) => subject.streams);
  const streamIds = streams.map(({ id }) => id);
  const machineIds = [...new Set(subjects.map(({ machine }) => machine.id))];
  const gaugeIds = [...new Set(streams.flatMap(({ subgroups }) => subgroups.flatMap((group) => group[5] ?? [])))];
  const limitIds = streams.flatMap(({ limits }) => limits.map(({ id }) => id));
  const revisionIds = subjects.flatMap(({ revisions }) => revisions.map(({ id }) => id));
  const gauges = await list<Around['gauges'][number]>(tx, Prisma.sql`
    SELECT g.id, g.code, g.name, g.resolution, g.unit, to_char(g.calibration_due AT TIME ZONE 'UTC', ${ISO}) AS "calibrationDue",
      coalesce((SELECT json_agg(json_build_object('id', x.id, 'calibratedAt', to_char(x.calibrated_at AT TIME ZONE 'UTC', ${ISO}), 'result', x.result, 'certificate', x.certificate, 'dueAt', to_char(x.due_at AT TIME ZONE 'UTC', ${ISO}), 'previousDue', to_char(x.previous_due AT TIME ZONE 'UTC', ${ISO})) ORDER BY x.calibrated_at, x.id) FROM gauge_calibration x WHERE x.plant_id = g.plant_id AND x.gauge_id = g.id), '[]'::json) AS calibrations
    FROM gauge g WHERE g.plant_id = ${plantId} AND g.id = ANY(${gaugeIds}::int[])`, Prisma.sql`listed.id`);
  const signals = await list<Around['signals'][number]>(tx, Prisma.sql`
    SELECT s.id, s.stream_id AS "streamId", s.chart, s.rule, s.side, s.state, to_char(s.fired_at AT TIME ZONE 'UTC', ${ISO}) AS "firedAt", to_char(s.first_at AT TIME ZONE 'UTC', ${ISO}) AS "firstAt", to_char(s.last_at AT TIME ZONE 'UTC', ${ISO}) AS "lastAt", s.cause,
      coalesce((SELECT json_agg(json_build_object('at', to_char(t.at AT TIME ZONE 'UTC', ${ISO}), 'actor', t.actor, 'action', t.action, 'comment', t.comment) ORDER BY t.id) FROM signal_step t WHERE t.plant_id = s.plant_id AND t.signal_id = s.id), '[]'::json) AS steps
    FROM signal s WHERE s.plant_id = ${plantId} AND s.stream_id = ANY(${streamIds}::int[]) AND s.firings > 0 AND s.first_at < ${to}::timestamptz AND s.last_at >= ${from}::timestamptz`, Prisma.sql`listed."firedAt", listed.id`);
  const corrections = await list<Around['corrections'][number]>(tx, Prisma.sql`
    SELECT r.stream_id AS "streamId", r.check_id AS "checkId", to_char(r.taken_at AT TIME ZONE 'UTC', ${ISO}) AS "takenAt", r.revision, to_json(r.readings) AS readings, r.reason, u.name AS by, to_char(r.replaced_at AT TIME ZONE 'UTC', ${ISO}) AS at
    FROM subgroup_revision r JOIN "user" u ON u.plant_id = r.plant_id AND u.id = r.replaced_by
    WHERE r.plant_id = ${plantId} AND r.stream_id = ANY(${streamIds}::int[]) AND r.taken_at >= ${from}::timestamptz AND r.taken_at < ${to}::timestamptz`, Prisma.sql`listed."takenAt", listed."streamId", listed."checkId", listed.revision`);
  const incidents = await list<Around['incidents'][number]>(tx, Prisma.sql`
    SELECT i.id, i.kind, i.state, i.product_id AS "productId", i.can_code AS "canCode", to_char(i.made_at AT TIME ZONE 'UTC', ${ISO}) AS "madeAt", to_char(i.received_at AT TIME ZONE 'UTC', ${ISO}) AS "receivedAt", i.cans_complained AS "cansComplained", i.cans_examined AS "cansExamined", i.cans_leaking AS "cansLeaking",
      i.defect, i.description, i.containment, i.cause, i.action, i.verdict, i.closed_without AS "closedWithout", to_char(i.closed_at AT TIME ZONE 'UTC', ${ISO}) AS "closedAt",
      coalesce((SELECT json_agg(json_build_object('at', to_char(t.at AT TIME ZONE 'UTC', ${ISO}), 'actor', t.actor, 'action', t.action, 'comment', t.comment) ORDER BY t.id) FROM incident_step t WHERE t.plant_id = i.plant_id AND t.incident_id = i.id), '[]'::json) AS steps,
      coalesce((SELECT json_agg(json_build_object('id', v.id, 'streamId', v.stream_id, 'author', u.name, 'createdAt', to_char(v.created_at AT TIME ZONE 'UTC', ${ISO})) ORDER BY v.id) FROM incident_verification v JOIN "user" u ON u.plant_id = v.plant_id AND u.id = v.author_id WHERE v.plant_id = i.plant_id AND v.incident_id = i.id), '[]'::json) AS verifications
    FROM incident i WHERE i.plant_id = ${plantId} AND i.product_id = ANY(${[...productIds]}::int[]) AND ((i.made_at >= ${from}::timestamptz AND i.made_at < ${to}::timestamptz) OR (i.received_at >= ${from}::timestamptz AND i.received_at < ${to}::timestamptz))`, Prisma.sql`listed.id`);
  const events = await list<Around['events'][number]>(tx, Prisma.sql`
    SELECT e.id, to_char(e.at AT TIME ZONE 'UTC', ${ISO}) AS at, to_char(e.until AT TIME ZONE 'UTC', ${ISO}) AS until, e.kind, l.code AS line, m.code AS machine, ${tellable(plantId, productIds)} AS text, e.actor
    FROM line_event e JOIN line l ON l.plant_id = e.plant_id AND l.id = e.line_id LEFT JOIN machine m ON m.plant_id = e.plant_id AND m.id = e.machine_id
    WHERE e.plant_id = ${plantId} AND e.at >= ${from}::timestamptz AND e.at < ${to}::timestamptz AND (e.machine_id = ANY(${machineIds}::int[]) OR (e.machine_id IS NULL AND e.line_id IN (SELECT st.line_id FROM machine x JOIN step st ON st.plant_id = x.plant_id AND st.id = x.step_id WHERE x.plant_id = ${plantId} AND x.id = ANY(${machineIds}::int[]))))`, Prisma.sql`listed.at, listed.id`);
  const signatures = await list<Around['signatures'][number]>(tx, Prisma.sql`
    SELECT g.kind, g.record_id AS "recordId", g.meaning, g.printed_name AS "printedName", g.role, to_char(g.at AT TIME ZONE 'UTC', ${ISO}) AS at, g.comment, g.content_hash AS "contentHash"
    FROM signature g WHERE g.plant_id = ${plantId} AND ((g.kind = 'limits' AND g.record_id = ANY(${limitIds}::int[])) OR (g.kind = 'specification' AND g.record_id = ANY(${revisionIds}::int[])) OR (g.kind = 'incident' AND g.record_id = ANY(${incidents.map(({ id }) => id)}::int[])))`, Prisma.sql`listed.at, listed.kind, listed."recordId"`);
  const checkIds = [...new Set(streams.flatMap(({ subgroups }) => subgroups.map((group) => group[0])))];
  const [reviewed] = await tx.$queryRaw<{ reviewed: number }[]>`
    SELECT count(*)::int AS reviewed FROM unnest(${checkIds}::int[]) AS c(id) WHERE ${isReviewed(plantId, Prisma.sql`c.id`)}`;
  return { gauges, signals, corrections, incidents, events, signatures, checks: { stored: checkIds.length, reviewed: reviewed?.reviewed ?? 0 } };
}

/** Kept studies by id, with the numbers they were computed from. */
export async function readStudies(tx: Tx, plantId: number, ids: readonly number[]): Promise<PackInputs['studies']> {
  return list(tx, Prisma.sql`
    SELECT s.id, s.title, s.note, u.name AS author, to_char(s.created_at AT TIME ZONE 'UTC', ${ISO}) AS "createdAt", s.version, s.answers FROM study s JOIN "user" u ON u.plant_id = s.plant_id AND u.id = s.author_id
    WHERE s.plant_id = ${plantId} AND s.id = ANY(${[...ids]}::int[])`, Prisma.sql`listed.id`);
}

/** Plant and products of a pack; a product that the customer does not buy is not answered. */
export async function readScope(tx: Tx, plantId: number, customer: string, productIds: readonly number[]): Promise<{ plant: { name: string; timeZone: string }; products: { id: number; code: string; name: string }[] }> {
  const products = await list<{ id: number; code: string; name: string }>(tx, Prisma.sql`SELECT id, code, name FROM product WHERE plant_id = ${plantId} AND customer = ${customer} AND id = ANY(${[...productIds]}::int[])`, Prisma.sql`listed.code`);
  const [plant] = await tx.$queryRaw<{ name: string; timeZone: string }[]>`SELECT name, time_zone AS "timeZone" FROM plant WHERE id = ${plantId}`;
  return { plant: plant as { name: string; timeZone: string }, products };
}
