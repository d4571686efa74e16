import { afterAll, beforeAll, expect, it } from 'vitest';
import { stepStudyRecord } from '#contract/capability-studies';
import { listSignatures, verifyRecordsEndpoint } from '#contract/records';
import { deleteRecordsPast, type DeletableKind, getRetention, liftLegalHold, placeLegalHold, setRetentionRule } from '#contract/retention';
import { listAudit } from '#contract/users';
import { freezePack } from '../../apps/api/src/flows/packs/freeze-pack.js';
import { storePack } from '../../apps/api/src/flows/packs/make-pack.js';
import { insertStudyRecord, sealOfStudyRecord } from '../../apps/api/src/studies/study-records.store.js';
import { record } from '../../apps/api/src/platform/audit.js';
import { startApi, type TestApi } from '../db/api.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';
import { makePackPlant, type PackPlant } from '../factories/packs.js';
import { givePasswords, PASSWORD } from '../factories/passwords.js';

// Packs and studies past their retention: listed, held, deleted by one act that names each, and known to the comparison.
let database: TestDatabase;
let api: TestApi;
let plant: PackPlant;
let [oldPack, youngPack, superseded, approved] = [0, 0, 0, 0];
/** Makes a study of 2016 in a state. */
let study: (state: keyof typeof STATES, supersedesId: number | null) => Promise<number>;
const STATES = { checked: ['checked'], approved: ['checked', 'approved'], superseded: ['superseded'] };
const now = new Date('2026-06-15T12:00:00Z');
const period = { from: '2026-03-01T00:00:00.000Z', to: '2026-04-01T00:00:00.000Z' };
const actor = () => ({ plantId: plant.plantId, userId: plant.users.engineer, name: 'Test engineer' });

beforeAll(async () => {
  database = await freshDatabase();
  api = await startApi(database, { now: () => now });
  plant = await makePackPlant(database.work, api);
  await givePasswords(database, plant);
  const freeze = async (title: string, at: string) => (await storePack(database.work, actor(), await freezePack(database.work, plant.plantId, { customer: 'Test customer', title, products: [plant.productId], studies: [], ...period }, { id: actor().userId, name: actor().name }, new Date(at)), null)) ?? 0;
  [oldPack, youngPack] = [await freeze('old', '2016-05-01T00:00:00Z'), await freeze('young', '2026-05-01T00:00:00Z')];
  study = (state, supersedesId) => database.work.run(async (tx) => {
    const createdAt = new Date('2016-05-02T00:00:00Z');
    const id = await insertStudyRecord(tx, actor(), { kind: 'gauge', title: `a ${state} one`, note: '', state: 'draft', productId: null, machineId: null, characteristicId: plant.characteristics['body-hook'] as number, gaugeId: plant.gaugeId, question: {}, inputs: {}, inputsHash: 'a'.repeat(64), results: {}, version: 'test', authorId: actor().userId, createdAt, supersedesId });
    for (const next of STATES[state]) await tx.studyRecord.update({ where: { plantId_id: { plantId: plant.plantId, id } }, data: { state: next, ...(next === 'approved' ? { approvedAt: createdAt } : {}) } });
    await record(tx, actor(), 'study.kept', `study record ${id}`, { after: { seal: await sealOfStudyRecord(tx, plant.plantId, id) } });
    return id;
  });
  superseded = await study('superseded', null);
  approved = await study('approved', superseded);
  await database.work.client.gaugeTrial.create({ data: { plantId: plant.plantId, recordId: superseded, sequence: 1, person: 0, part: 0, repeat: 0, value: 1.75, enteredBy: actor().userId, enteredAt: now } });
}, 180_000);
afterAll(async () => { await api.close(); await database.close(); });

const past = async () => (await api.as('administrator').call(getRetention, {})).body.pastRecords.map(({ kind, records, kept }) => [kind, records, kept]);
const rule = (kind: DeletableKind, years: number) => api.as('administrator').call(setRetentionRule, { body: { kind, years, source: 'the plant’s own rule', reason: 'as agreed' } });
const remove = (kind: DeletableKind, records: number, role: 'administrator' | 'manager' = 'administrator', password = PASSWORD) => api.as(role).call(deleteRecordsPast, { body: { kind, records, password, reason: 'past ten years' } });
const faults = async () => (await api.as('manager').call(verifyRecordsEndpoint, {})).body.recordFaults;

it('keeps all without a rule, and lists what is past one: superseded studies only', async () => {
  expect(await past()).toEqual([]);
  expect((await remove('pack', 1)).problem).toMatchObject({ code: 'wrong-state', detail: expect.stringContaining('kept for ever') });
  expect((await rule('pack', 9)).status).toBe(201);
  expect((await rule('study-record', 9)).status).toBe(201);
  expect(await past()).toEqual([['pack', 1, 0], ['study-record', 1, 0]]);
});

it('is kept by a legal hold of its customer, product or span, and a study without a product by any', async () => {
  const held = async (given: object) => {
    const placed = await api.as('manager').call(placeLegalHold, { body: { name: 'Claim 9', reason: 'counsel asked for it', ...given } });
    expect(placed.status, placed.text).toBe(201);
    const counts = (await past()).map(([, records, kept]) => [records, kept]);
    const refused = await remove('pack', 1);
    expect((await api.as('administrator').call(liftLegalHold, { params: { id: placed.body.id }, body: { reason: 'settled' } })).status).toBe(200);
    return [...counts, refused.problem?.code];
  };
  const keptAll = [[0, 1], [0, 1], 'changed-meanwhile'];
  expect(await held({ customer: 'Test customer' })).toEqual(keptAll);
  expect(await held({ productId: plant.productId })).toEqual(keptAll);
  expect(await held({ from: '2026-03-31T00:00:00Z', until: '2026-05-01T00:00:00Z' })).toEqual(keptAll);
  const incident = (madeAt: string) => database.work.client.incident.create({ data: { plantId: plant.plantId, kind: 'complaint', customer: 'Test customer', productId: plant.productId, lineId: plant.lineId, canCode: '', madeAt: new Date(madeAt), receivedAt: now, cansComplained: 1, cansExamined: 0, leakPlace: 'seam', defect: 'droop', description: 'leaks', loggedBy: plant.users.engineer } });
  expect(await held({ incidentId: (await incident('2026-03-10T00:00:00Z')).id })).toEqual(keptAll);
});

