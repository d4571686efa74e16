import { afterAll, beforeAll, expect, it } from 'vitest';
import { correctReading as correctReadingEndpoint, newCheck, recordCheck } from '#contract/inspections';
import { listReviews, listSignatures, signRecords, verifyRecordsEndpoint } from '#contract/records';
import { correctReading } from '../../apps/api/src/flows/correct-reading.js';
import { recordReadings } from '../../apps/api/src/flows/record-readings.js';
import { signWithin } from '../../apps/api/src/flows/sign-records.js';
import { startApi, type TestApi } from '../db/api.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';
import { givePasswords, PASSWORD } from '../factories/passwords.js';
import { makePlant, type TestPlant } from '../factories/plant.js';

// Signatures and the review by a second person, as 21 CFR 11.50, 11.70 and 11.200 describe them.
let database: TestDatabase;
let plant: TestPlant;
let api: TestApi;
beforeAll(async () => {
  database = await freshDatabase();
  plant = await makePlant(database.work);
  api = await startApi(database);
  await givePasswords(database, plant);
});
afterAll(async () => { await api.close(); await database.close(); });

let keys = 0;
async function check(by: 'technician' | 'engineer', takenAt: string): Promise<number> {
  keys += 1;
  const reply = await api.as(by).call(recordCheck, { body: { key: `records-${keys}`, machineId: plant.machines.seamer, productId: plant.productId, takenAt, cans: [{ number: 1, unitId: plant.headIds[0] }], positions: ['60°', '180°', '300°'], characteristics: [{ code: 'body-hook', readings: [1.75, 1.76, 1.74] }] } });
  expect(reply.status).toBe(201);
  return reply.body.checkId;
}
const record = async (recordId: number) => { const { contentHash } = (await api.as('engineer').call(listSignatures, { query: { kind: 'check', recordId } })).body; return { kind: 'check' as const, recordId, contentHash }; };
const sign = (by: 'engineer' | 'manager', records: { kind: 'check'; recordId: number; contentHash: string }[], password = PASSWORD) => api.as(by).call(signRecords, { body: { records, meaning: 'reviewed', password, comment: 'compared with the bench sheet' } });

it('lists what waits for a review by days of the plant, oldest first, and signs it by a second person', async () => {
  // 23:30 UTC in summer is the next day in Lisbon (UTC+1).
  const [late, early] = [await check('technician', '2026-06-02T23:30:00Z'), await check('technician', '2026-06-02T09:00:00Z')];
  const before = (await api.as('engineer').call(listReviews, { query: {} })).body;
  expect(before.days).toEqual([{ day: '2026-06-02', waiting: 1 }, { day: '2026-06-03', waiting: 1 }]);
  expect(before.entries.map((entry) => entry.checkId)).toEqual([early, late]);
  expect((await api.as('engineer').call(listReviews, { query: { day: '2026-06-03' } })).body.entries.map((entry) => entry.checkId)).toEqual([late]);
  expect(before.entries[0]).toMatchObject({ enteredBy: { name: 'Test technician' }, subgroups: 1, outsideSpecification: 0, corrected: false, reviewedBefore: false });

  const reply = await sign('engineer', before.entries.map((entry) => ({ kind: 'check', recordId: entry.checkId, contentHash: entry.contentHash })));
  expect(reply).toMatchObject({ status: 201, body: { signed: 2 } });
  expect((await api.as('engineer').call(listReviews, { query: {} })).body).toEqual({ days: [], entries: [] });
  const { signatures } = (await api.as('manager').call(listSignatures, { query: { kind: 'check', recordId: early } })).body;
  expect(signatures).toMatchObject([{ printedName: 'Test engineer', role: 'engineer', meaning: 'reviewed', comment: 'compared with the bench sheet', covers: true }]);
  expect(Number(signatures[0]?.chain.seq)).toBeGreaterThan(0);
});

