import pg from 'pg';
import { afterAll, beforeAll, expect, it, vi } from 'vitest';
import { newCheck } from '#contract/inspections';
import { correctReading } from '../../apps/api/src/flows/correct-reading.js';
import { recordMonitorSubgroups } from '../../apps/api/src/flows/monitor-subgroups.js';
import { recordReadings } from '../../apps/api/src/flows/record-readings.js';
import { verifyPlant, verifyRecords } from '../../apps/api/src/flows/verify-records.js';
import { type Tx, Work } from '../../apps/api/src/platform/work.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';
import { makePlant, type TestPlant } from '../factories/plant.js';

// Each stored check has a seal in the chained audit trail: a reading that somebody changes in the tables does not fit it any more.
let database: TestDatabase;
let plant: TestPlant;
let raw: pg.Client;
const now = new Date('2026-06-01T00:00:00Z');
const actor = () => ({ plantId: plant.plantId, userId: plant.users.technician, name: 'Test technician' });
const checkOf = (index: number) => newCheck.parse({
  key: `sealed-${index}`, machineId: plant.machines.seamer, productId: plant.productId, takenAt: new Date(Date.UTC(2026, 2, 1) + index * 3_600_000).toISOString(),
  cans: plant.headIds.map((unitId, place) => ({ number: place + 1, unitId })), positions: ['60°', '180°', '300°'],
  characteristics: [
    { code: 'body-hook', gaugeId: plant.gaugeId, readings: Array.from({ length: 6 }, (_, place) => (place === 4 && index % 5 === 0 ? null : Math.round(175 + 4 * Math.sin(index * 3.1 + place)) / 100)) },
    { code: 'cover-hook', readings: Array.from({ length: 6 }, (_, place) => Math.round(170 + 4 * Math.cos(index + place)) / 100) },
    { code: 'seam-length', readings: Array.from({ length: 6 }, () => 2.6) },
  ],
});
beforeAll(async () => {
  database = await freshDatabase();
  plant = await makePlant(database.work);
  raw = new pg.Client({ connectionString: database.url });
  await raw.connect();
  for (let index = 0; index < 10; index += 1) await database.work.run((tx) => recordReadings(tx, actor(), [checkOf(index)], { now, source: 'entry' }));
  await database.work.run((tx) => recordReadings(tx, actor(), Array.from({ length: 30 }, (_, index) => checkOf(10 + index)), { now, source: 'import' }));
});
afterAll(async () => { await raw.end(); await database.close(); });

const verified = () => verifyRecords(database.work.read, plant.plantId);

it('finds every check as it was stored, one by one or in a batch, and after corrections', async () => {
  expect(await verified()).toMatchObject({ checks: 40, checkFaults: [], auditFaults: [], checksWithoutSeal: 0 });
  const [first] = await database.work.client.check.findMany({ where: { plantId: plant.plantId }, orderBy: { id: 'asc' }, take: 1 });
  const correct = (was: number, value: number) => database.work.run((tx) => correctReading(tx, actor(), first?.id ?? 0, { characteristic: 'cover-hook', can: 1, position: 2, was, value, reason: 'read twice', confirmed: false }, now));
  const readings = checkOf(0).characteristics[1]?.readings[5] ?? 0;
  await correct(readings, 1.61);
  await correct(1.61, 1.62);
  expect(await verified()).toMatchObject({ checks: 40, checkFaults: [], auditFaults: [] });
});

it('takes nothing for a fault that is being written while it reads', async () => {
  const rival = new Work(database.url, 4);
  const writing = (async () => { for (let index = 0; index < 40; index += 1) await database.work.run((tx) => recordReadings(tx, actor(), [checkOf(100 + index)], { now, source: 'entry' })); })();
  const seen: Awaited<ReturnType<typeof verifyPlant>>[] = [];
  let writes = true;
  void writing.then(() => { writes = false; });
  while (writes && seen.length < 500) seen.push(await verifyPlant(rival, plant.plantId));
  await writing;
  await rival.close();
  expect(seen.flatMap(({ auditFaults, checkFaults }) => [...auditFaults, ...checkFaults])).toEqual([]);
  expect((await verified()).checks).toBe(80);
});

it('says of checks from before the seals only how many they are', async () => {
  await raw.query("INSERT INTO \"check\" (plant_id, id, machine_id, product_id, taken_at, entered_by, inspector, can_numbers, can_unit_ids, can_lane_ids, positions, key, content_hash, source) VALUES ($1, 0, $2, $3, now(), $4, 'old', '{1}', '{0}', '{0}', '{a}', 'old-check', 'x', 'entry')", [plant.plantId, plant.machines.seamer, plant.productId, plant.users.technician]);
  expect(await verified()).toMatchObject({ checks: 81, checkFaults: [], checksWithoutSeal: 1 });
});

