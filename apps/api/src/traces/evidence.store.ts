import { z } from 'zod';
import { chartedMembers } from '#statistics/charts/charted-members';
import { isStepKind } from '#canmaking/line/steps';
import type { CountSpan, LineMap, TracedCheck, TracedEvent, TracedSignal, TracedStep, TracedStream } from '#tracing/evidence';
import type { Tx } from '../platform/work.js';

type Span = { from: Date; until: Date };
const ms = z.number();
const part = z.object({ id: z.number(), code: z.string(), position: z.number() });
const line = z.object({
  id: z.number(), code: z.string(), name: z.string(), clockMinutes: z.number(), lanes: z.array(part),
  steps: z.array(z.object({ id: z.number(), kind: z.string(), machines: z.array(z.object({ id: z.number(), code: z.string(), name: z.string(), units: z.array(part) })) })),
  stretches: z.array(z.object({ fromStepId: z.number(), toStepId: z.number(), shortestSeconds: z.number(), longestSeconds: z.number(), leastCans: z.number().nullable(), mostCans: z.number().nullable() })),
});
export type TracedLine = { map: LineMap; code: string; name: string; names: ReadonlyMap<number, string> };

/** The line as the tracer knows it, machines that are retired now left in: they made cans, too. */
export async function findTracedLine(tx: Tx, plantId: number, lineId: number): Promise<TracedLine | null> {
  const [row] = await tx.$queryRaw<{ line: unknown }[]>`
    SELECT jsonb_build_object('id', l.id, 'code', l.code, 'name', l.name, 'clockMinutes', l.clock_minutes,
      'lanes', (SELECT coalesce(jsonb_agg(jsonb_build_object('id', a.id, 'code', a.code, 'position', a.position) ORDER BY a.position), '[]') FROM lane a WHERE a.plant_id = l.plant_id AND a.line_id = l.id),
      'steps', (SELECT coalesce(jsonb_agg(jsonb_build_object('id', s.id, 'kind', s.kind, 'machines',
        (SELECT coalesce(jsonb_agg(jsonb_build_object('id', m.id, 'code', m.code, 'name', m.name, 'units',
          (SELECT coalesce(jsonb_agg(jsonb_build_object('id', u.id, 'code', u.code, 'position', u.position) ORDER BY u.position), '[]') FROM unit u WHERE u.plant_id = m.plant_id AND u.machine_id = m.id)) ORDER BY m.code), '[]')
          FROM machine m WHERE m.plant_id = s.plant_id AND m.step_id = s.id)) ORDER BY s.position), '[]') FROM step s WHERE s.plant_id = l.plant_id AND s.line_id = l.id),
      'stretches', (SELECT coalesce(jsonb_agg(jsonb_build_object('fromStepId', r.from_step_id, 'toStepId', r.to_step_id, 'shortestSeconds', r.shortest_seconds, 'longestSeconds', r.longest_seconds, 'leastCans', r.least_cans, 'mostCans', r.most_cans)), '[]')
        FROM stretch r WHERE r.plant_id = l.plant_id AND r.line_id = l.id)) AS line
    FROM line l WHERE l.plant_id = ${plantId} AND l.id = ${lineId}`;
  if (!row) return null;
  const { code, name, steps, ...rest } = line.parse(row.line);
  const known = steps.flatMap(({ kind, ...step }): TracedStep[] => (isStepKind(kind) ? [{ ...step, kind }] : []));
  const slitter = known.find(({ kind }) => kind === 'slitter')?.machines[0]?.units.length ?? 0;
  return { code, name, map: { ...rest, steps: known, slitterLanes: slitter > 1 ? slitter : null }, names: new Map(steps.flatMap(({ machines }) => machines.map((machine) => [machine.id, machine.name] as const))) };
}

export async function listCountSpans(tx: Tx, plantId: number, lineId: number, { from, until }: Span): Promise<CountSpan[]> {
  const rows = await tx.$queryRaw<{ machineId: number; at: Date; minutes: number; good: number; rejected: number }[]>`
    SELECT c.machine_id AS "machineId", c.at, c.minutes, c.good, c.rejected FROM production_count c
    JOIN machine m ON m.plant_id = c.plant_id AND m.id = c.machine_id JOIN step s ON s.plant_id = m.plant_id AND s.id = m.step_id
    WHERE c.plant_id = ${plantId} AND s.line_id = ${lineId} AND c.at BETWEEN ${from} AND ${until} ORDER BY c.at`;
  return rows.map((row) => ({ ...row, at: row.at.getTime() }));
}

const stream = z.object({
  id: z.number(), characteristic: z.string(), characteristicName: z.string(), unit: z.string(), decimals: z.number(), stepKind: z.string(), machineId: z.number(), laneId: z.number().nullable(), unitId: z.number().nullable(),
  basis: z.enum(['reading', 'can']), limits: z.object({ centre: z.number(), sigma: z.number() }).nullable(),
  points: z.array(z.tuple([ms, z.number().nullable(), z.number().int(), z.array(z.number().nullable()), z.number().int().positive()])),
});
export type NamedStream = { traced: TracedStream; characteristicName: string; unit: string; decimals: number };

