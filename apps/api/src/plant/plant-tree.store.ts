import { plantTree, type PlantTree } from '#contract/plant';
import { Problem } from '#contract/problem';
import type { Tx } from '../platform/work.js';

/** The whole plant by one statement, for every picker of the screens. */
export async function findPlantTree(tx: Tx, plantId: number): Promise<PlantTree> {
  const rows = await tx.$queryRaw<{ tree: unknown }[]>`
    SELECT jsonb_build_object(
      'plant', (SELECT jsonb_build_object('name', name, 'timeZone', time_zone, 'demo', demo, 'secondPerson', second_person) FROM plant WHERE id = ${plantId}),
      'lines', (SELECT coalesce(jsonb_agg(jsonb_build_object('id', l.id, 'code', l.code, 'name', l.name, 'position', l.position, 'clockMinutes', l.clock_minutes,
        'stretches', (SELECT coalesce(jsonb_agg(jsonb_build_object('fromStepId', r.from_step_id, 'toStepId', r.to_step_id, 'shortestSeconds', r.shortest_seconds, 'longestSeconds', r.longest_seconds, 'leastCans', r.least_cans, 'mostCans', r.most_cans) ORDER BY f.position), '[]')
          FROM stretch r JOIN step f ON f.plant_id = r.plant_id AND f.id = r.from_step_id WHERE r.plant_id = l.plant_id AND r.line_id = l.id),
        'lanes', (SELECT coalesce(jsonb_agg(jsonb_build_object('id', a.id, 'code', a.code, 'name', a.name, 'position', a.position) ORDER BY a.position), '[]') FROM lane a WHERE a.plant_id = l.plant_id AND a.line_id = l.id),
        'steps', (SELECT coalesce(jsonb_agg(jsonb_build_object('id', s.id, 'kind', s.kind, 'position', s.position,
          'machines', (SELECT coalesce(jsonb_agg(jsonb_build_object('id', m.id, 'code', m.code, 'name', m.name, 'retired', m.retired_at IS NOT NULL,
            'units', (SELECT coalesce(jsonb_agg(jsonb_build_object('id', u.id, 'code', u.code, 'position', u.position) ORDER BY u.position), '[]') FROM unit u WHERE u.plant_id = m.plant_id AND u.machine_id = m.id)) ORDER BY m.code), '[]')
            FROM machine m WHERE m.plant_id = s.plant_id AND m.step_id = s.id)) ORDER BY s.position), '[]') FROM step s WHERE s.plant_id = l.plant_id AND s.line_id = l.id)) ORDER BY l.position), '[]') FROM line l WHERE l.plant_id = ${plantId}),
      'products', (SELECT coalesce(jsonb_agg(jsonb_build_object('id', id, 'code', code, 'name', name, 'customer', customer, 'diameter', diameter, 'height', height, 'bodyPlate', body_plate, 'endPlate', end_plate, 'seamProfile', seam_profile, 'overlapFactor', overlap_factor, 'retired', retired_at IS NOT NULL) ORDER BY code), '[]') FROM product WHERE plant_id = ${plantId}),
      'characteristics', (SELECT coalesce(jsonb_agg(jsonb_build_object('id', id, 'code', code, 'name', name, 'unit', unit, 'kind', kind, 'stepKind', step_kind, 'gaugeStep', gauge_step, 'decimals', decimals, 'plausibleLow', plausible_low, 'plausibleHigh', plausible_high, 'formula', formula, 'chartKind', chart_kind, 'basis', basis) ORDER BY id), '[]') FROM characteristic WHERE plant_id = ${plantId}),
      'gauges', (SELECT coalesce(jsonb_agg(jsonb_build_object('id', id, 'code', code, 'name', name, 'unit', unit, 'resolution', resolution, 'calibrationDue', to_char(calibration_due AT TIME ZONE 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS"Z"'), 'retired', retired_at IS NOT NULL) ORDER BY code), '[]') FROM gauge WHERE plant_id = ${plantId}),
      'checkPlans', (SELECT coalesce(jsonb_agg(jsonb_build_object('id', id, 'machineId', machine_id, 'productId', product_id, 'name', name, 'cans', cans, 'perUnit', per_unit, 'perLane', per_lane, 'positions', to_jsonb(positions), 'characteristics', to_jsonb(characteristics), 'everyMinutes', every_minutes, 'intervalSource', interval_source, 'everyCans', every_cans, 'cansSource', cans_source, 'unitsEachTime', units_each_time, 'openedBy', to_jsonb(opened_by), 'longStopMinutes', long_stop_minutes, 'eventsSource', events_source, 'revision', revision, 'retired', retired_at IS NOT NULL) ORDER BY id), '[]') FROM check_plan WHERE plant_id = ${plantId}),
      'specifications', (SELECT coalesce(jsonb_agg(jsonb_build_object('id', f.id, 'productId', f.product_id, 'characteristicId', f.characteristic_id, 'revision', f.revision, 'lsl', f.lsl, 'target', f.target, 'usl', f.usl, 'effectiveFrom', to_char(f.effective_from AT TIME ZONE 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS"Z"'), 'author', f.author, 'reason', f.reason)), '[]')
        FROM (SELECT DISTINCT ON (sp.product_id, sp.characteristic_id) sp.*, u.name AS author FROM specification sp JOIN "user" u ON u.plant_id = sp.plant_id AND u.id = sp.author_id
          WHERE sp.plant_id = ${plantId} AND sp.state = 'approved' AND sp.effective_from <= now() ORDER BY sp.product_id, sp.characteristic_id, sp.effective_from DESC, sp.revision DESC) f)) AS tree`;
  const tree = plantTree.safeParse(rows[0]?.tree);
  if (!tree.success) throw new Problem('internal');
  return tree.data;
}