it('detects each of 300 random corruptions of stored readings made past the triggers, and names the check', { timeout: 240_000 }, async () => {
  let state = 7;
  const next = (below: number) => { state = (state * 48_271) % 2_147_483_647; return Math.floor((state / 2_147_483_647) * below); };
  const checks = (await database.work.client.check.findMany({ where: { plantId: plant.plantId, id: { gt: 0 } }, orderBy: { id: 'asc' } })).map((check) => check.id);
  const one = (id: number, column: string) => `UPDATE subgroup SET ${column} WHERE ctid = (SELECT ctid FROM subgroup WHERE plant_id = ${plant.plantId} AND check_id = ${id} ORDER BY stream_id OFFSET ${next(6)} LIMIT 1)`;
  const acts: ((id: number) => string)[] = [
    (id) => one(id, `readings[${1 + next(3)}] = readings[1] + ${(1 + next(9)) / 1000}`),
    (id) => one(id, `readings = readings[1:${1 + next(2)}]`),
    (id) => one(id, 'readings = array_append(readings, 1.75)'),
    (id) => one(id, `mean = mean + ${1e-12 * (1 + next(9))}`),
    (id) => one(id, 'range = coalesce(range, 0) + 0.001'),
    (id) => one(id, "taken_at = taken_at + interval '1 second'"),
    (id) => one(id, 'n = n + 1'),
    (id) => one(id, 'gauge_id = coalesce(gauge_id, 0) + 1'),
    (id) => `DELETE FROM subgroup WHERE ctid = (SELECT ctid FROM subgroup WHERE plant_id = ${plant.plantId} AND check_id = ${id} LIMIT 1)`,
    (id) => `UPDATE "check" SET inspector = 'somebody else' WHERE plant_id = ${plant.plantId} AND id = ${id}`,
    (id) => `UPDATE "check" SET skips = '[{"can": 1, "characteristic": null, "position": null, "reason": "dented"}]' WHERE plant_id = ${plant.plantId} AND id = ${id}`,
    (id) => `INSERT INTO check_count (plant_id, check_id, characteristic_id, inspected, nonconforming) VALUES (${plant.plantId}, ${id}, ${plant.characteristics['body-hook']}, 12, 1)`,
    (id) => `UPDATE "check" SET can_unit_ids[1] = can_unit_ids[2] WHERE plant_id = ${plant.plantId} AND id = ${id}`,
    (id) => `UPDATE "check" SET voided_at = now() WHERE plant_id = ${plant.plantId} AND id = ${id}`,
    (id) => `WITH gone AS (DELETE FROM subgroup WHERE plant_id = ${plant.plantId} AND check_id = ${id}) DELETE FROM "check" WHERE plant_id = ${plant.plantId} AND id = ${id}`,
    (id) => `UPDATE "check" SET id = 900000 WHERE plant_id = ${plant.plantId} AND id = ${id}`,
  ];
  // One connection, so that the corruption can be rolled back after it was looked at.
  const single = new Work(database.url, 1);
  const missed: string[] = [];
  for (let round = 0; round < 300; round += 1) {
    const id = checks[next(checks.length)] as number;
    const act = (acts[round % acts.length] as (id: number) => string)(id);
    const undo = new Error('undo');
    await single.run(async (tx) => {
      await tx.$executeRawUnsafe("SET LOCAL session_replication_role = 'replica'");
      const touched = await tx.$executeRawUnsafe(act);
      const found = await verifyRecords(tx, plant.plantId);
      if (touched !== 1 || !found.checkFaults.some((fault) => fault.checkId === id || fault.checkId === 900_000)) missed.push(`${act} (${touched} rows)`);
      throw undo;
    }).catch((error: unknown) => { if (error !== undo) throw error; });
  }
  await single.close();
  expect(missed).toEqual([]);
  expect(await verified()).toMatchObject({ checks: 81, checkFaults: [], auditFaults: [] });
});

it('finds a check of a monitor as it was sealed, though two feeds of its machine add to it at the same time', async () => {
  const at = Date.UTC(2026, 3, 1, 8);
  const feed = { ...actor(), name: 'feed of a test' };
  const bring = (lane: 'A' | 'B', second: number) => (tx: Tx) => recordMonitorSubgroups(tx, feed, [{ stream: { characteristicId: plant.characteristics['weld-overlap'], productId: plant.productId, machineId: plant.machines.bodyMaker, laneId: plant.laneIds[lane], unitId: null }, at: at + second * 1000, readings: [0.41, 0.42, 0.43] }], now);
  const before = await verified();
  for (const lane of ['A', 'B'] as const) await database.work.run(bring(lane, 1));
  let second: Promise<void> | undefined;
  await database.work.run(async (tx) => {
    await bring('A', 20)(tx);
    second = database.work.run(bring('B', 30));
    await Promise.race([second, vi.waitFor(async () => { expect((await raw.query('SELECT 1 FROM pg_locks WHERE NOT granted')).rowCount).toBeGreaterThan(0); }, 15_000)]);
  });
  await second;
  expect(await database.work.client.check.count({ where: { plantId: plant.plantId, source: 'monitor' } })).toBe(1);
  const after = await verified();
  expect({ ...after, checks: after.checks - 1 }).toMatchObject({ checks: before.checks, checkFaults: [], auditFaults: [] });
});
