import { Prisma } from '../platform/generated/client.js';
import type { Scope } from '../platform/scope.js';
import type { Tx } from '../platform/work.js';

export type StudyOf = { product: number; machine: number; characteristic: number };
export type Period = { from: Date; to: Date };
export type Subject = {
  plant: { name: string; timeZone: string };
  product: { id: number; code: string; name: string; customer: string } | null;
  machine: { id: number; code: string; name: string; line: string } | null;
  characteristic: { id: number; code: string; name: string; unit: string; decimals: number; gaugeStep: number; kind: string } | null;
};

/** What a study is of; null for what this plant does not have. */
export async function findSubject(tx: Tx, plantId: number, of: StudyOf): Promise<Subject> {
  const [row] = await tx.$queryRaw<Subject[]>`
    SELECT jsonb_build_object('name', p.name, 'timeZone', p.time_zone) AS plant,
      (SELECT jsonb_build_object('id', id, 'code', code, 'name', name, 'customer', customer) FROM product WHERE plant_id = p.id AND id = ${of.product}) AS product,
      (SELECT jsonb_build_object('id', m.id, 'code', m.code, 'name', m.name, 'line', l.code) FROM machine m
        JOIN step st ON st.plant_id = m.plant_id AND st.id = m.step_id JOIN line l ON l.plant_id = st.plant_id AND l.id = st.line_id
        WHERE m.plant_id = p.id AND m.id = ${of.machine}) AS machine,
      (SELECT jsonb_build_object('id', id, 'code', code, 'name', name, 'unit', unit, 'decimals', decimals, 'gaugeStep', gauge_step, 'kind', kind)
        FROM characteristic WHERE plant_id = p.id AND id = ${of.characteristic}) AS characteristic
    FROM plant p WHERE p.id = ${plantId}`;
  if (!row) throw new RangeError(`findSubject: there is no plant ${plantId}`);
  return row;
}

export type Revision = { id: number; revision: number; lsl: number | null; target: number | null; usl: number | null; effectiveFrom: Date; reason: string };

/** Every revision that took effect before a moment, in the order in which they replace each other. */
export async function listRevisions(tx: Tx, plantId: number, of: Omit<StudyOf, 'machine'>, before: Date): Promise<Revision[]> {
  return tx.$queryRaw<Revision[]>`
    SELECT id, revision, lsl, target, usl, effective_from AS "effectiveFrom", reason FROM specification
    WHERE plant_id = ${plantId} AND product_id = ${of.product} AND characteristic_id = ${of.characteristic} AND state = 'approved' AND effective_from < ${before.toISOString()}::timestamptz
    ORDER BY effective_from, revision`;
}

export type StreamSignal = { id: number; streamId: number; chart: string; rule: string; side: string; state: string; firedAt: Date; firstAt: Date; lastAt: Date; cause: string | null };

/** Signals whose pattern touches the period. One whose firings were all withdrawn by a correction is none. */
export async function listSignalsTouching(tx: Tx, plantId: number, streamIds: readonly number[], { from, to }: Period): Promise<StreamSignal[]> {
  return tx.$queryRaw<StreamSignal[]>`
    SELECT id, stream_id AS "streamId", chart, rule, side, state, fired_at AS "firedAt", first_at AS "firstAt", last_at AS "lastAt", cause FROM signal
    WHERE plant_id = ${plantId} AND stream_id = ANY(${[...streamIds]}::int[]) AND firings > 0
      AND first_at < ${to.toISOString()}::timestamptz AND last_at >= ${from.toISOString()}::timestamptz
    ORDER BY fired_at, id`;
}

export type GaugeUse = { streamId: number; id: number; code: string; name: string; resolution: number; unit: string; calibrationDue: Date | null; subgroups: number; overdue: number };

/** Which gauges the readings of the period came from, and how often when they were out of calibration: after it was due, or after one that failed. */
export async function listGaugesUsed(tx: Tx, plantId: number, streamIds: readonly number[], { from, to }: Period): Promise<GaugeUse[]> {
  return tx.$queryRaw<GaugeUse[]>`
    SELECT g.stream_id AS "streamId", ga.id, ga.code, ga.name, ga.resolution, ga.unit, ga.calibration_due AS "calibrationDue",
      count(*)::int AS subgroups, (count(*) FILTER (WHERE cal.result = 'failed' OR CASE WHEN cal.id IS NOT NULL THEN cal.due_at WHEN f.id IS NOT NULL THEN f.previous_due ELSE ga.calibration_due END < g.taken_at))::int AS overdue
    FROM subgroup g
    JOIN "check" c ON c.plant_id = g.plant_id AND c.id = g.check_id AND c.voided_at IS NULL
    JOIN gauge ga ON ga.plant_id = g.plant_id AND ga.id = g.gauge_id
    LEFT JOIN LATERAL (SELECT id, due_at, result FROM gauge_calibration x WHERE x.plant_id = ga.plant_id AND x.gauge_id = ga.id AND x.calibrated_at <= g.taken_at ORDER BY x.calibrated_at DESC, x.id DESC LIMIT 1) cal ON true
    LEFT JOIN LATERAL (SELECT id, previous_due FROM gauge_calibration x WHERE x.plant_id = ga.plant_id AND x.gauge_id = ga.id ORDER BY x.id LIMIT 1) f ON true
    WHERE g.plant_id = ${plantId} AND g.stream_id = ANY(${[...streamIds]}::int[]) AND g.n > 0
      AND g.taken_at >= ${from.toISOString()}::timestamptz AND g.taken_at < ${to.toISOString()}::timestamptz
    GROUP BY g.stream_id, ga.plant_id, ga.id ORDER BY ga.code`;
}

