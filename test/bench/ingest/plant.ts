import type pg from 'pg';

export type BenchPlant = { plantId: number; userId: number; productId: number; machineIds: number[]; characteristicIds: number[] };

/** A plant with so many welders and so many measured characteristics, nothing else. */
export async function makeBenchPlant(sql: pg.Client, machines: number, channels: number): Promise<BenchPlant> {
  const ids = async (statement: string, values: unknown[]) => (await sql.query<{ id: number }>(`${statement} RETURNING id`, values)).rows.map(({ id }) => id);
  const id = async (statement: string, values: unknown[]) => (await ids(statement, values))[0] as number;
  const plantId = await id("INSERT INTO plant (name, time_zone) VALUES ('Bench plant', 'UTC')", []);
  const userId = await id("INSERT INTO \"user\" (plant_id, login, name, role, password_hash) VALUES ($1, 'bench', 'Bench engineer', 'engineer', 'none')", [plantId]);
  const lineId = await id("INSERT INTO line (plant_id, code, name, position) VALUES ($1, 'L', 'Line', 1)", [plantId]);
  const stepId = await id("INSERT INTO step (plant_id, line_id, kind, position) VALUES ($1, $2, 'body-maker', 1)", [plantId, lineId]);
  const machineIds = await ids("INSERT INTO machine (plant_id, step_id, code, name) SELECT $1, $2, 'W' || i, 'Welder ' || i FROM generate_series(1, $3::int) i", [plantId, stepId, machines]);
  const productId = await id("INSERT INTO product (plant_id, code, name, customer, diameter, height, body_plate, end_plate, seam_profile) VALUES ($1, 'P', 'Can', 'none', 65, 100, 0.15, 0.19, 'mini')", [plantId]);
  const characteristicIds = await ids("INSERT INTO characteristic (plant_id, code, name, unit, step_kind, gauge_step, decimals, chart_kind, basis, plausible_low, plausible_high) SELECT $1, 'c' || i, 'Channel ' || i, 'mm', 'body-maker', 0.001, 3, 'xbar-r', 'reading', 0, 10 FROM generate_series(1, $2::int) i", [plantId, channels]);
  return { plantId, userId, productId, machineIds, characteristicIds };
}

/** One topic a machine, one channel a characteristic: the first five of every 65 bodies are a subgroup, so ten a minute. */
export async function mapBenchFeed(sql: pg.Client, plant: BenchPlant, url: string, every: number): Promise<number> {
  const { rows: [feed] } = await sql.query<{ id: number }>("INSERT INTO feed (plant_id, name, url, client_id, protocol, made_by) VALUES ($1, 'Bench', $2, 'seamledger-bench', 4, $3) RETURNING id", [plant.plantId, url, plant.userId]);
  const mapping = {
    kind: 'readings', each: null, time: { pointer: '/at', format: 'milliseconds' }, count: '/body', product: null, subgroup: { size: 5, every },
    channels: plant.characteristicIds.map((characteristicId, index) => ({ value: `/v/${index}`, characteristicId, laneId: null, unitId: null, factor: 1 })),
  };
  for (const [index, machineId] of plant.machineIds.entries()) await sql.query("INSERT INTO feed_topic (plant_id, feed_id, filter, machine_id, product_id, late_hours, clock_seconds, clock_policy, mapping) VALUES ($1, $2, $3, $4, $5, 72, 300, 'quarantine', $6)", [plant.plantId, feed?.id, `bench/${index}`, machineId, plant.productId, mapping]);
  return feed?.id as number;
}
