import fc from 'fast-check';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { insertChecks } from '../../apps/api/src/inspections/checks.store.js';
import { insertSubgroups, type NewSubgroup } from '../../apps/api/src/inspections/subgroups.store.js';
import { floatArrayBytes } from '../../apps/api/src/platform/array-bytes.js';
import { Work } from '../../apps/api/src/platform/work.js';
import { insertStreams, lockStreams } from '../../apps/api/src/specifications/streams.store.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';
import { makePlant, type TestPlant } from '../factories/plant.js';

// What the form has to be, PostgreSQL says by reading it.
let database: TestDatabase;
let plant: TestPlant;
let pooled: Work;
beforeAll(async () => {
  database = await freshDatabase();
  plant = await makePlant(database.work);
  pooled = new Work(`${database.url}?pgbouncer=true`, 2);
});
afterAll(async () => {
  await pooled.close();
  await database.close();
});

const number = fc.option(fc.double({ noNaN: true, noDefaultInfinity: true }));

it('is read by PostgreSQL number by number, by each way that a statement can take', async () => {
  await fc.assert(fc.asyncProperty(fc.array(fc.array(number, { maxLength: 6 }), { maxLength: 6 }), fc.constantFrom('read', 'named', 'pooled'), async (lists, way) => {
    const bytes = floatArrayBytes(lists);
    const rows = way === 'pooled' ? await pooled.client.$queryRaw<{ value: number }[]>`SELECT value FROM unnest(${bytes}::float8[]) WITH ORDINALITY AS u(value, place) ORDER BY place`
      : way === 'named' ? await database.work.run((tx) => tx.$queryRaw<{ value: number }[]>`/* named: read-back */ SELECT value FROM unnest(${bytes}::float8[]) WITH ORDINALITY AS u(value, place) ORDER BY place`)
        : await database.work.read.$queryRaw<{ value: number }[]>`SELECT value FROM unnest(${bytes}::float8[]) WITH ORDINALITY AS u(value, place) ORDER BY place`;
    expect(rows.map(({ value }) => (Number.isNaN(Number(value)) || value === null ? null : Number(value)))).toEqual(lists.flat().map((value) => (value === null ? null : value + 0)));
  }), { numRuns: 60, seed: 20261126 });
});

it('keeps each subgroup its own numbers, whatever the others of the statement hold', async () => {
  const shape = fc.record({ cans: fc.integer({ min: 1, max: 5 }), readings: fc.array(number, { minLength: 1, maxLength: 8 }), mean: number, range: number, sd: number, low: number, high: number, formula: fc.option(fc.constantFrom('a "b"', 'c')) });
  let made = 0;
  await fc.assert(fc.asyncProperty(fc.array(shape, { minLength: 1, maxLength: 5 }), fc.boolean(), async (shapes, behindPooler) => {
    const identity = { characteristicId: plant.characteristics['weld-overlap'], productId: plant.productId, machineId: plant.machines.bodyMaker, laneId: null, unitId: null };
    const taken = new Date(Date.UTC(2026, 2, 1) + made * 60_000);
    made += 1;
    const stored = await (behindPooler ? pooled : database.work).run(async (tx) => {
      const { plantId } = plant;
      await insertStreams(tx, plantId, [identity]);
      const [stream] = await lockStreams(tx, plantId, [identity]);
      const [checkId] = await insertChecks(tx, plantId, [{ planId: null, machineId: identity.machineId, productId: identity.productId, takenAt: taken, enteredAt: taken, enteredBy: plant.users.engineer, feed: null, inspector: 'test', cans: [{ number: 1, unitId: null, laneId: null }], positions: ['middle'], key: `array ${made}`, contentHash: 'none', source: 'entry', importId: null, note: null, begunAt: null, finishedAt: null, skips: [], secondReadings: [] }]);
      const subgroups = shapes.map(({ cans, ...rest }, index): NewSubgroup => ({ ...rest, streamId: stream?.id ?? 0, takenAt: taken, sequence: index + 1, checkId: checkId ?? 0, cans: Array.from({ length: cans }, (_, can) => can + index), n: rest.readings.length, gaugeId: null, limitsId: null }));
      await insertSubgroups(tx, plantId, subgroups);
      return tx.$queryRaw<Record<string, unknown>[]>`SELECT to_json(cans) AS cans, array_to_json(readings) AS readings, mean, range, sd, low, high, formula, n FROM subgroup WHERE plant_id = ${plantId} AND check_id = ${checkId} ORDER BY sequence`;
    });
    const plain = (value: number | null) => (value === null ? null : value + 0);
    expect(stored).toEqual(shapes.map((entry, index) => ({
      cans: Array.from({ length: entry.cans }, (_, can) => can + index), readings: entry.readings.map(plain), mean: plain(entry.mean), range: plain(entry.range), sd: plain(entry.sd), low: plain(entry.low), high: plain(entry.high), formula: entry.formula, n: entry.readings.length,
    })));
  }), { numRuns: 60, seed: 20261126 });
});