/** Machines that have readings of a product and characteristic in a period, in the order of the line. */
export async function listMachinesWith(tx: Tx, plantId: number, of: { product: number; characteristic: number }, { from, to }: Period): Promise<{ id: number; code: string }[]> {
  return tx.$queryRaw<{ id: number; code: string }[]>`
    SELECT m.id, m.code FROM machine m JOIN step st ON st.plant_id = m.plant_id AND st.id = m.step_id JOIN line l ON l.plant_id = st.plant_id AND l.id = st.line_id
    WHERE m.plant_id = ${plantId} AND EXISTS (SELECT 1 FROM stream s JOIN subgroup g ON g.plant_id = s.plant_id AND g.stream_id = s.id AND g.taken_at >= ${from.toISOString()}::timestamptz AND g.taken_at < ${to.toISOString()}::timestamptz
      WHERE s.plant_id = m.plant_id AND s.machine_id = m.id AND s.product_id = ${of.product} AND s.characteristic_id = ${of.characteristic})
    ORDER BY l.position, st.position, m.code`;
}

type Named = { id: number; code: string; name: string };
export type Choice = { product: Named; machine: Named & { line: string }; characteristic: Named; units: { id: number; code: string }[]; lanes: { id: number; code: string }[]; first: Date; last: Date };

/** Product, machine, characteristic that have readings. First and last are looked up at the two ends of the key, not by counting. */
export async function listChoices(tx: Tx, plantId: number, scope: Scope | null = null): Promise<Choice[]> {
  const [from, until, customer] = [scope?.from ?? null, scope?.until ?? null, scope?.customer ?? null];
  const inSpan = Prisma.sql`g.taken_at >= coalesce(${from}::timestamptz, '-infinity') AND g.taken_at < coalesce(${until}::timestamptz, 'infinity')`;
  return tx.$queryRaw<Choice[]>`
    SELECT jsonb_build_object('id', p.id, 'code', p.code, 'name', p.name) AS product,
      jsonb_build_object('id', m.id, 'code', m.code, 'name', m.name, 'line', l.code) AS machine,
      jsonb_build_object('id', ch.id, 'code', ch.code, 'name', ch.name) AS characteristic,
      coalesce(jsonb_agg(DISTINCT jsonb_build_object('id', u.id, 'code', u.code, 'position', u.position)) FILTER (WHERE u.id IS NOT NULL), '[]') AS units,
      coalesce(jsonb_agg(DISTINCT jsonb_build_object('id', la.id, 'code', la.code, 'position', la.position)) FILTER (WHERE la.id IS NOT NULL), '[]') AS lanes,
      min(a.taken_at) AS first, max(z.taken_at) AS last
    FROM stream s
    CROSS JOIN LATERAL (SELECT taken_at FROM subgroup g WHERE g.plant_id = s.plant_id AND g.stream_id = s.id AND ${inSpan} ORDER BY taken_at LIMIT 1) a
    CROSS JOIN LATERAL (SELECT taken_at FROM subgroup g WHERE g.plant_id = s.plant_id AND g.stream_id = s.id AND ${inSpan} ORDER BY taken_at DESC LIMIT 1) z
    JOIN product p ON p.plant_id = s.plant_id AND p.id = s.product_id
    JOIN machine m ON m.plant_id = s.plant_id AND m.id = s.machine_id
    JOIN step st ON st.plant_id = m.plant_id AND st.id = m.step_id
    JOIN line l ON l.plant_id = st.plant_id AND l.id = st.line_id
    JOIN characteristic ch ON ch.plant_id = s.plant_id AND ch.id = s.characteristic_id
    LEFT JOIN unit u ON u.plant_id = s.plant_id AND u.id = s.unit_id
    LEFT JOIN lane la ON la.plant_id = s.plant_id AND la.id = s.lane_id
    WHERE s.plant_id = ${plantId} AND (${customer}::text IS NULL OR p.customer = ${customer})
    GROUP BY p.plant_id, p.id, m.plant_id, m.id, l.plant_id, l.id, l.position, st.position, ch.plant_id, ch.id
    ORDER BY p.code, l.position, st.position, m.code, ch.name`;
}
