import { afterAll, beforeAll, expect, it } from 'vitest';
import { addIncidentPhoto, changeIncident, closeIncident, getIncident, getIncidentSurroundings, linkIncidentSignal, listIncidents, logIncident, unlinkIncidentSignal } from '#contract/incidents';
import { listMissedChecks } from '#contract/due-checks';
import { recordCheck } from '#contract/inspections';
import { startApi, type TestApi } from '../db/api.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';
import { makePlant, type TestPlant } from '../factories/plant.js';

const NOW = new Date('2026-03-10T12:00:00Z');
let database: TestDatabase;
let api: TestApi;
let plant: TestPlant;
beforeAll(async () => { database = await freshDatabase(); plant = await makePlant(database.work); api = await startApi(database, { now: () => NOW }); });
afterAll(async () => { await api.close(); await database.close(); });

const complaint = (more: object = {}) => ({
  kind: 'complaint' as const, customer: 'Brackwater Pantry', productId: plant.productId, lineId: plant.lineId, canCode: 'T1 26060 0800 A', madeAt: '2026-03-01T08:00:00Z', receivedAt: '2026-03-10T09:00:00Z',
  cansComplained: 24, cansExamined: 20, cansLeaking: 0, leakPlace: 'juncture', defect: 'cold-weld', description: 'Dye comes out where the weld crosses the seam.', ...more,
});
const log = async (more: object = {}) => (await api.as('engineer').call(logIncident, { body: complaint(more) })).body;
const boundary = 'x-test-boundary';
const form = (files: { name?: string; fileName: string; content: Buffer }[]) => ({
  headers: { 'content-type': `multipart/form-data; boundary=${boundary}` },
  payload: Buffer.concat([...files.flatMap(({ name, fileName, content }) => [Buffer.from(`--${boundary}\r\ncontent-disposition: form-data; name="${name ?? 'photo'}"; filename="${fileName}"\r\ncontent-type: image/jpeg\r\n\r\n`), content, Buffer.from('\r\n')]), Buffer.from(`--${boundary}--\r\n`)]),
});
const png = Buffer.concat([Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]), Buffer.alloc(200, 7)]);
const audit = (subject: string) => database.work.client.auditRow.findMany({ where: { plantId: plant.plantId, subject }, orderBy: { id: 'asc' } });

it('logs a complaint, and says what none found among the examined still allows', async () => {
  const logged = await api.as('engineer').call(logIncident, { body: complaint() });
  expect(logged.status).toBe(201);
  expect(logged.body).toMatchObject({ state: 'open', product: 'T65', line: 'T1', defectName: 'Cold weld', loggedBy: 'Test engineer', revision: 1, steps: [{ action: 'logged', actor: 'Test engineer' }] });
  // Clopper and Pearson, none in 20, 95 %: 1 - 0.05^(1/20).
  expect(logged.body.zeroFoundUpperBound).toBeCloseTo(1 - 0.05 ** (1 / 20), 12);
  expect((await log({ cansLeaking: 3 })).zeroFoundUpperBound).toBeNull();
  expect((await log({ cansExamined: 0 })).zeroFoundUpperBound).toBeNull();
  expect((await audit(`incident ${logged.body.id}`)).map(({ action, after }) => [action, (after as { cansExamined: number }).cansExamined])).toEqual([['incident.logged', 20]]);
});

it('names every field that does not agree, and keeps who may log apart', async () => {
  const bad = await api.as('technician').call(logIncident, { body: complaint({ cansLeaking: 21, leakPlace: 'lid', defect: 'nothing', productId: 999, receivedAt: '2026-03-11T09:00:00Z' }) });
  expect(bad.status).toBe(400);
  expect(bad.problem.errors?.map(({ field }) => field)).toEqual(['cansLeaking', 'leakPlace', 'defect', 'receivedAt', 'productId']);
  expect((await api.as('auditor').call(logIncident, { body: complaint() })).status).toBe(403);
  expect((await api.nobody.call(listIncidents, { query: {} })).status).toBe(401);
  expect((await api.as('manager').call(getIncident, { params: { id: 99_999 } })).problem.code).toBe('not-found');
});

