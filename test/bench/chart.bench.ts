import { interleaved, type BenchRow } from './measure.js';
import type { BenchServer } from './server.js';

const TURNS = 200;
const STREAMS = 100;
const SUBGROUPS = 20_000;

/** The chart answer of 500 subgroups out of ten million readings through HTTP, against the bare prepared query for the same points. */
export async function benchChart({ sql, call, plantId, userId }: BenchServer): Promise<BenchRow> {
  const insert = async (statement: string, values: unknown[]) => (await sql.query<{ id: number }>(`${statement} RETURNING id`, values)).rows[0]?.id as number;
  const lineId = await insert("INSERT INTO line (plant_id, code, name, position) VALUES ($1, 'C', 'Chart', 2)", [plantId]);
  const stepId = await insert("INSERT INTO step (plant_id, line_id, kind, position) VALUES ($1, $2, 'seamer', 1)", [plantId, lineId]);
  const machineId = await insert("INSERT INTO machine (plant_id, step_id, code, name) VALUES ($1, $2, 'C1', 'Chart 1')", [plantId, stepId]);
  const productId = await insert("INSERT INTO product (plant_id, code, name, customer, diameter, height, body_plate, end_plate, seam_profile) VALUES ($1, 'C', 'Chart', 'none', 65, 100, 0.15, 0.19, 'mini')", [plantId]);
  const characteristicId = await insert("INSERT INTO characteristic (plant_id, code, name, unit, step_kind, gauge_step, decimals) VALUES ($1, 'bench-chart', 'Bench chart', 'mm', 'seamer', 0.01, 2)", [plantId]);
  await sql.query('INSERT INTO unit (plant_id, machine_id, code, position) SELECT $1, $2, \'U\' || n, n FROM generate_series(1, $3::int) AS n', [plantId, machineId, STREAMS]);
  await sql.query("INSERT INTO stream (plant_id, characteristic_id, product_id, machine_id, unit_id, chart_kind, basis, rules) SELECT $1, $2, $3, $4, id, 'xbar-r', 'reading', '{beyond-limits,two-of-three,four-of-five,eight-in-a-row}' FROM unit WHERE plant_id = $1 AND machine_id = $4", [plantId, characteristicId, productId, machineId]);
  await sql.query("INSERT INTO limits (plant_id, stream_id, kind, centre, sigma, spread_centre, subgroups, readings, baseline_from, baseline_to, effective_from, author_id, reason) SELECT plant_id, id, 'xbar-r', 1, 0.02, 0.046, 20, 100, '2024-01-01', '2024-02-01', '2024-01-01', $2, 'bench' FROM stream WHERE plant_id = $1 AND machine_id = $3", [plantId, userId, machineId]);
  const checkId = await insert("INSERT INTO \"check\" (plant_id, machine_id, product_id, taken_at, entered_by, inspector, can_numbers, can_unit_ids, can_lane_ids, positions, key, content_hash, source) VALUES ($1, $2, $3, now(), $4, 'bench', '{1}', '{0}', '{0}', '{any}', 'chart-bench', 'none', 'entry')", [plantId, machineId, productId, userId]);
  await sql.query(`INSERT INTO subgroup (plant_id, stream_id, taken_at, sequence, check_id, cans, readings, n, mean, range, sd, low, high, limits_id)
    SELECT s.plant_id, s.id, timestamptz '2024-01-01' + n * interval '30 minutes', 1, $2, '{0}', ARRAY[1.00, 1.01, 0.99, 1.02, 0.98] , 5, 1 + 0.012 * sin(n * 1.7 + s.id), 0.04, 0.0158, 0.98, 1.02, l.id
    FROM stream s JOIN limits l ON l.plant_id = s.plant_id AND l.stream_id = s.id CROSS JOIN generate_series(1, $3::int) AS n WHERE s.plant_id = $1 AND s.machine_id = $4`, [plantId, checkId, SUBGROUPS, machineId]);
  await sql.query('VACUUM ANALYZE');
  const streams = (await sql.query<{ id: number }>('SELECT id FROM stream WHERE plant_id = $1 AND machine_id = $2 ORDER BY id', [plantId, machineId])).rows.map((row) => row.id);
  const streamOf = (turn: number) => streams[(turn * 37) % streams.length];
  const { base, cost } = await interleaved(TURNS, 30,
    async (turn) => {
      const answer = await sql.query({ name: 'points', text: 'SELECT taken_at, n, mean, range, sd FROM subgroup WHERE plant_id = $1 AND stream_id = $2 ORDER BY taken_at DESC, sequence DESC LIMIT 500', values: [plantId, streamOf(turn)] });
      if (answer.rowCount !== 500) throw new Error(`the bare query answered ${answer.rowCount} points`);
    },
    async (turn) => {
      const answer = await call('GET', `/api/charts/${streamOf(turn)}?last=500`);
      if (answer.status !== 200) throw new Error(`GET /api/charts: ${answer.status} ${answer.text.slice(0, 300)}`);
      if (turn === 0 && (JSON.parse(answer.text) as { points?: { mean?: unknown[] } }).points?.mean?.length !== 500) throw new Error('the chart answer does not hold 500 points');
    });
  return { name: 'the chart answer of 500 subgroups out of 10,000,000 readings, to the bare prepared query', ratio: cost / base, aim: 3, detail: `${cost.toFixed(2)} ms to ${base.toFixed(2)} ms, p50 of ${TURNS}` };
}