/** Streams of a product on a line with their points in a span, by one statement; limits are those in force at `at`, or the first ones after it. */
export async function listTracedStreams(tx: Tx, plantId: number, lineId: number, productId: number, { from, until }: Span, at: Date): Promise<NamedStream[]> {
  const rows = await tx.$queryRaw<unknown[]>`
    SELECT s.id, c.code AS characteristic, c.name AS "characteristicName", c.unit, c.decimals, t.kind AS "stepKind", s.machine_id AS "machineId", s.lane_id AS "laneId", s.unit_id AS "unitId", s.basis,
      (SELECT jsonb_build_object('centre', l.centre, 'sigma', l.sigma) FROM limits l WHERE l.plant_id = s.plant_id AND l.stream_id = s.id
        ORDER BY (l.effective_from <= ${at}) DESC, CASE WHEN l.effective_from <= ${at} THEN -extract(epoch FROM l.effective_from) ELSE extract(epoch FROM l.effective_from) END, l.id DESC LIMIT 1) AS limits,
      json_agg(json_build_array((extract(epoch FROM g.taken_at) * 1000)::bigint, g.mean, g.n, to_json(g.readings), greatest(1, cardinality(k.positions))) ORDER BY g.taken_at, g.sequence) AS points
    FROM stream s JOIN machine m ON m.plant_id = s.plant_id AND m.id = s.machine_id JOIN step t ON t.plant_id = m.plant_id AND t.id = m.step_id AND t.line_id = ${lineId}
    JOIN characteristic c ON c.plant_id = s.plant_id AND c.id = s.characteristic_id
    JOIN subgroup g ON g.plant_id = s.plant_id AND g.stream_id = s.id AND g.n > 0 AND g.taken_at BETWEEN ${from} AND ${until}
    JOIN "check" k ON k.plant_id = g.plant_id AND k.id = g.check_id AND k.voided_at IS NULL
    WHERE s.plant_id = ${plantId} AND s.product_id = ${productId}
    GROUP BY s.plant_id, s.id, c.plant_id, c.id, t.plant_id, t.id`;
  return rows.flatMap((given): NamedStream[] => {
    const { points, stepKind, basis, characteristicName, unit, decimals, ...rest } = stream.parse(given);
    if (!isStepKind(stepKind)) return [];
    return [{
      characteristicName, unit, decimals,
      traced: { ...rest, stepKind, points: points.map(([moment, mean, n, readings, positions]) => ({ at: moment, mean, n, members: readings.length % positions === 0 ? chartedMembers(readings, positions, basis) : readings })) },
    }];
  });
}

export async function listTracedSignals(tx: Tx, plantId: number, streamIds: readonly number[], { from, until }: Span): Promise<TracedSignal[]> {
  const rows = await tx.$queryRaw<{ id: number; streamId: number; rule: string; side: string; firstAt: Date; firedAt: Date; lastAt: Date }[]>`
    SELECT id, stream_id AS "streamId", rule, side, first_at AS "firstAt", fired_at AS "firedAt", last_at AS "lastAt" FROM signal
    WHERE plant_id = ${plantId} AND stream_id = ANY(${[...streamIds]}::int[]) AND firings > 0 AND first_at <= ${until} AND last_at >= ${from} ORDER BY fired_at`;
  return rows.map(({ firstAt, firedAt, lastAt, side, ...row }) => ({ ...row, side: side === 'below' ? 'below' : 'above', firstAt: firstAt.getTime(), firedAt: firedAt.getTime(), lastAt: lastAt.getTime() }));
}

export async function listTracedChecks(tx: Tx, plantId: number, lineId: number, { from, until }: Span): Promise<TracedCheck[]> {
  const rows = await tx.$queryRaw<{ id: number; machineId: number; at: Date; planId: number | null }[]>`
    SELECT k.id, k.machine_id AS "machineId", k.taken_at AS at, k.plan_id AS "planId" FROM "check" k
    JOIN machine m ON m.plant_id = k.plant_id AND m.id = k.machine_id JOIN step s ON s.plant_id = m.plant_id AND s.id = m.step_id
    WHERE k.plant_id = ${plantId} AND s.line_id = ${lineId} AND k.taken_at BETWEEN ${from} AND ${until} AND k.voided_at IS NULL AND k.source <> 'monitor' ORDER BY k.taken_at`;
  return rows.map((row) => ({ ...row, at: row.at.getTime() }));
}

const eventKind = z.enum(['coil-change', 'wire-change', 'roll-change', 'tooling-set', 'wash-down', 'stop', 'jam', 'shift-change', 'setting', 'end-lot-change', 'lacquer-change']);
/** Log-book entries of a line; kinds that the tracer does not know (a start) are left out. */
export async function listTracedEvents(tx: Tx, plantId: number, lineId: number, { from, until }: Span): Promise<TracedEvent[]> {
  const rows = await tx.$queryRaw<{ id: number; machineId: number | null; kind: string; at: Date; until: Date | null; text: string }[]>`
    SELECT id, machine_id AS "machineId", kind, at, until, text FROM line_event WHERE plant_id = ${plantId} AND line_id = ${lineId} AND at BETWEEN ${from} AND ${until} ORDER BY at`;
  return rows.flatMap((row) => {
    const kind = eventKind.safeParse(row.kind);
    return kind.success ? [{ ...row, kind: kind.data, at: row.at.getTime(), until: row.until?.getTime() ?? null }] : [];
  });
}

export type TracedIncident = { id: number; lineId: number; productId: number; madeAt: Date; madeUntil: Date | null; codedAtStepId: number | null; laneId: number | null; unitId: number | null; defect: string; leakPlace: string };
export async function findTracedIncident(tx: Tx, plantId: number, id: number): Promise<TracedIncident | null> {
  return tx.incident.findUnique({ where: { plantId_id: { plantId, id } }, select: { id: true, lineId: true, productId: true, madeAt: true, madeUntil: true, codedAtStepId: true, laneId: true, unitId: true, defect: true, leakPlace: true } });
}

export const isSignal = async (tx: Tx, plantId: number, id: number): Promise<boolean> => (await tx.signal.count({ where: { plantId, id } })) > 0;
