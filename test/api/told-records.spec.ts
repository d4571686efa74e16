import { afterAll, beforeAll, expect, it } from 'vitest';
import { decideSpecification, listProposals } from '#contract/approvals';
import { keepCapabilityStudy, stepStudyRecord } from '#contract/capability-studies';
import { createSpecification } from '#contract/plant';
import { listSignatures, verifyRecordsEndpoint } from '#contract/records';
import { freezeLimits, listStreams } from '#contract/specifications';
import { saveStudy } from '#contract/studies';
import { freezePack } from '../../apps/api/src/flows/packs/freeze-pack.js';
import { storePack } from '../../apps/api/src/flows/packs/make-pack.js';
import { verifyPlant, verifyRecords } from '../../apps/api/src/flows/verify-records.js';
import { startApi, type TestApi } from '../db/api.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';
import { makePackPlant, type PackPlant } from '../factories/packs.js';
import { givePasswords, PASSWORD } from '../factories/passwords.js';

// Limits, specifications, studies, packs and signatures are held against what the audit trail told of them when they were written.
let database: TestDatabase;
let api: TestApi;
let plant: PackPlant;
const period = { from: '2026-03-01T00:00:00.000Z', to: '2026-04-01T00:00:00.000Z' };
beforeAll(async () => {
  database = await freshDatabase();
  api = await startApi(database);
  plant = await makePackPlant(database.work, api);
  await givePasswords(database, plant);
  const { streams } = (await api.as('engineer').call(listStreams, { query: {} })).body;
  const stream = streams.find(({ characteristic }) => characteristic.id === plant.characteristics['flange-width']);
  expect((await api.as('engineer').call(freezeLimits, { params: { streamId: stream?.id ?? 0 }, body: { ...period, excluded: [{ takenAt: '2026-03-02T03:00:00Z', sequence: 1, reason: 'oven was being set' }], reason: 'steady running' } })).status).toBe(201);
  for (const usl of [2.0625, 2.1]) {
    const proposed = await api.as('engineer').call(createSpecification, { body: { productId: plant.productId, characteristicId: plant.characteristics['flange-width'], lsl: 1, target: null, usl, effectiveFrom: '2026-03-20T00:00:00Z', reason: 'the drawing of March' } });
    expect(proposed.status).toBe(201);
    if (usl === 2.1) continue;
    const contentHash = (await api.as('manager').call(listProposals, {})).body.find(({ id }) => id === proposed.body.id)?.contentHash ?? '';
    expect((await api.as('manager').call(decideSpecification, { params: { id: String(proposed.body.id) }, body: { decision: 'approved', contentHash, password: PASSWORD, comment: 'as drawn' } })).status).toBeLessThan(300);
  }
  expect((await api.as('engineer').call(saveStudy, { body: { title: 'Chart of a trial', note: '', state: { tool: 'chart' }, requests: [{ method: 'chart', body: { kind: 'xbar-r', subgroups: [[1, 1.25], [1.5, 1], [1, 1.125]] } }] } })).status).toBe(201);
  const kept = await api.as('engineer').call(keepCapabilityStudy, { body: { title: 'Flange width', note: '', product: plant.productId, machine: plant.machines.flanger, characteristic: plant.characteristics['flange-width'], ...period } });
  expect(kept.status).toBe(201);
  const { contentHash } = (await api.as('manager').call(listSignatures, { query: { kind: 'study-record', recordId: kept.body.id } })).body;
  expect((await api.as('manager').call(stepStudyRecord, { params: { recordId: kept.body.id }, body: { state: 'checked', contentHash, password: PASSWORD, comment: 'compared' } })).status).toBeLessThan(300);
  const actor = { plantId: plant.plantId, userId: plant.users.engineer, name: 'Test engineer' };
  await storePack(database.work, actor, await freezePack(database.work, plant.plantId, { customer: 'Test customer', title: 'told', products: [plant.productId], studies: [], ...period }, { id: actor.userId, name: actor.name }, new Date()), null);
}, 180_000);
afterAll(async () => { await api.close(); await database.close(); });

it('finds all of them as they were written, and says what was not told', async () => {
  const { body } = await api.as('manager').call(verifyRecordsEndpoint, {});
  expect([body.faults, body.recordFaults]).toEqual([0, []]);
  const counts = Object.fromEntries(body.records.map(({ record, compared, untold }) => [record, [compared, untold]]));
  // The factory wrote five specifications and two studies past the acts, before the first one that is told.
  expect(counts).toEqual({ limits: [1, 0], specification: [2, 5], study: [1, 2], 'study-record': [1, 0], pack: [1, 0], signature: [2, 0] });
});

