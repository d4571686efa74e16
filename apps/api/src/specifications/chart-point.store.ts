import type { ChartPoint } from '#contract/specifications';
import type { LimitsBasis } from '#statistics/charts/limits';
import { Prisma } from '../platform/generated/client.js';
import type { Tx } from '../platform/work.js';
import { isoText } from './stream-names.store.js';

export type PointRow = Omit<ChartPoint, 'cans' | 'outsideSpecification' | 'limits' | 'status'> & { canNumbers: number[]; readings: (number | null)[]; basis: (LimitsBasis & { id: number }) | null };

/** Everything that is kept of one subgroup. */
export async function findPoint(tx: Tx, plantId: number, streamId: number, takenAt: string, sequence: number): Promise<PointRow | null> {
  const [found] = await tx.$queryRaw<{ row: PointRow }[]>`
    SELECT json_build_object('takenAt', ${isoText(Prisma.sql`g.taken_at`)}, 'sequence', g.sequence, 'checkId', ch.id, 'enteredBy', coalesce(us.name, ch.feed), 'inspector', ch.inspector, 'source', ch.source,
      'gauge', ga.code || ' ' || ga.name, 'n', g.n, 'mean', g.mean, 'range', g.range, 'sd', g.sd, 'low', g.low, 'high', g.high, 'formula', g.formula,
      'positions', to_json(ch.positions), 'readings', to_json(g.readings),
      'canNumbers', (SELECT json_agg(ch.can_numbers[can.place + 1] ORDER BY can.number) FROM unnest(g.cans) WITH ORDINALITY AS can(place, number)),
      'specification', (SELECT json_build_object('lsl', sp.lsl, 'target', sp.target, 'usl', sp.usl, 'revision', sp.revision) FROM specification sp
        WHERE sp.plant_id = g.plant_id AND sp.product_id = s.product_id AND sp.characteristic_id = s.characteristic_id AND sp.state = 'approved' AND sp.effective_from <= g.taken_at ORDER BY sp.effective_from DESC, sp.revision DESC LIMIT 1),
      'basis', CASE WHEN li.id IS NOT NULL THEN json_build_object('id', li.id, 'kind', li.kind, 'centre', li.centre, 'sigma', li.sigma, 'spreadCentre', li.spread_centre, 'subgroups', li.subgroups, 'readings', li.readings) END,
      'firings', (SELECT coalesce(json_agg(json_build_object('chart', f.chart, 'rule', f.rule, 'side', f.side, 'signalId', f.signal_id, 'signalState', sg.state) ORDER BY f.chart, f.rule), '[]')
        FROM signal_point f JOIN signal sg ON sg.plant_id = f.plant_id AND sg.id = f.signal_id WHERE f.plant_id = g.plant_id AND f.stream_id = g.stream_id AND f.taken_at = g.taken_at AND f.sequence = g.sequence),
      'revisions', (SELECT coalesce(json_agg(json_build_object('revision', r.revision, 'n', r.n, 'mean', r.mean, 'replacedAt', ${isoText(Prisma.sql`r.replaced_at`)}, 'replacedBy', ru.name, 'reason', r.reason) ORDER BY r.revision DESC), '[]')
        FROM subgroup_revision r JOIN "user" ru ON ru.plant_id = r.plant_id AND ru.id = r.replaced_by WHERE r.plant_id = g.plant_id AND r.stream_id = g.stream_id AND r.taken_at = g.taken_at AND r.sequence = g.sequence)) AS row
    FROM subgroup g
    JOIN stream s ON s.plant_id = g.plant_id AND s.id = g.stream_id
    JOIN "check" ch ON ch.plant_id = g.plant_id AND ch.id = g.check_id
    LEFT JOIN "user" us ON us.plant_id = ch.plant_id AND us.id = ch.entered_by
    LEFT JOIN gauge ga ON ga.plant_id = g.plant_id AND ga.id = g.gauge_id
    LEFT JOIN limits li ON li.plant_id = g.plant_id AND li.id = g.limits_id
    WHERE g.plant_id = ${plantId} AND g.stream_id = ${streamId} AND g.taken_at = ${takenAt}::timestamptz AND g.sequence = ${sequence}`;
  return found?.row ?? null;
}
