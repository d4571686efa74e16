import { afterAll, beforeAll, expect, it } from 'vitest';
import { decideSpecification, listProposals, previewSpecification, setSecondPerson } from '#contract/approvals';
import { recordCheck } from '#contract/inspections';
import { createSpecification, getPlant, listSpecifications } from '#contract/plant';
import { listSignatures } from '#contract/records';
import { getChartPoint } from '#contract/specifications';
import { getCapability } from '#contract/studies';
import { startApi, type TestApi } from '../db/api.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';
import { givePasswords, PASSWORD } from '../factories/passwords.js';
import { makePlant, type TestPlant } from '../factories/plant.js';

let database: TestDatabase;
let plant: TestPlant;
let api: TestApi;
const NOW = new Date('2026-06-10T12:00:00Z');
beforeAll(async () => {
  database = await freshDatabase();
  plant = await makePlant(database.work);
  api = await startApi(database, { now: () => NOW });
  await givePasswords(database, plant);
  // Body hooks of head 1, three positions on one can an hour: 1.60 to 1.84 mm.
  for (let hour = 0; hour < 12; hour += 1) {
    const reply = await api.as('technician').call(recordCheck, { body: { key: `approvals-${hour}`, machineId: plant.machines.seamer, productId: plant.productId, takenAt: new Date(NOW.getTime() - (20 - hour) * 3_600_000).toISOString(), cans: [{ number: 1, unitId: plant.headIds[0] }], positions: ['60°', '180°', '300°'], characteristics: [{ code: 'body-hook', readings: [1.6 + hour * 0.02, 1.61 + hour * 0.02, 1.62 + hour * 0.02] }] } });
    expect(reply.status).toBe(201);
  }
}, 120_000);
afterAll(async () => { await api.close(); await database.close(); });

const of = () => ({ productId: plant.productId, characteristicId: plant.characteristics['body-hook'] });
const propose = async (values: { lsl: number | null; usl: number | null }, effectiveFrom = '2026-01-01T00:00:00Z') => (await api.as('engineer').call(createSpecification, { body: { ...of(), target: null, ...values, effectiveFrom, reason: 'drawing 8' } })).body.id;
const proposal = async (id: number) => (await api.as('manager').call(listProposals, {})).body.find((row) => row.id === id);
const approve = async (by: 'engineer' | 'manager' | 'administrator' | 'technician', id: number, more: { password?: string; contentHash?: string } = {}) => api.as(by).call(decideSpecification, { params: { id: String(id) }, body: { decision: 'approved', contentHash: (await proposal(id))?.contentHash ?? '0'.repeat(64), password: PASSWORD, comment: 'compared with the drawing', ...more } });
const inForce = async () => (await api.as('operator').call(getPlant, {})).body.specifications.find((row) => row.characteristicId === plant.characteristics['body-hook']);
const point = async () => {
  const stream = await database.work.client.stream.findFirstOrThrow({ where: { characteristicId: of().characteristicId } });
  const first = await database.work.client.subgroup.findFirstOrThrow({ where: { streamId: stream.id }, orderBy: { takenAt: 'asc' } });
  const reply = await api.as('operator').call(getChartPoint, { params: { streamId: String(stream.id) }, query: { takenAt: first.takenAt.toISOString(), sequence: String(first.sequence) } });
  expect(reply.status).toBe(200);
  return reply.body;
};

it('lets a proposed revision judge nothing, an approved one from its date on, and shows who decided', async () => {
  const id = await propose({ lsl: 1.7, usl: 1.9 });
  expect(await inForce()).toMatchObject({ revision: 1, lsl: 1.6 });
  expect((await point()).specification).toMatchObject({ revision: 1 });
  expect(await proposal(id)).toMatchObject({ revision: 2, state: 'proposed', product: 'T65 Test can 65 mm', characteristic: 'Body hook', unit: 'mm', author: 'Test engineer' });
  expect((await approve('manager', id)).status).toBe(201);
  expect(await inForce()).toMatchObject({ revision: 2, lsl: 1.7 });
  expect(await point()).toMatchObject({ specification: { revision: 2, lsl: 1.7 }, outsideSpecification: 3 });
  expect((await api.as('manager').call(listSpecifications, { query: { product: String(plant.productId), characteristic: String(of().characteristicId) } })).body[0]).toMatchObject({ revision: 2, state: 'approved', decidedBy: 'Test manager', decidedAt: NOW.toISOString(), decision: 'compared with the drawing' });
  expect((await api.as('manager').call(listSignatures, { query: { kind: 'specification', recordId: String(id) } })).body.signatures).toMatchObject([{ meaning: 'approved', printedName: 'Test manager', covers: true }]);
  expect(await database.work.client.auditRow.count({ where: { subject: `specification ${id}`, action: { in: ['specification.proposed', 'record.signed', 'specification.approved'] } } })).toBe(3);
  expect((await approve('administrator', id)).problem.code, 'decided once').toBe('wrong-state');
});