it('goes only by an administrator with the password and the number that was seen, and never past the program', async () => {
  expect((await remove('pack', 1, 'manager')).status).toBe(403);
  expect((await remove('pack', 1, 'administrator', 'a wrong password')).problem.code).toBe('wrong-credentials');
  expect((await remove('pack', 2)).problem.code).toBe('changed-meanwhile');
  const db = database.work.client;
  await expect(db.$executeRaw`DELETE FROM pack WHERE plant_id = ${plant.plantId} AND id = ${oldPack}`).rejects.toThrow('never changed');
  await expect(db.$executeRaw`DELETE FROM study WHERE plant_id = ${plant.plantId}`).rejects.toThrow('never changed');
  await expect(db.$executeRaw`DELETE FROM study_step WHERE plant_id = ${plant.plantId} AND record_id = ${superseded}`).rejects.toThrow('never changed');
  await expect(db.$executeRaw`DELETE FROM study_record WHERE plant_id = ${plant.plantId} AND id = ${superseded}`).rejects.toThrow('never removed');
  await expect(db.$executeRaw`DELETE FROM gauge_trial WHERE plant_id = ${plant.plantId} AND record_id = ${superseded}`).rejects.toThrow('are kept');
});

it('is deleted by one act that names each with its content, which the comparison knows', async () => {
  expect(await faults()).toEqual([]);
  const packs = await remove('pack', 1);
  expect(packs.body).toMatchObject({ kind: 'pack', records: 1, checks: 0, actor: 'Test administrator', takenBefore: '2017-06-15T00:00:00.000Z' });
  const studies = await remove('study-record', 1);
  expect(studies.body).toMatchObject({ kind: 'study-record', records: 1 });
  expect((await database.work.client.pack.findMany()).map(({ id }) => id)).toEqual([youngPack]);
  expect((await database.work.client.studyRecord.findMany()).map(({ id, supersedesId }) => [id, supersedesId])).toEqual([[approved, superseded]]);
  expect(await database.work.client.gaugeTrial.count({ where: { recordId: superseded } })).toBe(0);
  const [entry] = (await api.as('administrator').call(listAudit, { query: { subject: `retention act ${packs.body.id}` } })).body;
  expect(entry).toMatchObject({ action: 'records.deleted', actor: 'Test administrator', after: { kind: 'pack', years: 9, hash: packs.body.hash, hashes: { [oldPack]: expect.stringMatching(/^[0-9a-f]{64}$/) } } });
  expect(await faults()).toEqual([]);
  expect(await past()).toEqual([['pack', 0, 0], ['study-record', 0, 0]]);
  expect((await api.as('manager').call(getRetention, {})).body.acts.map(({ kind, records }) => [kind, records])).toEqual([['study-record', 1], ['pack', 1]]);
});

it('does not stand in the way of another study that was to take its place', async () => {
  const next = await study('checked', superseded);
  const { contentHash } = (await api.as('manager').call(listSignatures, { query: { kind: 'study-record', recordId: next } })).body;
  const stepped = await api.as('manager').call(stepStudyRecord, { params: { recordId: next }, body: { state: 'approved', contentHash, password: PASSWORD, comment: 'read' } });
  expect(stepped.body, stepped.text).toMatchObject({ id: next, state: 'approved' });
});

it('does not go where it is not as the trail told it, and shows where it went another way', async () => {
  await rule('pack', 1);
  const change = (title: string) => database.work.run(async (tx) => {
    await tx.$executeRawUnsafe("SET LOCAL session_replication_role = 'replica'");
    await tx.$executeRaw`UPDATE pack SET title = ${title}, made_at = '2020-01-01T00:00:00Z' WHERE plant_id = ${plant.plantId} AND id = ${youngPack}`;
  });
  await change('better');
  expect((await remove('pack', 1)).problem).toMatchObject({ code: 'wrong-state', detail: expect.stringContaining('not as the audit trail told it') });
  await change('young');
  const turnByte = (by: 1 | 255) => database.work.run(async (tx) => {
    await tx.$executeRawUnsafe("SET LOCAL session_replication_role = 'replica'");
    await tx.$executeRaw`UPDATE pack SET content = set_byte(content, 40, (get_byte(content, 40) + ${by}::int) % 256) WHERE plant_id = ${plant.plantId} AND id = ${youngPack}`;
  });
  await turnByte(1);
  expect((await remove('pack', 1)).problem, 'its hash is as told, its bytes are not').toMatchObject({ code: 'wrong-state', detail: expect.stringContaining('not as the audit trail told it') });
  await turnByte(255);
  await database.work.run(async (tx) => {
    await tx.$executeRawUnsafe("SET LOCAL session_replication_role = 'replica'");
    await tx.$executeRaw`DELETE FROM pack WHERE plant_id = ${plant.plantId}`;
  });
  expect(await faults()).toEqual([{ record: 'pack', id: youngPack, kind: 'gone' }]);
});
