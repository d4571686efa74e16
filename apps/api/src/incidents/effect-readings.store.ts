import { ALL_RULES } from '#statistics/rules/run-rules';
import { z } from 'zod';
import type { VerificationAnswer } from '#contract/incident-shapes';
import type { Tx } from '../platform/work.js';

const kind = z.enum(['xbar-r', 'xbar-s', 'i-mr']);
const basis = z.object({ kind, centre: z.number(), sigma: z.number(), spreadCentre: z.number(), subgroups: z.number(), readings: z.number() });
const subgroup = z.object({
  at: z.date(), n: z.number().int(), mean: z.number().nullable(), range: z.number().nullable(), sd: z.number().nullable(), readings: z.array(z.number().nullable()), positions: z.number().int().positive(),
  formula: z.string().nullable(), limitsId: z.number().nullable(), limits: basis.nullable(),
});
export type EffectSubgroup = z.infer<typeof subgroup>;
const rules = z.array(z.enum(ALL_RULES));
export type EffectChart = { chartKind: z.infer<typeof kind>; rules: z.infer<typeof rules> };
type Row = VerificationAnswer['stream'] & { machineId: number; lineId: number; chartKind: string; rules: string[] };
export type EffectStream = Omit<Row, keyof EffectChart> & { chart: EffectChart };
export const MOST_SUBGROUPS = 20_000;

/** The stream by the names that people know, with the specification in force at the end; null where this plant has no such stream. */
export async function findEffectStream(tx: Tx, plantId: number, streamId: number, at: Date): Promise<EffectStream | null> {
  const [found] = await tx.$queryRaw<Row[]>`
    SELECT s.id, s.chart_kind AS "chartKind", s.rules, c.name AS characteristic, c.unit, c.decimals, m.code AS machine, u.code AS "machineUnit", la.code AS lane, p.code AS product, m.id AS "machineId", st.line_id AS "lineId", sp.lsl, sp.target, sp.usl
    FROM stream s JOIN characteristic c ON c.plant_id = s.plant_id AND c.id = s.characteristic_id JOIN machine m ON m.plant_id = s.plant_id AND m.id = s.machine_id
    JOIN step st ON st.plant_id = m.plant_id AND st.id = m.step_id JOIN product p ON p.plant_id = s.plant_id AND p.id = s.product_id
    LEFT JOIN unit u ON u.plant_id = s.plant_id AND u.id = s.unit_id LEFT JOIN lane la ON la.plant_id = s.plant_id AND la.id = s.lane_id
    LEFT JOIN LATERAL (SELECT lsl, target, usl FROM specification f WHERE f.plant_id = s.plant_id AND f.product_id = s.product_id AND f.characteristic_id = s.characteristic_id AND f.state = 'approved' AND f.effective_from <= ${at}
      ORDER BY f.effective_from DESC, f.revision DESC LIMIT 1) sp ON true
    WHERE s.plant_id = ${plantId} AND s.id = ${streamId}`;
  if (!found) return null;
  const { chartKind, rules: names, ...row } = found;
  return { ...row, chart: { chartKind: kind.parse(chartKind), rules: rules.parse(names) } };
}

/** Subgroups of a span, ends included, in order of time; those of voided checks are left out. Asks for one more than is allowed, so that too many are seen. */
export async function listEffectSubgroups(tx: Tx, plantId: number, streamId: number, { from, to }: { from: Date; to: Date }): Promise<EffectSubgroup[]> {
  const rows = await tx.$queryRaw<unknown[]>`
    SELECT g.taken_at AS at, g.n::int AS n, g.mean, g.range, g.sd, to_json(g.readings) AS readings, greatest(1, cardinality(c.positions)) AS positions, g.formula, g.limits_id AS "limitsId",
      CASE WHEN l.id IS NULL THEN NULL ELSE jsonb_build_object('kind', l.kind, 'centre', l.centre, 'sigma', l.sigma, 'spreadCentre', l.spread_centre, 'subgroups', l.subgroups, 'readings', l.readings) END AS limits
    FROM subgroup g JOIN "check" c ON c.plant_id = g.plant_id AND c.id = g.check_id AND c.voided_at IS NULL LEFT JOIN limits l ON l.plant_id = g.plant_id AND l.id = g.limits_id
    WHERE g.plant_id = ${plantId} AND g.stream_id = ${streamId} AND g.taken_at BETWEEN ${from} AND ${to} AND g.n > 0 ORDER BY g.taken_at, g.sequence LIMIT ${MOST_SUBGROUPS + 1}`;
  return z.array(subgroup).parse(rows);
}

type Other = VerificationAnswer['otherEvents'][number];

/** Events of the machine or of its whole line in a span, but for the one that was picked as the change. */
export async function listOtherEvents(tx: Tx, plantId: number, { machineId, lineId }: { machineId: number; lineId: number }, { from, to }: { from: Date; to: Date }, but: number | null): Promise<Other[]> {
  const rows = await tx.$queryRaw<(Omit<Other, 'at'> & { at: Date })[]>`
    SELECT e.id, e.at, e.kind, e.text FROM line_event e
    WHERE e.plant_id = ${plantId} AND e.line_id = ${lineId} AND (e.machine_id = ${machineId} OR e.machine_id IS NULL) AND e.kind <> 'shift-change'
      AND e.at BETWEEN ${from} AND ${to} AND e.id <> ${but ?? 0} ORDER BY e.at, e.id LIMIT 2000`;
  return rows.map((row) => ({ ...row, at: row.at.toISOString() }));
}