it('keeps the span, the printing step, half and head that the can tells, and refuses what is of another line', async () => {
  const seamer = await database.work.client.machine.findFirstOrThrow({ where: { id: plant.machines.seamer } });
  const told = { madeUntil: '2026-03-01T08:01:00Z', codedAtStepId: seamer.stepId, laneId: plant.laneIds.A, unitId: plant.headIds[1] };
  expect(await log(told)).toMatchObject({ madeUntil: '2026-03-01T08:01:00.000Z', codedAtStepKind: 'seamer', laneId: plant.laneIds.A, lane: 'A', unitId: plant.headIds[1], unit: 'H2', unitMachine: 'SE1' });
  expect(await log()).toMatchObject({ madeUntil: null, codedAtStepId: null, laneId: null, lane: null, unitId: null, unit: null });
  const other = await database.work.client.line.create({ data: { plantId: plant.plantId, code: 'T2', name: 'Other line', position: 2 } });
  const refused = await api.as('technician').call(logIncident, { body: complaint({ ...told, lineId: other.id, madeUntil: '2026-03-01T08:00:00Z' }) });
  expect(refused.problem.errors?.map(({ field }) => field)).toEqual(['madeUntil', 'codedAtStepId', 'laneId', 'unitId']);
});

it('lists open ones first, filters, pages and tallies all that the filters leave', async () => {
  await log({ customer: 'Hollin Preserves', defect: 'droop', cansComplained: 5 });
  const all = await api.as('manager').call(listIncidents, { query: {} });
  expect(all.body.customers).toEqual(['Brackwater Pantry', 'Hollin Preserves']);
  expect(all.body.byCustomer.reduce((sum, { incidents }) => sum + incidents, 0)).toBe(all.body.total);
  const one = await api.as('manager').call(listIncidents, { query: { customer: 'Hollin Preserves' } });
  expect(one.body).toMatchObject({ total: 1, open: 1, byDefect: [{ value: 'droop', incidents: 1, cansComplained: 5 }] });
  const page = await api.as('manager').call(listIncidents, { query: { take: 1, skip: 1 } });
  expect(page.body.rows).toHaveLength(1);
  expect(page.body.total).toBe(all.body.total);
  expect(page.body.rows[0]?.id).toBe(all.body.rows[1]?.id);
  expect((await api.as('manager').call(listIncidents, { query: { state: 'closed' } })).body.total).toBe(0);
  expect((await api.as('manager').call(listIncidents, { query: { state: 'not-closed' } })).body.total).toBe(all.body.total);
});

it('writes cause and action by revision, and closes only an incident that went through its steps', async () => {
  const { id } = await log();
  const asEngineer = api.as('engineer');
  const early = await asEngineer.call(closeIncident, { params: { id }, body: { revision: 1, closingNote: 'Done.', withoutVerification: 'It is late.' } });
  expect(early.problem).toMatchObject({ code: 'wrong-state', errors: [{ field: 'state' }] });
  const changed = await asEngineer.call(changeIncident, { params: { id }, body: { revision: 1, cause: 'Low tin coil', containment: 'Two pallets held' } });
  expect(changed.body).toMatchObject({ revision: 2, cause: 'Low tin coil', containment: 'Two pallets held', action: '' });
  const stale = await api.as('technician').call(changeIncident, { params: { id }, body: { revision: 1, cause: 'Something else' } });
  expect(stale.problem.code).toBe('changed-meanwhile');
  expect((await asEngineer.call(changeIncident, { params: { id }, body: { revision: 2, cansLeaking: 40 } })).problem.errors?.[0]?.field).toBe('cansLeaking');
  expect((await asEngineer.call(changeIncident, { params: { id }, body: { revision: 2, causeMachineId: 99_999 } })).problem.errors?.[0]?.field).toBe('causeMachineId');
  expect((await audit(`incident ${id}`)).find(({ action }) => action === 'incident.changed')).toMatchObject({ before: { cause: '' }, after: { cause: 'Low tin coil' } });
});