const newest = (table: string) => `plant_id = $PLANT AND id = (SELECT max(id) FROM ${table} WHERE plant_id = $PLANT)`;
const corruptions: [record: string, kind: string, sql: string][] = [
  ['limits', 'changed', `UPDATE limits SET centre = centre * (1 + 1e-15) WHERE ${newest('limits')}`],
  ['limits', 'changed', `UPDATE limits SET effective_from = effective_from + interval '1 millisecond' WHERE ${newest('limits')}`],
  ['limits', 'changed', `UPDATE limits SET excluded = '[]' WHERE ${newest('limits')}`],
  ['limits', 'changed', `UPDATE limits SET reason = reason || '.' WHERE ${newest('limits')}`],
  ['limits', 'gone', `DELETE FROM limits WHERE ${newest('limits')}`],
  ['limits', 'unsealed', `INSERT INTO limits SELECT (jsonb_populate_record(l, '{"id": 987654}')).* FROM limits l WHERE ${newest('limits')}`],
  ['specification', 'changed', `UPDATE specification SET usl = usl + 0.0001 WHERE ${newest('specification')}`],
  ['specification', 'changed', `UPDATE specification SET target = 1.5 WHERE ${newest('specification')}`],
  ['specification', 'changed', `UPDATE specification SET state = 'approved' WHERE ${newest('specification')}`],
  ['specification', 'gone', `DELETE FROM specification WHERE ${newest('specification')}`],
  ['study', 'changed', `UPDATE study SET answers = jsonb_set(answers, '{0,method}', '"other"') WHERE ${newest('study')}`],
  ['study', 'changed', `UPDATE study SET note = 'better than it was' WHERE ${newest('study')}`],
  ['study-record', 'changed', `UPDATE study_record SET results = jsonb_set(results, '{streams,0,n}', '999') WHERE ${newest('study_record')}`],
  ['study-record', 'changed', `UPDATE study_record SET verdict = 'acceptable' WHERE ${newest('study_record')}`],
  ['study-record', 'gone', `DELETE FROM study_record WHERE ${newest('study_record')}`],
  ['pack', 'changed', `UPDATE pack SET title = 'another' WHERE ${newest('pack')}`],
  ['pack', 'changed', `UPDATE pack SET content = (SELECT set_byte(content, 40, (get_byte(content, 40) + 1) % 256)) WHERE ${newest('pack')}`],
  ['pack', 'gone', `DELETE FROM pack WHERE ${newest('pack')}`],
  ['signature', 'changed', `UPDATE signature SET printed_name = 'Somebody else' WHERE ${newest('signature')}`],
  ['signature', 'changed', `UPDATE signature SET meaning = 'approved' WHERE ${newest('signature')}`],
  ['signature', 'gone', `DELETE FROM signature WHERE ${newest('signature')}`],
  ['signature', 'unsealed', `INSERT INTO signature SELECT (jsonb_populate_record(s, '{"id": 987654}')).* FROM signature s WHERE ${newest('signature')}`],
];

it.each(corruptions)('finds a %s that is %s past the program', async (record, kind, sql) => {
  class Undo extends Error {}
  await database.work.client.$transaction(async (tx) => {
    await tx.$executeRawUnsafe("SET LOCAL session_replication_role = 'replica'");
    expect(await tx.$executeRawUnsafe(sql.replaceAll('$PLANT', String(plant.plantId)))).toBe(1);
    const { recordFaults, checkFaults } = await verifyRecords(tx as Parameters<typeof verifyRecords>[0], plant.plantId);
    expect(recordFaults).toEqual([{ record, kind, id: expect.any(Number) }]);
    expect(checkFaults).toEqual([]);
    throw new Undo();
  }, { timeout: 30_000 }).catch((error: unknown) => { if (!(error instanceof Undo)) throw error; });
}, 60_000);

it('goes on where the bytes of a pack cannot be read at all', async () => {
  const broken = async (by: number) => database.work.run(async (tx) => {
    await tx.$executeRawUnsafe("SET LOCAL session_replication_role = 'replica'");
    await tx.$executeRaw`UPDATE pack SET content = set_byte(content, 0, (get_byte(content, 0) + ${by}::int) % 256) WHERE plant_id = ${plant.plantId}`;
  });
  await broken(1);
  const found = await verifyPlant(database.work, plant.plantId);
  expect([found.recordFaults, found.auditFaults]).toEqual([[{ record: 'pack', id: expect.any(Number), kind: 'changed' }], []]);
  await broken(255);
});

it('finds nothing once all of it is undone', async () => {
  expect((await verifyRecords(database.work.read, plant.plantId)).recordFaults).toEqual([]);
});
