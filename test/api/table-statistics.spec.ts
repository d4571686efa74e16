import { afterAll, beforeAll, expect, it } from 'vitest';
import { countForPlanner } from '../../apps/api/src/platform/table-statistics.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';
import { makePlant, type TestPlant } from '../factories/plant.js';

let database: TestDatabase;
let plant: TestPlant;
let made = 0;
beforeAll(async () => {
  database = await freshDatabase();
  plant = await makePlant(database.work);
  // What is counted here is counted by nobody else meanwhile.
  await database.work.client.$executeRaw`ALTER TABLE "check" SET (autovacuum_enabled = false)`;
  await database.work.client.$executeRaw`ALTER TABLE subgroup SET (autovacuum_enabled = false)`;
});
afterAll(() => database.close());

async function add(checks: number): Promise<void> {
  await database.work.client.$executeRaw`
    INSERT INTO "check" (plant_id, machine_id, product_id, taken_at, entered_by, inspector, can_numbers, can_unit_ids, can_lane_ids, positions, key, content_hash, source)
    SELECT ${plant.plantId}, ${plant.machines.bodyMaker}, ${plant.productId}, '2026-03-02'::timestamptz + n * interval '1 minute', ${plant.users.engineer}, 'test', '{1}', '{0}', '{0}', '{middle}', 'counted ' || n, 'none', 'entry'
    FROM generate_series(${made}::int, ${made + checks - 1}::int) n`;
  made += checks;
}
/** How many rows PostgreSQL takes the tables to have; -1: it has never counted. */
async function counted(): Promise<Record<string, number>> {
  const rows = await database.work.client.$queryRaw<{ name: string; rows: number }[]>`SELECT relname::text AS name, reltuples::int AS rows FROM pg_class WHERE oid IN ('"check"'::regclass, 'subgroup'::regclass)`;
  return Object.fromEntries(rows.map(({ name, rows: count }) => [name, count]));
}

it('counts a table when it has grown fourfold since it was last counted, and no other', async () => {
  await countForPlanner(database.work.read);
  expect(await counted()).toEqual({ check: -1, subgroup: -1 });
  await add(500);
  await countForPlanner(database.work.read);
  expect(await counted()).toEqual({ check: 500, subgroup: -1 });
  await add(500);
  await countForPlanner(database.work.read);
  expect(await counted(), 'twice as large is not enough').toEqual({ check: 500, subgroup: -1 });
  await add(1500);
  await countForPlanner(database.work.read);
  expect(await counted()).toEqual({ check: 2500, subgroup: -1 });
});
