import { afterAll, beforeAll, expect, it, vi } from 'vitest';
import { setBodyRetention } from '#contract/monitors';
import { makeBodyMonths, upsertChunks } from '../../apps/api/src/monitors/body-chunks.store.js';
import { MonitorsWorker } from '../../apps/api/src/flows/monitors.worker.js';
import { dropOldBodies } from '../../apps/api/src/monitors/drop-old-bodies.js';
import { startApi, type TestApi } from '../db/api.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';
import { makePlant, type TestPlant } from '../factories/plant.js';

let database: TestDatabase;
let api: TestApi;
let plant: TestPlant;
let streamId: number;
const NOW = new Date('2026-06-20T12:00:00Z');
const at = (text: string) => Date.parse(`2026-${text}:00Z`);

beforeAll(async () => {
  database = await freshDatabase();
  plant = await makePlant(database.work);
  api = await startApi(database);
  streamId = (await database.work.client.stream.create({ data: { plantId: plant.plantId, characteristicId: plant.characteristics['weld-overlap'], productId: plant.productId, machineId: plant.machines.bodyMaker, chartKind: 'xbar-r', basis: 'reading', rules: [] } })).id;
});
afterAll(async () => { await api.close(); await database.close(); });

const chunk = (plantId: number, stream: number, minute: number) => database.work.run(async (tx) => {
  await makeBodyMonths(tx, [new Date(minute)]);
  await upsertChunks(tx, plantId, [{ streamId: stream, minute, part: 0, n: 2, mean: 0.42, range: 0.02, sd: 0.01, low: 0.41, high: 0.43, firstCount: 1, lastCount: 2, offsets: [], readings: [0.41, 0.43] }]);
});
const minutes = async () => (await database.work.client.bodyChunk.findMany({ where: { plantId: plant.plantId }, select: { minute: true }, orderBy: { minute: 'asc' } })).map(({ minute }) => minute.toISOString().slice(5, 16));
const partitions = async () => (await database.work.client.$queryRaw<{ name: string }[]>`SELECT c.relname AS name FROM pg_inherits i JOIN pg_class c ON c.oid = i.inhrelid WHERE i.inhparent = 'body_chunk'::regclass ORDER BY 1`).map(({ name }) => name);

it('drops whole months that are older than the plant keeps them, and copies out first what a signal or an incident rests on', async () => {
  for (const minute of ['03-10T08:00', '03-12T08:00', '03-20T08:00', '04-30T23:59', '05-01T00:00', '06-20T11:00']) await chunk(plant.plantId, streamId, at(minute));
  expect(await dropOldBodies(database.work, NOW)).toEqual([]);
  await database.work.client.signal.create({ data: { plantId: plant.plantId, streamId, chart: 'mean', rule: 'beyond-limits', side: 'above', firedAt: new Date(at('03-10T08:30')), firstAt: new Date(at('03-10T08:30')), lastAt: new Date(at('03-10T08:30')), seen: {} } });
  await database.work.client.incident.create({ data: { plantId: plant.plantId, kind: 'complaint', customer: 'Test', productId: plant.productId, lineId: plant.lineId, canCode: 'X', madeAt: new Date(at('03-12T20:00')), receivedAt: new Date(at('04-01T00:00')), cansComplained: 1, cansExamined: 0, leakPlace: 'unknown', defect: 'unknown', description: '', loggedBy: plant.users.engineer } });
  expect((await api.as('engineer').call(setBodyRetention, { body: { keepDays: 40 } })).status).toBe(200);
  expect((await api.as('technician').call(setBodyRetention, { body: { keepDays: null } })).status).toBe(403);

  expect(await dropOldBodies(database.work, NOW)).toEqual([{ plantId: plant.plantId, month: '2026-03', kept: 2 }, { plantId: plant.plantId, month: '2026-04', kept: 0 }]);
  expect(await minutes()).toEqual(['05-01T00:00', '06-20T11:00']);
  expect(await partitions()).toEqual(['body_chunk_2026_05', 'body_chunk_2026_06']);
  const kept = await database.work.client.$queryRaw<{ minute: Date; why: string; readings: string }[]>`SELECT minute, why, readings::text AS readings FROM body_chunk_kept ORDER BY minute`;
  expect(kept.map(({ minute, why, readings }) => [minute.getTime(), why.replace(/\d+/, 'n'), readings])).toEqual([[at('03-10T08:00'), 'signal n', '{0.41,0.43}'], [at('03-12T08:00'), 'incident n', '{0.41,0.43}']]);
  expect(await dropOldBodies(database.work, NOW)).toEqual([]);
});

