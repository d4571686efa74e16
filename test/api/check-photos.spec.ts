import { afterAll, beforeAll, expect, it } from 'vitest';
import { getCheckPhoto, removeCheckPhoto } from '#contract/check-photos';
import { getCheck, recordCheck } from '#contract/inspections';
import { verifyRecords } from '../../apps/api/src/flows/verify-records.js';
import { listContents } from '../../apps/api/src/records/contents.store.js';
import { startApi, type TestApi } from '../db/api.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';
import { photoForm, pngOf } from '../factories/photo-form.js';
import { makePlant, type TestPlant } from '../factories/plant.js';

const NOW = new Date('2026-03-10T12:00:00Z');
let database: TestDatabase;
let api: TestApi;
let plant: TestPlant;
beforeAll(async () => { database = await freshDatabase(); plant = await makePlant(database.work); api = await startApi(database, { now: () => NOW }); });
afterAll(async () => { await api.close(); await database.close(); });

const body = (key: string) => ({ key, machineId: plant.machines.seamer, productId: plant.productId, takenAt: '2026-03-10T08:00:00.000Z', cans: plant.headIds.map((unitId, place) => ({ number: place + 1, unitId })), positions: ['60°'], characteristics: [{ code: 'body-hook', readings: plant.headIds.map(() => 1.75) }] });
const log = async (key: string) => (await api.as('technician').call(recordCheck, { body: body(key) })).body.checkId;
const add = (checkId: number, files: { fileName: string; content: Buffer }[], query = '', role: 'technician' | 'auditor' | 'manager' = 'technician') => api.as(role).raw({ method: 'POST', url: `/api/checks/${checkId}/photos${query}`, ...photoForm(files) });
const photosOf = async (id: number) => (await api.as('auditor').call(getCheck, { params: { id } })).body.photos;
const faults = async () => { const { checkFaults, auditFaults } = await verifyRecords(database.work.read, plant.plantId); return [...checkFaults, ...auditFaults]; };
const hash = async (id: number) => (await listContents(database.work.read, plant.plantId, 'check', [id])).get(id)?.contentHash;

it('keeps a photo byte by byte with the can that it shows, lists it with the check and serves it harmlessly', async () => {
  const id = await log('photo-check-1');
  const before = await hash(id);
  const added = await add(id, [{ fileName: '..\\dcim/section.jpg', content: pngOf(1) }], '?can=1');
  expect(added.status, added.text).toBe(201);
  const [photo] = await photosOf(id);
  expect(photo).toMatchObject({ can: 1, fileName: 'section.jpg', contentType: 'image/png', bytes: 208, addedBy: 'Test technician', addedAt: NOW.toISOString() });
  const session = await api.as('auditor').raw({ method: 'GET', url: `/api/checks/${id}/photos/${photo?.id}` });
  expect(session.status).toBe(200);
  expect(session.headers).toMatchObject({ 'content-type': 'image/png', 'x-content-type-options': 'nosniff', 'content-disposition': 'inline' });
  const stored = await database.work.client.checkPhoto.findFirstOrThrow({ where: { checkId: id } });
  expect(Buffer.from(stored.content).equals(pngOf(1))).toBe(true);
  expect(await hash(id), 'a signature from before covers it no more').not.toBe(before);
  const other = await log('photo-check-2');
  expect((await api.as('manager').call(getCheckPhoto, { params: { id: other, photoId: photo?.id ?? 0 } })).status).toBe(404);
});

it('stores the same picture once however often it is sent, and both again after it was taken off', async () => {
  const id = await log('photo-check-3');
  for (let time = 0; time < 3; time += 1) expect((await add(id, [{ fileName: 'a.png', content: pngOf(2) }, { fileName: 'a again.png', content: pngOf(2) }])).status).toBe(201);
  const [photo] = await photosOf(id);
  expect(await photosOf(id)).toHaveLength(1);
  expect((await api.as('operator').call(removeCheckPhoto, { params: { id, photoId: photo?.id ?? 0 }, body: { reason: 'other can' } })).status).toBe(403);
  expect((await api.as('technician').call(removeCheckPhoto, { params: { id, photoId: photo?.id ?? 0 }, body: { reason: ' ' } })).problem.errors?.[0]?.field).toBe('reason');
  expect((await api.as('technician').call(removeCheckPhoto, { params: { id, photoId: photo?.id ?? 0 }, body: { reason: 'other can' } })).body.photos).toEqual([]);
  expect((await api.as('technician').call(removeCheckPhoto, { params: { id, photoId: photo?.id ?? 0 }, body: { reason: 'other can' } })).status).toBe(404);
  expect((await add(id, [{ fileName: 'a.png', content: pngOf(2) }])).status).toBe(201);
  expect(await photosOf(id)).toHaveLength(1);
  expect(await database.work.client.checkPhoto.count({ where: { checkId: id } })).toBe(2);
  expect((await database.work.client.auditRow.findMany({ where: { subject: `check ${id}` }, orderBy: { id: 'asc' } })).map(({ action }) => action)).toEqual(['readings.recorded', 'check.photo-added', 'check.photo-removed', 'check.photo-added']);
});