it('says that a signature does not cover what was corrected after it, and asks for a review anew', async () => {
  const id = await check('technician', '2026-06-04T08:00:00Z');
  await sign('engineer', [await record(id)]);
  const corrected = await api.as('technician').call(correctReadingEndpoint, { params: { id }, body: { characteristic: 'body-hook', can: 0, position: 0, value: 1.73, reason: 'misread' } });
  expect(corrected.status).toBe(201);
  expect((await api.as('engineer').call(listSignatures, { query: { kind: 'check', recordId: id } })).body.signatures).toMatchObject([{ covers: false }]);
  expect((await api.as('engineer').call(listReviews, { query: {} })).body.entries).toMatchObject([{ checkId: id, corrected: true, reviewedBefore: true }]);
  await sign('manager', [await record(id)]);
  expect((await api.as('engineer').call(listSignatures, { query: { kind: 'check', recordId: id } })).body.signatures).toMatchObject([{ covers: false, printedName: 'Test engineer' }, { covers: true, printedName: 'Test manager' }]);
});

it('refuses a wrong password, one’s own entry, a record changed since it was seen and one that is not there, and signs nothing then', async () => {
  const [mine, other] = [await check('engineer', '2026-06-05T08:00:00Z'), await check('technician', '2026-06-05T09:00:00Z')];
  expect((await sign('engineer', [await record(other)], 'wrong password here')).problem).toMatchObject({ status: 401, code: 'wrong-credentials' });
  expect((await sign('engineer', [await record(other), await record(mine)])).problem).toMatchObject({ code: 'wrong-state', detail: expect.stringContaining('second person') });
  expect((await sign('engineer', [{ ...(await record(other)), contentHash: '0'.repeat(64) }])).problem).toMatchObject({ code: 'changed-meanwhile' });
  expect((await sign('engineer', [{ kind: 'check', recordId: 999_999, contentHash: '0'.repeat(64) }])).problem).toMatchObject({ status: 404 });
  expect((await api.as('engineer').call(listSignatures, { query: { kind: 'check', recordId: other } })).body.signatures).toEqual([]);
  expect((await sign('manager', [await record(mine), await record(other)])).status).toBe(201);
});

/** Resolves once something in this database waits for a lock. */
async function somebodyWaits(): Promise<void> {
  for (let round = 0; round < 400; round += 1) {
    const [row] = await database.work.client.$queryRaw<{ waiting: number }[]>`SELECT count(*)::int AS waiting FROM pg_stat_activity WHERE datname = current_database() AND wait_event_type = 'Lock'`;
    if ((row?.waiting ?? 0) > 0) return;
    await new Promise((resolve) => setTimeout(resolve, 25));
  }
  throw new Error('nobody waited for a lock within 10 s');
}
const misread = { characteristic: 'body-hook', can: 0, position: 0, value: 1.72, reason: 'misread', confirmed: false };

it('refuses a signature while a correction is being stored that the signer has not seen', { timeout: 60_000 }, async () => {
  const id = await check('technician', '2026-06-05T11:00:00Z');
  const seen = await record(id);
  const { signing } = await database.work.run(async (tx) => {
    await correctReading(tx, { plantId: plant.plantId, userId: plant.users.technician, name: 'Test technician' }, id, misread, new Date());
    const answer = sign('engineer', [seen]);
    await somebodyWaits();
    return { signing: answer };
  });
  expect((await signing).problem).toMatchObject({ status: 409, code: 'changed-meanwhile', detail: expect.stringContaining('look at it again') });
  expect((await api.as('engineer').call(listSignatures, { query: { kind: 'check', recordId: id } })).body.signatures).toEqual([]);
  expect((await sign('engineer', [await record(id)])).status).toBe(201);
});