it('keeps what a legal hold covers, by product, customer, incident and span, until it is lifted', async () => {
  const held = async (given: object, lifted = false) => database.work.client.legalHold.create({ data: { plantId: plant.plantId, name: 'Claim', reason: 'counsel asked', placedBy: 'Test manager', placedAt: NOW, ...given, ...(lifted ? { liftedBy: 'Test administrator', liftedAt: NOW, liftReason: 'settled' } : {}) } });
  const customer = (await database.work.client.product.findFirstOrThrow({ where: { id: plant.productId } })).customer;
  const incident = await database.work.client.incident.create({ data: { plantId: plant.plantId, kind: 'complaint', customer, productId: plant.productId, lineId: plant.lineId, canCode: 'Y', madeAt: new Date(at('01-20T12:00')), receivedAt: NOW, cansComplained: 1, cansExamined: 0, leakPlace: 'unknown', defect: 'unknown', description: '', loggedBy: plant.users.engineer } });
  for (const minute of ['01-02T08:00', '01-05T08:00', '01-09T08:00', '01-14T08:00', '01-26T08:00', '01-30T08:00']) await chunk(plant.plantId, streamId, at(minute));
  await held({ customer: 'Somebody else' });
  await held({ customer, fromAt: new Date(at('01-05T00:00')), untilAt: new Date(at('01-06T00:00')) });
  await held({ productId: plant.productId, fromAt: new Date(at('01-30T00:00')) });
  await held({ productId: plant.productId, fromAt: new Date(at('01-02T00:00')) }, true);
  await held({ incidentId: incident.id, untilAt: new Date(at('01-25T00:00')) });
  expect(await dropOldBodies(database.work, NOW)).toEqual([{ plantId: plant.plantId, month: '2026-01', kept: 3 }]);
  const kept = await database.work.client.bodyChunkKept.findMany({ where: { minute: { lt: new Date(at('02-01T00:00')) } }, orderBy: { minute: 'asc' } });
  expect(kept.map(({ minute, why }) => [minute.getTime(), why.replace(/\d+/, 'n')])).toEqual([[at('01-05T08:00'), 'legal hold n'], [at('01-14T08:00'), 'legal hold n'], [at('01-30T08:00'), 'legal hold n']]);
});

it('leaves another plant’s readings of the same month alone', async () => {
  const other = await database.work.client.plant.create({ data: { name: 'Other plant', timeZone: 'UTC' } });
  await database.work.client.$executeRaw`INSERT INTO product SELECT ${other.id}, id, code, name, customer, diameter, height, body_plate, end_plate, seam_profile, overlap_factor FROM product WHERE plant_id = ${plant.plantId}`;
  await database.work.client.$executeRaw`INSERT INTO characteristic (plant_id, id, code, name, unit, step_kind, gauge_step, decimals) SELECT ${other.id}, id, code, name, unit, step_kind, gauge_step, decimals FROM characteristic WHERE plant_id = ${plant.plantId}`;
  await database.work.client.$executeRaw`INSERT INTO line (plant_id, id, code, name, position) SELECT ${other.id}, id, code, name, position FROM line WHERE plant_id = ${plant.plantId}`;
  await database.work.client.$executeRaw`INSERT INTO step (plant_id, id, line_id, kind, position) SELECT ${other.id}, id, line_id, kind, position FROM step WHERE plant_id = ${plant.plantId}`;
  await database.work.client.$executeRaw`INSERT INTO machine (plant_id, id, step_id, code, name) SELECT ${other.id}, id, step_id, code, name FROM machine WHERE plant_id = ${plant.plantId}`;
  const { id } = await database.work.client.stream.create({ data: { plantId: other.id, characteristicId: plant.characteristics['weld-overlap'], productId: plant.productId, machineId: plant.machines.bodyMaker, chartKind: 'xbar-r', basis: 'reading', rules: [] } });
  for (const [plantId, stream] of [[plant.plantId, streamId], [other.id, id]] as const) await chunk(plantId, stream, at('02-03T08:00'));
  expect(await dropOldBodies(database.work, NOW)).toMatchObject([{ plantId: plant.plantId, month: '2026-02' }]);
  expect(await database.work.client.bodyChunk.count({ where: { plantId: other.id } })).toBe(1);
  expect(await minutes()).toEqual(['05-01T00:00', '06-20T11:00']);
});

it('drops by itself, gives its feeds back while a month is still being dropped, and clears the quarantine of a feed that is switched off', { timeout: 120_000 }, async () => {
  const feed = async (name: string, enabled: boolean) => (await database.work.client.feed.create({ data: { plantId: plant.plantId, name, url: 'mqtt://127.0.0.1:1', clientId: name, protocol: 4, enabled, madeBy: plant.users.engineer } })).id;
  const [running, off] = [await feed('running', true), await feed('off', false)];
  const old = new Date(NOW.getTime() - 95 * 86_400_000);
  await database.work.client.feedQuarantine.create({ data: { plantId: plant.plantId, feedId: off, topic: 'x', payload: Buffer.from('1'), sha256: '1', firstAt: old, lastAt: old, reason: 'r' } });
  await chunk(plant.plantId, streamId, at('03-30T08:00'));
  const ownerOf = async () => (await database.work.client.feedState.findFirst({ where: { feedId: running } }))?.owner ?? null;
  const waits = async () => (await database.work.client.$queryRaw<unknown[]>`SELECT 1 FROM pg_locks WHERE relation = 'legal_hold'::regclass AND NOT granted`).length;
  const worker = new MonitorsWorker(database.work, { now: () => NOW });
  let stopping: Promise<void> | undefined;
  await database.work.run(async (tx) => {
    await tx.$executeRaw`LOCK TABLE legal_hold IN ROW EXCLUSIVE MODE`;
    worker.start();
    await vi.waitFor(async () => { expect([await ownerOf(), await waits(), await database.work.client.feedQuarantine.count({ where: { feedId: off } })]).toEqual([expect.any(String), 1, 0]); }, 30_000);
    stopping = worker.stop();
    await vi.waitFor(async () => { expect(await ownerOf()).toBeNull(); }, 30_000);
    expect([await waits(), await partitions()]).toEqual([1, expect.arrayContaining(['body_chunk_2026_03'])]);
  }, 100_000);
  await stopping;
  expect(await partitions()).not.toContain('body_chunk_2026_03');
});
