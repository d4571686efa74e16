import { Prisma } from '../platform/generated/client.js';

/** A stream `s` with the names that a person knows it by, as JSON; goes with `streamJoins`. */
export const streamJson = Prisma.sql`json_build_object('id', s.id,
  'line', json_build_object('id', l.id, 'code', l.code, 'name', l.name),
  'machine', json_build_object('id', m.id, 'code', m.code, 'name', m.name, 'stepKind', st.kind),
  'unit', CASE WHEN u.id IS NOT NULL THEN json_build_object('id', u.id, 'code', u.code) END,
  'lane', CASE WHEN la.id IS NOT NULL THEN json_build_object('id', la.id, 'code', la.code) END,
  'product', json_build_object('id', p.id, 'code', p.code, 'name', p.name),
  'characteristic', json_build_object('id', c.id, 'code', c.code, 'name', c.name, 'unit', c.unit, 'decimals', c.decimals, 'gaugeStep', c.gauge_step, 'formula', c.formula),
  'chartKind', s.chart_kind, 'basis', s.basis, 'rules', s.rules, 'revision', s.revision)`;

export const streamJoins = Prisma.sql`
  JOIN characteristic c ON c.plant_id = s.plant_id AND c.id = s.characteristic_id
  JOIN product p ON p.plant_id = s.plant_id AND p.id = s.product_id
  JOIN machine m ON m.plant_id = s.plant_id AND m.id = s.machine_id
  JOIN step st ON st.plant_id = m.plant_id AND st.id = m.step_id
  JOIN line l ON l.plant_id = st.plant_id AND l.id = st.line_id
  LEFT JOIN unit u ON u.plant_id = s.plant_id AND u.id = s.unit_id
  LEFT JOIN lane la ON la.plant_id = s.plant_id AND la.id = s.lane_id`;

/** Line by line, step by step, as the cans run. */
export const streamOrder = Prisma.sql`l.position, st.position, m.code, c.name, p.code, u.position NULLS FIRST, la.position NULLS FIRST, s.id`;

/** A moment as ISO text in UTC, as every answer carries it. */
export const isoText = (column: Prisma.Sql): Prisma.Sql => Prisma.sql`to_char(${column} AT TIME ZONE 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"')`;
