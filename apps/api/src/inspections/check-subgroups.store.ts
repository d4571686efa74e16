import type { LimitsBasis } from '#statistics/charts/limits';
import type { FiringSide, RuleName } from '#statistics/rules/verdict';
import type { Tx } from '../platform/work.js';

export type CheckSubgroup = {
  streamId: number; characteristicId: number; unitId: number | null; laneId: number | null; revision: number; cans: number[]; gauge: string | null; takenAt: string; sequence: number; characteristic: string; characteristicName: string; unit: string; decimals: number; machineUnit: string | null; lane: string | null;
  n: number; mean: number | null; range: number | null; sd: number | null; low: number | null; high: number | null; formula: string | null; readings: (number | null)[];
  limits: (LimitsBasis & { id: number }) | null; lsl: number | null; usl: number | null;
  firings: { chart: 'mean' | 'spread'; rule: RuleName; side: FiringSide; signalId: number }[];
};

/** The subgroups of one check with names, limits, the specification in force when the cans were picked, and firings. */
export async function listCheckSubgroups(tx: Tx, plantId: number, checkId: number): Promise<CheckSubgroup[]> {
  const rows = await tx.$queryRaw<{ row: CheckSubgroup }[]>`
    SELECT jsonb_build_object(
      'streamId', g.stream_id, 'characteristicId', c.id, 'unitId', s.unit_id, 'laneId', s.lane_id, 'revision', g.revision, 'cans', to_jsonb(g.cans), 'gauge', ga.code || ' ' || ga.name, 'takenAt', to_char(g.taken_at AT TIME ZONE 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"'), 'sequence', g.sequence,
      'characteristic', c.code, 'characteristicName', c.name, 'unit', c.unit, 'decimals', c.decimals, 'machineUnit', u.code, 'lane', la.code,
      'n', g.n, 'mean', g.mean, 'range', g.range, 'sd', g.sd, 'low', g.low, 'high', g.high, 'formula', g.formula, 'readings', to_jsonb(g.readings),
      'limits', CASE WHEN li.id IS NULL THEN NULL ELSE jsonb_build_object('id', li.id, 'kind', li.kind, 'centre', li.centre, 'sigma', li.sigma, 'spreadCentre', li.spread_centre, 'subgroups', li.subgroups, 'readings', li.readings) END,
      'lsl', sp.lsl, 'usl', sp.usl,
      'firings', coalesce((SELECT jsonb_agg(jsonb_build_object('chart', p.chart, 'rule', p.rule, 'side', p.side, 'signalId', p.signal_id) ORDER BY p.rule) FROM signal_point p
        WHERE p.plant_id = g.plant_id AND p.stream_id = g.stream_id AND p.taken_at = g.taken_at AND p.sequence = g.sequence), '[]')) AS row
    FROM subgroup g
    JOIN stream s ON s.plant_id = g.plant_id AND s.id = g.stream_id
    JOIN characteristic c ON c.plant_id = g.plant_id AND c.id = s.characteristic_id
    LEFT JOIN unit u ON u.plant_id = g.plant_id AND u.id = s.unit_id
    LEFT JOIN lane la ON la.plant_id = g.plant_id AND la.id = s.lane_id
    LEFT JOIN gauge ga ON ga.plant_id = g.plant_id AND ga.id = g.gauge_id
    LEFT JOIN limits li ON li.plant_id = g.plant_id AND li.id = g.limits_id
    LEFT JOIN LATERAL (SELECT lsl, usl FROM specification sp WHERE sp.plant_id = g.plant_id AND sp.product_id = s.product_id AND sp.characteristic_id = s.characteristic_id
      AND sp.state = 'approved' AND sp.effective_from <= g.taken_at ORDER BY sp.effective_from DESC, sp.revision DESC LIMIT 1) sp ON true
    WHERE g.plant_id = ${plantId} AND g.check_id = ${checkId}
    ORDER BY c.code, u.position NULLS FIRST, la.position NULLS FIRST`;
  return rows.map(({ row }) => row);
}