it('refuses the author, a wrong password, what was not seen, and roles that do not decide; then nothing is in force', async () => {
  const id = await propose({ lsl: 1.75, usl: null });
  expect((await approve('engineer', id)).problem).toMatchObject({ code: 'wrong-state', detail: expect.stringContaining('second person') });
  expect((await approve('manager', id, { password: 'another' })).problem.code).toBe('wrong-credentials');
  expect((await approve('manager', id, { contentHash: 'a'.repeat(64) })).problem.code).toBe('changed-meanwhile');
  expect((await approve('technician', id)).problem.code).toBe('not-allowed');
  expect((await api.as('manager').call(decideSpecification, { params: { id: '999999' }, body: { decision: 'rejected', comment: 'not ours' } })).problem.code).toBe('not-found');
  expect(await inForce()).toMatchObject({ revision: 2 });
  expect(await database.work.client.signature.count({ where: { recordId: id, kind: 'specification' } })).toBe(0);
  const wordless = await api.as('manager').call(decideSpecification, { params: { id: String(id) }, body: { decision: 'rejected', comment: '' } });
  expect(wordless.problem.errors?.[0]).toMatchObject({ field: 'comment', expected: expect.stringContaining('3 characters') });
  expect((await api.as('manager').call(decideSpecification, { params: { id: String(id) }, body: { decision: 'rejected', comment: 'the drawing says 1.60' } })).status).toBe(201);
  expect((await approve('administrator', id)).problem.code).toBe('wrong-state');
  expect(await inForce()).toMatchObject({ revision: 2 });
});

it('lets the author approve where the plant has switched the second person off, and never changes a decided row', async () => {
  expect((await api.as('engineer').call(setSecondPerson, { body: { secondPerson: false, reason: 'one engineer' } })).problem.code).toBe('not-allowed');
  expect((await api.as('administrator').call(setSecondPerson, { body: { secondPerson: false, reason: 'one engineer' } })).body).toEqual({ secondPerson: false });
  const id = await propose({ lsl: 1.62, usl: 1.9 });
  expect((await approve('engineer', id)).status).toBe(201);
  expect((await api.as('administrator').call(setSecondPerson, { body: { secondPerson: true, reason: 'two engineers now' } })).body).toEqual({ secondPerson: true });
  expect((await api.as('operator').call(getPlant, {})).body.plant.secondPerson).toBe(true);
  const db = database.work.client;
  await expect(db.$executeRaw`UPDATE specification SET state = 'rejected', decided_at = now(), decided_by = ${plant.users.manager} WHERE id = ${id}`).rejects.toThrow(/never changed/);
  const waiting = await propose({ lsl: 1.5, usl: 1.9 });
  await expect(db.$executeRaw`UPDATE specification SET state = 'approved', decided_at = now(), decided_by = ${plant.users.manager}, lsl = 0 WHERE id = ${waiting}`).rejects.toThrow(/never changed/);
  await expect(db.$executeRaw`DELETE FROM specification WHERE id = ${waiting}`).rejects.toThrow(/never changed/);
  const both = await Promise.all([approve('manager', waiting), approve('administrator', waiting)]);
  expect(both.map((reply) => reply.status).sort(), 'two at once: one decides').toEqual([201, 409]);
});

it('shows the indices and the share beyond each side that the new limits would have given, and stores nothing', async () => {
  const rows = await database.work.client.specification.count();
  const asked = { ...of(), lsl: 1.65, target: 1.75, usl: 1.8, days: 30 };
  const { body, status } = await api.as('manager').call(previewSpecification, { body: asked });
  expect(status).toBe(200);
  expect(body.streams).toHaveLength(1);
  expect(body).toMatchObject({ unit: 'mm', before: { lsl: 1.5, usl: 1.9 }, after: { lsl: 1.65, usl: 1.8 }, streams: [{ machine: 'SE1', machineUnit: 'H1', readings: 36, before: { shareBelow: 0, shareAbove: 0 } }] });
  // Of 1.60, 1.61, … 1.84: below 1.65 lie 1.60-1.62, 1.62-1.64 and 1.64 = 7 readings; above 1.80 the last two cans and 1.81, 1.82 of the one before = 8.
  const readings = Array.from({ length: 12 }, (_, hour) => [0, 1, 2].map((place) => 160 + hour * 2 + place)).flat();
  expect(body.streams[0]?.after.shareBelow).toBeCloseTo(readings.filter((value) => value < 165).length / 36, 12);
  expect(body.streams[0]?.after.shareAbove).toBeCloseTo(readings.filter((value) => value > 180).length / 36, 12);
  const study = (await api.as('manager').call(getCapability, { query: { product: String(of().productId), machine: String(plant.machines.seamer), characteristic: String(of().characteristicId), from: body.from, to: body.to } })).body;
  expect(body.streams[0]?.before).toMatchObject({ ppk: study.streams[0]?.figures?.ppk, cpk: study.streams[0]?.figures?.cpk, ppkLowerBound: study.streams[0]?.figures?.ppkLowerBound });
  expect(body.streams[0]?.after.ppk ?? 9).toBeLessThan(body.streams[0]?.before.ppk ?? 0);
  expect(await database.work.client.specification.count()).toBe(rows);
  expect((await api.as('manager').call(previewSpecification, { body: { ...asked, usl: 1.6 } })).problem.errors?.map((error) => error.field)).toContain('usl');
  expect((await api.as('manager').call(previewSpecification, { body: { ...asked, productId: 999_999 } })).problem).toMatchObject({ code: 'not-found', errors: [{ field: 'productId' }] });
  expect((await api.as('manager').call(previewSpecification, { body: { ...asked, characteristicId: plant.characteristics['flange-width'] } })).body.streams).toEqual([]);
});