it('keeps photos by what they are, refuses what only looks like one, and serves them harmlessly', async () => {
  const { id } = await log();
  const url = addIncidentPhoto.path.replace(':id', String(id));
  const added = await api.as('technician').raw({ method: 'POST', url, ...form([{ fileName: '..\\folder/juncture.jpg', content: png }]) });
  expect(added.status).toBe(201);
  const [photo] = (await api.as('manager').call(getIncident, { params: { id } })).body.photoList;
  expect(photo).toMatchObject({ fileName: 'juncture.jpg', contentType: 'image/png', bytes: png.length, addedBy: 'Test technician' });
  const served = await api.app.inject({ method: 'GET', url: `${url}/${photo?.id}`, headers: await sessionHeaders('manager') });
  expect(served.rawPayload.equals(png)).toBe(true);
  expect(served.headers).toMatchObject({ 'content-type': 'image/png', 'x-content-type-options': 'nosniff', 'content-disposition': 'inline' });
  expect(served.headers['content-security-policy']).toContain('sandbox');
  const page = await api.as('technician').raw({ method: 'POST', url, ...form([{ fileName: 'good.png', content: png }, { fileName: 'evil.png', content: Buffer.from('<svg onload="alert(1)"></svg>') }]) });
  expect(page.problem.code).toBe('wrong-file-type');
  expect(page.problem.detail).toContain('evil.png');
  const large = await api.as('technician').raw({ method: 'POST', url, ...form([{ fileName: 'large.png', content: Buffer.concat([png, Buffer.alloc(10 * 1024 * 1024)]) }]) });
  expect(large.problem).toMatchObject({ code: 'too-large', status: 413 });
  expect((await api.as('technician').raw({ method: 'POST', url, ...form([]) })).problem.code).toBe('invalid-input');
  expect((await api.as('technician').raw({ method: 'POST', url, payload: { photo: 'x' } })).status).toBe(400);
  expect((await api.as('manager').call(getIncident, { params: { id } })).body.photoList).toHaveLength(1);
  const other = await log();
  expect((await api.as('manager').raw({ method: 'GET', url: `/api/incidents/${other.id}/photos/${photo?.id}` })).status).toBe(404);
});

