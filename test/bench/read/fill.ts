import type pg from 'pg';
import type { BenchServer } from '../server.js';

const LINES = 10;
const MACHINES = 4;
const OF_MACHINE = 3;
const DRAWN = 5;
/** A year of half hours. */
const YEAR = 17_520;
const HALF_HOUR_MS = 1_800_000;
const BODIES_A_MINUTE = 600;
const EVERY_BODY = 100_000_000;

export type Filled = { streams: { id: number; characteristic: number }[]; from: Date; to: Date; subgroups: number; /** Some streams reach back a whole year on every scale, for drawing. */ drawn: { ids: number[]; from: Date; subgroups: number }; benchReadings: number; bodies: number };

/**
 * Ten lines of four machines with three characteristics each: a check each half hour of a year on every machine, frozen limits, signals, open ones
 * among them, counted production and check plans; and every-body readings, by the minute in chunks. `scale` 1 is the full size; a smaller one ends
 * at the same moment and begins later.
 */
export async function fill({ sql, plantId, userId }: BenchServer, scale: number, say: (line: string) => void): Promise<Filled> {
  const moments = Math.max(1000, Math.round(YEAR * scale));
  const to = new Date(Math.floor(Date.now() / HALF_HOUR_MS) * HALF_HOUR_MS);
  const from = new Date(to.getTime() - (moments - 1) * HALF_HOUR_MS);
  const run = (text: string, values: unknown[] = []) => sql.query(text, values);
  await run('SET synchronous_commit = off');
  const product = await one(sql, "INSERT INTO product (plant_id, code, name, customer, diameter, height, body_plate, end_plate, seam_profile) VALUES ($1, 'READ', 'Read', 'none', 65, 100, 0.15, 0.19, 'mini') RETURNING id", [plantId]);
  await run("INSERT INTO line (plant_id, code, name, position) SELECT $1, 'R' || n, 'Line ' || n, n FROM generate_series(1, $2::int) n", [plantId, LINES]);
  await run("INSERT INTO step (plant_id, line_id, kind, position) SELECT plant_id, id, kind, place FROM line CROSS JOIN unnest(ARRAY['body-maker', 'flanger', 'tester', 'seamer']) WITH ORDINALITY k(kind, place) WHERE plant_id = $1", [plantId]);
  await run("INSERT INTO machine (plant_id, step_id, code, name) SELECT s.plant_id, s.id, l.code || '-' || s.position, s.kind || ' of ' || l.name FROM step s JOIN line l ON l.plant_id = s.plant_id AND l.id = s.line_id WHERE s.plant_id = $1", [plantId]);
  await run("INSERT INTO characteristic (plant_id, code, name, unit, step_kind, gauge_step, decimals) SELECT $1, kind || '-' || n, 'Read ' || kind || ' ' || n, 'mm', kind, 0.01, 2 FROM unnest(ARRAY['body-maker', 'flanger', 'tester', 'seamer']) kind CROSS JOIN generate_series(1, $2::int) n", [plantId, OF_MACHINE]);
  await run(`INSERT INTO stream (plant_id, characteristic_id, product_id, machine_id, chart_kind, basis, rules) SELECT m.plant_id, c.id, $2, m.id, 'xbar-r', 'reading', '{beyond-limits,two-of-three,four-of-five,eight-in-a-row}'
    FROM machine m JOIN step s ON s.plant_id = m.plant_id AND s.id = m.step_id JOIN characteristic c ON c.plant_id = s.plant_id AND c.step_kind = s.kind WHERE m.plant_id = $1`, [plantId, product]);
  await run("INSERT INTO limits (plant_id, stream_id, kind, centre, sigma, spread_centre, subgroups, readings, baseline_from, baseline_to, effective_from, author_id, reason) SELECT plant_id, id, 'xbar-r', 1, 0.02, 0.046, 25, 125, $2, $2::timestamptz + interval '12 hours', $2, $3, 'bench' FROM stream WHERE plant_id = $1", [plantId, from, userId]);
  await run("INSERT INTO check_plan (plant_id, machine_id, product_id, name, cans, positions, characteristics, every_minutes, interval_source) SELECT plant_id, id, $2, 'Read', 5, '{any}', '{}', 30, 'common practice, no source' FROM machine WHERE plant_id = $1", [plantId, product]);
  await run('INSERT INTO production_count (plant_id, machine_id, at, minutes, good, rejected) SELECT plant_id, id, $2::timestamptz - n * interval \'15 minutes\', 15, 9000, 3 FROM machine CROSS JOIN generate_series(1, 700) n WHERE plant_id = $1', [plantId, to]);
  say(`writing ${(moments * LINES * MACHINES * OF_MACHINE * 5).toLocaleString('en')} bench readings …`);
  await run(`INSERT INTO "check" (plant_id, machine_id, product_id, plan_id, taken_at, entered_by, inspector, can_numbers, can_unit_ids, can_lane_ids, positions, key, content_hash, source)
    SELECT m.plant_id, m.id, $2, a.id, $3::timestamptz + n * interval '30 minutes', $4, 'bench', '{1,2,3,4,5}', '{0,0,0,0,0}', '{0,0,0,0,0}', '{any}', 'read-' || m.id || '-' || n, 'none', 'entry' FROM machine m JOIN check_plan a ON a.plant_id = m.plant_id AND a.machine_id = m.id CROSS JOIN generate_series(0, $5::int - 1) n WHERE m.plant_id = $1`, [plantId, product, from, userId, moments]);
  const streams = (await sql.query<{ id: number; characteristic: number }>('SELECT id, characteristic_id AS characteristic FROM stream WHERE plant_id = $1 ORDER BY characteristic_id, id', [plantId])).rows;
  // Moment by moment over all streams, as they come in a plant: a stream's rows lie far apart on the disk.
  for (let place = 0; place < moments; place += 500) {
    await run(`INSERT INTO subgroup (plant_id, stream_id, taken_at, sequence, check_id, cans, readings, n, mean, range, sd, low, high, limits_id)
      SELECT s.plant_id, s.id, k.taken_at, 1, k.id, '{0,1,2,3,4}', ARRAY[v.mean - 0.02, v.mean + 0.01, v.mean, v.mean - 0.01, v.mean + 0.02], 5, v.mean, 0.04, 0.0158, v.mean - 0.02, v.mean + 0.02, f.id
      FROM "check" k JOIN stream s ON s.plant_id = k.plant_id AND s.machine_id = k.machine_id JOIN limits f ON f.plant_id = s.plant_id AND f.stream_id = s.id
      CROSS JOIN LATERAL (SELECT 1 + 0.008 * sin(extract(epoch FROM k.taken_at) * 0.0173 + s.id) AS mean) v
      WHERE k.plant_id = $1 AND k.taken_at >= $2 AND k.taken_at < $3 ORDER BY k.taken_at, s.id`, [plantId, new Date(from.getTime() + place * HALF_HOUR_MS), new Date(from.getTime() + (place + 500) * HALF_HOUR_MS)]);
  }
  const drawn = { ids: streams.slice(0, DRAWN).map(({ id }) => id), from: new Date(to.getTime() - (YEAR - 1) * HALF_HOUR_MS), subgroups: YEAR };
  await run(`INSERT INTO subgroup (plant_id, stream_id, taken_at, sequence, check_id, cans, readings, n, mean, range, sd, low, high, limits_id)
    SELECT $1, f.stream_id, at, 1, (SELECT min(id) FROM "check" WHERE plant_id = $1), '{0,1,2,3,4}', ARRAY[mean - 0.02, mean + 0.01, mean, mean - 0.01, mean + 0.02], 5, mean, 0.04, 0.0158, mean - 0.02, mean + 0.02, f.id
    FROM limits f CROSS JOIN generate_series($3::timestamptz, $4::timestamptz - interval '30 minutes', interval '30 minutes') at CROSS JOIN LATERAL (SELECT 1 + 0.008 * sin(extract(epoch FROM at) * 0.0173 + f.stream_id) AS mean) v WHERE f.plant_id = $1 AND f.stream_id = ANY($2::int[])`, [plantId, drawn.ids, drawn.from, from]);
  // One point in two hundred carries a signal; the newest one of every tenth stream is open.
  await run("INSERT INTO signal (plant_id, stream_id, chart, rule, side, fired_at, first_at, last_good_at, last_at, firings, seen, state, closed_at) SELECT g.plant_id, g.stream_id, 'mean', 'beyond-limits', 'above', g.taken_at, g.taken_at, NULL, g.taken_at, 1, '{\"limits\":null,\"points\":[]}', CASE WHEN g.stream_id % 10 = 0 AND g.taken_at > $2::timestamptz - interval '4 days' THEN 'open' ELSE 'closed' END, CASE WHEN g.stream_id % 10 = 0 AND g.taken_at > $2::timestamptz - interval '4 days' THEN NULL ELSE g.taken_at END FROM subgroup g WHERE g.plant_id = $1 AND (extract(epoch FROM g.taken_at)::bigint / 1800 + g.stream_id * 7) % 200 = 0", [plantId, to]);
  await run('INSERT INTO signal_point (plant_id, stream_id, taken_at, sequence, chart, rule, side, signal_id) SELECT plant_id, stream_id, fired_at, 1, chart, rule, side, id FROM signal WHERE plant_id = $1', [plantId]);
  const bodies = Math.round(EVERY_BODY * scale);
  say(`writing ${bodies.toLocaleString('en')} every-body readings …`);
  await fillBodies(sql, plantId, to, Math.ceil(bodies / BODIES_A_MINUTE / (2 * LINES)));
  await run('SET synchronous_commit = on');
  await run('VACUUM ANALYZE');
  const { rows: [size] } = await sql.query<{ size: string }>('SELECT pg_size_pretty(pg_database_size(current_database())) AS size');
  say(`the database has ${size?.size}`);
  return { streams, from, to, drawn, subgroups: moments, benchReadings: moments * streams.length * 5, bodies };
}

