import { interleaved, type BenchRow } from './measure.js';
import type { BenchServer } from './server.js';

const TURNS = 200;
const CANS = 5;
const POSITIONS = ['front', 'middle', 'back'];
const CODES = ['bench-a', 'bench-b', 'bench-c', 'bench-d'];

/** A check of five cans by three positions by four characteristics through the API, against the rows it leaves (check, four subgroups, audit and outbox rows) inserted by bare SQL in one transaction. */
export async function benchRecord({ sql, call, plantId, userId }: BenchServer): Promise<BenchRow> {
  const insert = async (statement: string, values: unknown[]) => (await sql.query<{ id: number }>(`${statement} RETURNING id`, values)).rows[0]?.id as number;
  const lineId = await insert("INSERT INTO line (plant_id, code, name, position) VALUES ($1, 'R', 'Record', 1)", [plantId]);
  const stepId = await insert("INSERT INTO step (plant_id, line_id, kind, position) VALUES ($1, $2, 'body-maker', 1)", [plantId, lineId]);
  const machineIds = [await insert("INSERT INTO machine (plant_id, step_id, code, name) VALUES ($1, $2, 'R1', 'Record 1')", [plantId, stepId]), await insert("INSERT INTO machine (plant_id, step_id, code, name) VALUES ($1, $2, 'R2', 'Record 2')", [plantId, stepId])];
  const productId = await insert("INSERT INTO product (plant_id, code, name, customer, diameter, height, body_plate, end_plate, seam_profile) VALUES ($1, 'R', 'Record', 'none', 65, 100, 0.15, 0.19, 'mini')", [plantId]);
  for (const code of CODES) await insert("INSERT INTO characteristic (plant_id, code, name, unit, step_kind, gauge_step, decimals) VALUES ($1, $2, $2, 'mm', 'body-maker', 0.01, 2)", [plantId, code]);
  const began = Date.UTC(2026, 0, 1);
  const reading = (turn: number, place: number) => Math.round((0.42 + 0.01 * Math.sin(turn * 7.3 + place * 1.7)) * 100) / 100;
  const check = (machineId: number | undefined, turn: number) => JSON.stringify({
    key: `bench-${machineId}-${turn}`, machineId, productId, takenAt: new Date(began + turn * 1_800_000).toISOString(), cans: Array.from({ length: CANS }, (_, can) => ({ number: can + 1 })), positions: POSITIONS,
    characteristics: CODES.map((code, index) => ({ code, readings: Array.from({ length: CANS * POSITIONS.length }, (_, place) => reading(turn + index, place)) })),
  });
  const send = async (machineId: number | undefined, turn: number) => {
    const answer = await call('POST', '/api/checks', check(machineId, turn));
    if (answer.status !== 201) throw new Error(`POST /api/checks: ${answer.status} ${answer.text}`);
  };
  // The first check makes the streams; bare SQL then writes to those of the second machine. Limits make every later point judged.
  for (const machineId of machineIds) for (let turn = 0; turn < 12; turn += 1) await send(machineId, turn - 20);
  await sql.query("INSERT INTO limits (plant_id, stream_id, kind, centre, sigma, spread_centre, subgroups, readings, baseline_from, baseline_to, effective_from, author_id, reason) SELECT plant_id, id, 'xbar-r', 0.42, 0.01, 0.023, 20, 100, '2025-12-01', '2025-12-31', '2025-12-01', $2, 'bench' FROM stream WHERE plant_id = $1", [plantId, userId]);
  const streams = (await sql.query<{ id: number; limits_id: number }>('SELECT s.id, l.id AS limits_id FROM stream s JOIN limits l ON l.plant_id = s.plant_id AND l.stream_id = s.id WHERE s.plant_id = $1 AND s.machine_id = $2 ORDER BY s.id', [plantId, machineIds[1]])).rows;
  const bare = async (turn: number) => {
    const at = new Date(began + turn * 1_800_000);
    await sql.query('BEGIN');
    const { rows: [row] } = await sql.query<{ id: number }>({ name: 'check', text: 'INSERT INTO "check" (plant_id, machine_id, product_id, taken_at, entered_by, inspector, can_numbers, can_unit_ids, can_lane_ids, positions, key, content_hash, source) VALUES ($1, $2, $3, $4, $5, \'bench\', \'{1,2,3,4,5}\', \'{0,0,0,0,0}\', \'{0,0,0,0,0}\', $6, $7, $7, \'entry\') RETURNING id', values: [plantId, machineIds[1], productId, at, userId, POSITIONS, `bare-${turn}`] });
    for (const [index, stream] of streams.entries()) {
      await sql.query({ name: 'subgroup', text: 'INSERT INTO subgroup (plant_id, stream_id, taken_at, sequence, check_id, cans, readings, n, mean, range, sd, low, high, limits_id) VALUES ($1, $2, $3, 1, $4, \'{0,1,2,3,4}\', $5, 5, 0.42, 0.02, 0.008, 0.41, 0.43, $6)', values: [plantId, stream.id, at, row?.id, Array.from({ length: 15 }, (_, place) => reading(turn + index, place)), stream.limits_id] });
    }
    await sql.query({ name: 'audit', text: 'INSERT INTO audit_row (plant_id, user_id, actor, action, subject, after) VALUES ($1, $2, \'bench\', \'readings.recorded\', $3, $4)', values: [plantId, userId, `check ${row?.id}`, { checks: 1 }] });
    for (const stream of streams) await sql.query({ name: 'outbox', text: 'INSERT INTO outbox_row (plant_id, kind, payload) VALUES ($1, \'stream.changed\', $2)', values: [plantId, { streamId: stream.id }] });
    await sql.query('COMMIT');
  };
  const { base, cost } = await interleaved(TURNS, 30, bare, (turn) => send(machineIds[0], turn));
  return { name: 'recording a check of 5 cans x 3 positions x 4 characteristics through the API, to bare SQL inserts of the same rows', ratio: cost / base, aim: 4, detail: `${cost.toFixed(2)} ms to ${base.toFixed(2)} ms, p50 of ${TURNS}` };
}