it('lays checks, signals, line events and missed checks round the time the cans were made, in order', async () => {
  const readings = Array.from({ length: 15 }, (_none, place) => 0.42 + (place % 3) / 100);
  for (const [key, takenAt] of [['around-1', '2026-03-01T06:00:00Z'], ['around-2', '2026-03-01T09:30:00Z'], ['around-3', '2026-02-01T09:30:00Z']] as const) {
    const stored = await api.as('operator').call(recordCheck, { body: { key: `incident-${key}`, planId: plant.planId, machineId: plant.machines.bodyMaker, productId: plant.productId, takenAt, cans: [1, 2, 3, 4, 5].map((number) => ({ number })), positions: ['front', 'middle', 'back'], characteristics: [{ code: 'weld-overlap', gaugeId: plant.gaugeId, readings }] } });
    expect(stored.status).toBe(201);
  }
  const { plantId } = plant;
  await database.work.client.lineEvent.createMany({ data: [
    { plantId, lineId: plant.lineId, machineId: plant.machines.bodyMaker, kind: 'coil-change', at: new Date('2026-03-01T07:00:00Z'), text: 'Coil 7716', actor: 'Test operator' },
    { plantId, lineId: plant.lineId, kind: 'stop', at: new Date('2026-02-20T07:00:00Z'), until: new Date('2026-02-20T08:00:00Z'), text: 'Long ago', actor: 'Test operator' },
  ] });
  const signalId = await raiseSignal('2026-03-01T09:30:00Z');
  const { id } = await log();
  const linked = await api.as('technician').call(linkIncidentSignal, { params: { id }, body: { signalId, reason: 'Same machine and hour' } });
  expect(linked.body.signalList).toMatchObject([{ id: signalId, reason: 'Same machine and hour', characteristicName: 'Weld overlap', machine: 'BM1' }]);
  await api.as('technician').call(linkIncidentSignal, { params: { id }, body: { signalId } });
  expect((await api.as('technician').call(linkIncidentSignal, { params: { id }, body: { signalId: 99_999 } })).problem.code).toBe('not-found');
  const around = await api.as('manager').call(getIncidentSurroundings, { params: { id }, query: {} });
  expect(around.body.from).toBe('2026-02-28T08:00:00.000Z');
  expect(around.body.entries.map((entry) => [entry.kind, entry.at])).toEqual([
    ['missed', '2026-02-28T08:00:00.000Z'], ['check', '2026-03-01T06:00:00.000Z'], ['missed', '2026-03-01T06:00:00.000Z'], ['event', '2026-03-01T07:00:00.000Z'],
    ['check', '2026-03-01T09:30:00.000Z'], ['signal', '2026-03-01T09:30:00.000Z'], ['missed', '2026-03-01T09:30:00.000Z'],
  ]);
  expect(around.body.entries[1]).toMatchObject({ status: 'not-judged', machine: 'BM1', subgroups: 1 });
  expect(around.body.entries[2]).toMatchObject({ plan: 'Weld', everyMinutes: 30, due: 6 });
  expect(around.body.entries[4]).toMatchObject({ status: 'signal' });
  expect(around.body.entries[5]).toMatchObject({ signalId, linked: true });
  const narrow = await api.as('manager').call(getIncidentSurroundings, { params: { id }, query: { before: 1.5, after: 0 } });
  expect(narrow.body.entries.filter(({ kind }) => kind !== 'missed').map(({ kind }) => kind)).toEqual(['event']);
  // Counters show that the line stood for most of the hours without a check: nothing was due then.
  await database.work.client.productionCount.createMany({ data: ['2026-03-01T06:00:00Z', '2026-03-01T09:10:00Z'].map((at) => ({ plantId, machineId: plant.machines.bodyMaker, at: new Date(at), minutes: 20, good: 6000, rejected: 2 })) });
  const stood = await api.as('manager').call(getIncidentSurroundings, { params: { id }, query: {} });
  expect(stood.body.entries.map(({ kind }) => kind)).toEqual(['check', 'event', 'check', 'signal']);
  // The same rule, asked by the list of missed checks.
  const listed = await api.as('manager').call(listMissedChecks, { query: { from: stood.body.from, to: stood.body.to } });
  expect(listed.body.missed).toEqual([]);
  const unlinked = await api.as('technician').call(unlinkIncidentSignal, { params: { id, signalId }, query: { reason: 'It was another coil' } });
  expect(unlinked.body.signalList).toEqual([]);
  expect((await api.as('technician').call(unlinkIncidentSignal, { params: { id, signalId }, query: {} })).status).toBe(404);
  expect(unlinked.body.steps.map(({ action }) => action)).toEqual(['logged', 'signal-linked', 'signal-unlinked']);
});

async function raiseSignal(at: string): Promise<number> {
  const { plantId } = plant;
  const stream = await database.work.client.stream.findFirstOrThrow({ where: { plantId, machineId: plant.machines.bodyMaker, characteristicId: plant.characteristics['weld-overlap'] } });
  const moment = new Date(at);
  const signal = await database.work.client.signal.create({ data: { plantId, streamId: stream.id, chart: 'mean', rule: 'beyond-limits', side: 'above', firedAt: moment, firstAt: moment, lastAt: moment, seen: {} } });
  const subgroup = await database.work.client.subgroup.findFirstOrThrow({ where: { plantId, streamId: stream.id, takenAt: moment }, select: { sequence: true } });
  await database.work.client.signalPoint.create({ data: { plantId, streamId: stream.id, takenAt: moment, sequence: subgroup.sequence, chart: 'mean', rule: 'beyond-limits', side: 'above', signalId: signal.id } });
  return signal.id;
}

async function sessionHeaders(role: 'manager'): Promise<Record<string, string>> {
  await api.as(role).call(listIncidents, { query: {} });
  const { createHash, randomBytes } = await import('node:crypto');
  const token = randomBytes(32).toString('base64url');
  await database.work.client.session.create({ data: { plantId: plant.plantId, userId: plant.users[role], tokenHash: createHash('sha256').update(token).digest('hex'), csrf: 'none', expiresAt: new Date(Date.now() + 3_600_000) } });
  return { cookie: `seamledger_session=${token}` };
}