/** Two streams of each line's body maker, a chunk a minute. */
async function fillBodies(sql: pg.Client, plantId: number, to: Date, minutes: number): Promise<void> {
  for (let month = 0; month <= Math.ceil(minutes / 40_000); month += 1) await sql.query("SELECT make_body_month($1::timestamptz - $2::int * interval '28 days')", [to, month]);
  const readings = `ARRAY(SELECT (0.42 + 0.01 * random() + 0 * minute)::real FROM generate_series(1, ${BODIES_A_MINUTE}))`;
  const streams = `(SELECT s.plant_id, s.id FROM stream s JOIN machine m ON m.plant_id = s.plant_id AND m.id = s.machine_id WHERE s.plant_id = $1 AND m.code LIKE '%-1' ORDER BY s.characteristic_id, s.id LIMIT ${2 * LINES})`;
  for (let first = 0; first < minutes; first += 200) {
    await sql.query(`INSERT INTO body_chunk (plant_id, stream_id, minute, n, mean, range, sd, low, high, first_count, last_count, offsets, readings) SELECT s.plant_id, s.id, $2::timestamptz - (minute + 1) * interval '1 minute', ${BODIES_A_MINUTE}, 0.425, 0.01, 0.003, 0.42, 0.43, minute * ${BODIES_A_MINUTE}, minute * ${BODIES_A_MINUTE} + ${BODIES_A_MINUTE - 1}, '{}', ${readings} FROM ${streams} s CROSS JOIN generate_series($3::int, $4::int) minute`, [plantId, to, first, Math.min(minutes, first + 200) - 1]);
  }
}

async function one(sql: pg.Client, text: string, values: unknown[]): Promise<number> {
  return (await sql.query<{ id: number }>(text, values)).rows[0]?.id as number;
}