it('asks for a review anew when a correction waited for the signature, though its clock was read before', { timeout: 60_000 }, async () => {
  const id = await check('technician', '2026-06-05T12:00:00Z');
  const seen = await record(id);
  const began = new Date(Date.now() - 60_000);
  const { correcting } = await database.work.run(async (tx) => {
    await signWithin(tx, { plantId: plant.plantId, userId: plant.users.engineer, name: 'Test engineer', role: 'engineer' }, { records: [seen], meaning: 'reviewed', comment: '' }, new Date());
    const stored = database.work.run((other) => correctReading(other, { plantId: plant.plantId, userId: plant.users.technician, name: 'Test technician' }, id, misread, began));
    await somebodyWaits();
    return { correcting: stored };
  });
  await correcting;
  expect((await api.as('engineer').call(listReviews, { query: { day: '2026-06-05' } })).body).toMatchObject({ days: expect.arrayContaining([{ day: '2026-06-05', waiting: expect.any(Number) }]), entries: expect.arrayContaining([expect.objectContaining({ checkId: id, corrected: true, reviewedBefore: true })]) });
  expect((await sign('manager', [await record(id)])).status).toBe(201);
  expect((await api.as('engineer').call(listReviews, { query: {} })).body.entries.map(({ checkId }) => checkId)).not.toContain(id);
});

it('asks for the review of what a gauge sent, too', async () => {
  await database.work.run((tx) => recordReadings(tx, { plantId: plant.plantId, userId: null, name: 'Bench gauge (token 1)' }, [newCheck.parse({ key: 'records-by-a-feed', machineId: plant.machines.seamer, productId: plant.productId, takenAt: '2026-06-05T10:00:00Z', cans: [{ number: 1, unitId: plant.headIds[0] }], positions: ['60°'], characteristics: [{ code: 'body-hook', readings: [1.75] }] })], { now: new Date(), source: 'feed' }));
  const { days, entries } = (await api.as('engineer').call(listReviews, { query: {} })).body;
  expect(entries).toMatchObject([{ source: 'feed', enteredBy: { id: null, name: 'Bench gauge (token 1)' } }]);
  expect(days.reduce((sum, day) => sum + day.waiting, 0)).toBe(entries.length);
  expect((await sign('engineer', entries.map((entry) => ({ kind: 'check', recordId: entry.checkId, contentHash: entry.contentHash })))).status).toBe(201);
});

it('counts failed signings like failed log-ins, so that a stolen session cannot try passwords', async () => {
  const id = await check('technician', '2026-06-06T09:00:00Z');
  const asked = [await record(id)];
  for (let attempt = 0; attempt < 10; attempt += 1) await sign('manager', asked, `wrong password ${attempt}`);
  expect((await sign('manager', asked)).problem).toMatchObject({ status: 429, code: 'too-many-attempts' });
  await database.work.client.loginFailure.deleteMany({});
});

it('is append-only: no signature can be changed, and the program offers no way to', async () => {
  await expect(database.work.client.$executeRaw`UPDATE signature SET printed_name = 'Somebody' WHERE plant_id = ${plant.plantId}`).rejects.toThrow('never changed');
  await expect(database.work.client.$executeRaw`DELETE FROM signature WHERE plant_id = ${plant.plantId}`).rejects.toThrow('never changed');
});

it('verifies trail, checks and the heads that signatures noted', async () => {
  expect((await api.as('manager').call(verifyRecordsEndpoint, {})).body).toMatchObject({ faults: 0, checks: 9, checksWithoutSeal: 0 });
  // Cutting the end of the trail off leaves a chain that fits; what signatures noted does not.
  await database.work.client.$transaction(async (tx) => {
    await tx.$executeRawUnsafe("SET LOCAL session_replication_role = 'replica'");
    await tx.$executeRawUnsafe('DELETE FROM audit_link WHERE seq > 2');
    await tx.$executeRawUnsafe('DELETE FROM audit_row a WHERE NOT EXISTS (SELECT 1 FROM audit_link l WHERE l.plant_id = a.plant_id AND l.audit_id = a.id)');
  });
  const found = (await api.as('manager').call(verifyRecordsEndpoint, {})).body;
  expect(found.auditFaults.map((fault) => fault.kind)).toContain('other-head');
  expect(found.checkFaults.length).toBeGreaterThan(0);
});