it('refuses what is no picture, too large, too many, of a can that is not there, or of a check that was taken back', async () => {
  const id = await log('photo-check-4');
  expect((await add(id, [{ fileName: 'good.png', content: pngOf(3) }, { fileName: 'evil.png', content: Buffer.from('<svg onload="alert(1)"></svg>') }])).problem).toMatchObject({ code: 'wrong-file-type' });
  expect((await add(id, [{ fileName: 'large.png', content: Buffer.concat([pngOf(3), Buffer.alloc(10 * 1024 * 1024)]) }])).problem).toMatchObject({ code: 'too-large', status: 413 });
  expect((await add(id, [])).problem.errors?.[0]).toMatchObject({ field: 'photo' });
  expect((await add(id, [{ fileName: 'a.png', content: pngOf(3) }], `?can=${plant.headIds.length}`)).problem.errors?.[0]).toMatchObject({ field: 'can', expected: `an index from 0 to ${plant.headIds.length - 1}: the check has ${plant.headIds.length} cans` });
  expect((await add(id, [{ fileName: 'a.png', content: pngOf(3) }], '?can=first')).problem.errors?.[0]?.field).toBe('query.can');
  expect((await add(999_999, [{ fileName: 'a.png', content: pngOf(3) }])).status).toBe(404);
  expect((await add(id, [{ fileName: 'a.png', content: pngOf(3) }], '', 'manager')).status).toBe(403);
  for (let from = 0; from < 40; from += 10) expect((await add(id, Array.from({ length: 10 }, (_, place) => ({ fileName: `${from + place}.png`, content: pngOf(100 + from + place) })))).status).toBe(201);
  expect((await add(id, [{ fileName: 'one more.png', content: pngOf(3) }])).problem.errors?.[0]).toMatchObject({ field: 'photo', expected: 'at most 40 photos of one check' });
  expect(await photosOf(id)).toHaveLength(40);
  await database.work.client.check.update({ where: { plantId_id: { plantId: plant.plantId, id: await log('photo-check-5') } }, data: { voidedAt: NOW } });
  const voided = await database.work.client.check.findFirstOrThrow({ where: { key: 'photo-check-5' } });
  expect((await add(voided.id, [{ fileName: 'a.png', content: pngOf(3) }])).problem.code).toBe('wrong-state');
  await database.work.client.check.update({ where: { plantId_id: { plantId: plant.plantId, id: voided.id } }, data: { voidedAt: null } });
});

it('puts photos under the seal of the check: one changed past the program is found, and the table refuses it', async () => {
  const id = await log('photo-check-6');
  await add(id, [{ fileName: 'a.png', content: pngOf(4) }], '?can=0');
  expect(await faults()).toEqual([]);
  const change = () => database.work.client.$executeRaw`UPDATE check_photo SET content = ${pngOf(5)} WHERE check_id = ${id}`;
  await expect(change()).rejects.toThrow('never changed');
  await expect(database.work.client.$executeRaw`DELETE FROM check_photo WHERE check_id = ${id}`).rejects.toThrow('never changed');
  await database.work.client.$executeRaw`ALTER TABLE check_photo DISABLE TRIGGER check_photos_are_kept`;
  await change();
  await database.work.client.$executeRaw`ALTER TABLE check_photo ENABLE TRIGGER check_photos_are_kept`;
  expect(await faults()).toEqual([{ checkId: id, kind: 'changed' }]);
});

it('knows a check again by what was entered, whatever the device says of when and how', async () => {
  const first = await api.as('technician').call(recordCheck, { body: { ...body('entered-once'), begunAt: '2026-03-10T08:00:00.000Z', finishedAt: '2026-03-10T08:04:00.000Z' } });
  expect(first.body.repeated).toBe(false);
  const again = await api.as('technician').call(recordCheck, { body: { ...body('entered-once'), begunAt: '2026-03-10T08:00:00.000Z', finishedAt: '2026-03-10T08:09:00.000Z', offline: true } });
  expect(again.body).toMatchObject({ checkId: first.body.checkId, repeated: true });
  expect((await api.as('technician').call(getCheck, { params: { id: first.body.checkId } })).body).toMatchObject({ finishedAt: '2026-03-10T08:04:00.000Z', source: 'entry' });
  expect((await api.as('technician').call(recordCheck, { body: { ...body('entered-once'), note: 'another' } })).problem.code).toBe('key-reused');
});
