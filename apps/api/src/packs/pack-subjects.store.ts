import type { Tx } from '../platform/work.js';
import { ISO, type PackGroupIds, type PackPeriod } from './pack-inputs.store.js';
import type { PackSubject } from './pack-content.js';

/** What has readings in the period: product, machine, characteristic, in the order of the line. */
export function listSubjectIds(tx: Tx, plantId: number, productIds: readonly number[], { from, to }: PackPeriod): Promise<PackGroupIds[]> {
  return tx.$queryRaw<PackGroupIds[]>`
    SELECT s.product_id AS product, s.machine_id AS machine, s.characteristic_id AS characteristic
    FROM stream s
    JOIN product p ON p.plant_id = s.plant_id AND p.id = s.product_id
    JOIN machine m ON m.plant_id = s.plant_id AND m.id = s.machine_id JOIN step st ON st.plant_id = m.plant_id AND st.id = m.step_id JOIN line l ON l.plant_id = st.plant_id AND l.id = st.line_id
    JOIN characteristic ch ON ch.plant_id = s.plant_id AND ch.id = s.characteristic_id
    WHERE s.plant_id = ${plantId} AND s.product_id = ANY(${[...productIds]}::int[])
      AND EXISTS (SELECT 1 FROM subgroup g WHERE g.plant_id = s.plant_id AND g.stream_id = s.id AND g.n > 0 AND g.taken_at >= ${from}::timestamptz AND g.taken_at < ${to}::timestamptz)
    GROUP BY p.code, l.position, l.code, st.position, m.code, ch.code, s.product_id, s.machine_id, s.characteristic_id
    ORDER BY p.code, l.position, l.code, st.position, m.code, ch.code`;
}

/** One product on one machine, one characteristic, with every reading of the period, by one statement and one row. Voided checks are left out. */
export async function readSubject(tx: Tx, plantId: number, of: PackGroupIds, { from, to }: PackPeriod): Promise<PackSubject> {
  const [row] = await tx.$queryRaw<{ subject: PackSubject }[]>`
    SELECT json_build_object(
      'product', (SELECT json_build_object('id', id, 'code', code, 'name', name, 'customer', customer) FROM product WHERE plant_id = ${plantId} AND id = ${of.product}),
      'machine', (SELECT json_build_object('id', m.id, 'code', m.code, 'name', m.name, 'line', l.code) FROM machine m JOIN step st ON st.plant_id = m.plant_id AND st.id = m.step_id JOIN line l ON l.plant_id = st.plant_id AND l.id = st.line_id WHERE m.plant_id = ${plantId} AND m.id = ${of.machine}),
      'characteristic', (SELECT json_build_object('id', id, 'code', code, 'name', name, 'unit', unit, 'decimals', decimals, 'gaugeStep', gauge_step, 'kind', kind) FROM characteristic WHERE plant_id = ${plantId} AND id = ${of.characteristic}),
      'revisions', coalesce((SELECT json_agg(json_build_object('id', sp.id, 'revision', sp.revision, 'lsl', sp.lsl, 'target', sp.target, 'usl', sp.usl, 'effectiveFrom', to_char(sp.effective_from AT TIME ZONE 'UTC', ${ISO}), 'reason', sp.reason, 'author', u.name) ORDER BY sp.effective_from, sp.revision)
        FROM specification sp JOIN "user" u ON u.plant_id = sp.plant_id AND u.id = sp.author_id
        WHERE sp.plant_id = ${plantId} AND sp.product_id = ${of.product} AND sp.characteristic_id = ${of.characteristic} AND sp.state = 'approved' AND sp.effective_from < ${to}::timestamptz), '[]'::json),
      'streams', coalesce((SELECT json_agg(json_build_object('id', s.id, 'chartKind', s.chart_kind, 'basis', s.basis, 'rules', s.rules,
          'unit', CASE WHEN un.id IS NULL THEN NULL ELSE json_build_object('id', un.id, 'code', un.code) END,
          'lane', CASE WHEN la.id IS NULL THEN NULL ELSE json_build_object('id', la.id, 'code', la.code) END,
          'limits', coalesce((SELECT json_agg(json_build_object('id', li.id, 'kind', li.kind, 'centre', li.centre, 'sigma', li.sigma, 'spreadCentre', li.spread_centre, 'subgroups', li.subgroups, 'readings', li.readings,
              'baselineFrom', to_char(li.baseline_from AT TIME ZONE 'UTC', ${ISO}), 'baselineTo', to_char(li.baseline_to AT TIME ZONE 'UTC', ${ISO}), 'excluded', li.excluded, 'formula', li.formula,
              'effectiveFrom', to_char(li.effective_from AT TIME ZONE 'UTC', ${ISO}), 'author', lu.name, 'reason', li.reason) ORDER BY li.effective_from, li.id)
            FROM limits li JOIN "user" lu ON lu.plant_id = li.plant_id AND lu.id = li.author_id WHERE li.plant_id = s.plant_id AND li.stream_id = s.id AND li.effective_from < ${to}::timestamptz), '[]'::json),
          'subgroups', g.subgroups) ORDER BY un.position NULLS FIRST, la.position NULLS FIRST, s.id)
        FROM stream s
        LEFT JOIN unit un ON un.plant_id = s.plant_id AND un.id = s.unit_id
        LEFT JOIN lane la ON la.plant_id = s.plant_id AND la.id = s.lane_id
        CROSS JOIN LATERAL (SELECT json_agg(json_build_array(g.check_id, to_char(g.taken_at AT TIME ZONE 'UTC', ${ISO}), g.sequence, greatest(1, cardinality(c.positions)), to_json(g.readings), g.gauge_id, g.formula, g.limits_id, g.revision) ORDER BY g.taken_at, g.sequence) AS subgroups
          FROM subgroup g JOIN "check" c ON c.plant_id = g.plant_id AND c.id = g.check_id AND c.voided_at IS NULL
          WHERE g.plant_id = s.plant_id AND g.stream_id = s.id AND g.n > 0 AND g.taken_at >= ${from}::timestamptz AND g.taken_at < ${to}::timestamptz) g
        WHERE s.plant_id = ${plantId} AND s.product_id = ${of.product} AND s.machine_id = ${of.machine} AND s.characteristic_id = ${of.characteristic} AND g.subgroups IS NOT NULL), '[]'::json)) AS subject`;
  return (row as { subject: PackSubject }).subject;
}
