import pg from 'pg';
import { afterAll, beforeAll, expect, it } from 'vitest';
import type { RequestOf } from '#contract/endpoint';
import { takeIncidentStep } from '#contract/incident-life';
import { closeIncident, linkIncidentSignal, logIncident, unlinkIncidentSignal } from '#contract/incidents';
import { addNoteLink, createNote, reviseNote, searchPastFixes } from '#contract/knowledge';
import { createSynonymGroup } from '#contract/synonyms';
import { PastFixes } from '../../apps/api/src/knowledge/past-fixes.js';
import { Work } from '../../apps/api/src/platform/work.js';
import { startApi, type TestApi } from '../db/api.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';
import { makePlant, type TestPlant } from '../factories/plant.js';

// Two processes of the same installation, as far as the database can tell: two applications, each with its own index.
let database: TestDatabase;
let writer: TestApi;
let reader: TestApi;
let plant: TestPlant;
beforeAll(async () => {
  database = await freshDatabase();
  plant = await makePlant(database.work);
  [writer, reader] = [await startApi(database), await startApi(database)];
});
afterAll(async () => { await writer.close(); await reader.close(); await database.close(); });

const texts = { title: 'Countersink deep after a bearing change', symptom: 'Countersink of one head 0.05 mm deeper', cause: 'Chuck set too low', fix: 'Chuck height set by the gauge', defect: 'short-cover-hook', stepKind: 'seamer' };
const found = async (api: TestApi, q: string) => (await api.as('operator').call(searchPastFixes, { query: { q } })).body.hits;
const titles = async (api: TestApi, q: string) => (await found(api, q)).map(({ title }) => title.map(({ text }) => text).join(''));
/** The promise is one second. */
const within = { timeout: 1000, interval: 20 };

it('finds in one process what another one wrote, revised, and called by a new word', async () => {
  expect(await titles(reader, 'zanzibar')).toEqual([]);
  const { body: note } = await writer.as('engineer').call(createNote, { body: { ...texts, title: 'Zanzibar roll' } });
  await expect.poll(() => titles(reader, 'zanzibar'), within).toEqual(['Zanzibar roll']);
  await writer.as('engineer').call(reviseNote, { params: { id: note.id }, body: { ...texts, title: 'Madagascar roll', revision: 1 } });
  await expect.poll(() => titles(reader, 'madagascar'), within).toEqual(['Madagascar roll']);
  expect(await titles(reader, 'zanzibar')).toEqual([]);
  expect(await titles(reader, 'lemur wheel')).toEqual([]);
  await writer.as('engineer').call(createSynonymGroup, { body: { preferred: 'Madagascar roll', others: ['lemur wheel'], reason: 'said so at the line' } });
  await expect.poll(() => titles(reader, 'lemur wheel'), within).toEqual(['Madagascar roll']);
});

it('finds an incident that another process logged, and counts what its closing says of a note', async () => {
  const { body: note } = await writer.as('engineer').call(createNote, { body: { ...texts, title: 'Ocelot chuck' } });
  const { body: incident } = await writer.as('engineer').call(logIncident, { body: {
    kind: 'complaint', customer: 'Brackwater Pantry', productId: plant.productId, lineId: plant.lineId, madeAt: '2026-03-01T08:00:00Z', receivedAt: '2026-03-02T08:00:00Z', cansComplained: 12, cansExamined: 12, cansLeaking: 4,
    leakPlace: 'juncture', defect: 'cold-weld', description: 'Quokka marks beside the crossover.',
  } });
  await expect.poll(async () => (await found(reader, 'quokka')).map(({ kind, id }) => [kind, id]), within).toEqual([['incident', incident.id]]);
  await writer.as('engineer').call(addNoteLink, { params: { id: note.id }, body: { incidentId: incident.id } });
  const step = async (body: RequestOf<typeof takeIncidentStep>['body']) => (await writer.as('engineer').call(takeIncidentStep, { params: { id: incident.id }, body })).body.revision;
  const contained = await step({ to: 'contained', containment: 'two pallets', revision: incident.revision });
  const causeKnown = await step({ to: 'cause-found', cause: 'chuck', causeCategory: 'tooling-wear', revision: contained });
  const acted = await step({ to: 'action-taken', action: 'new chuck', revision: causeKnown });
  await writer.as('engineer').call(closeIncident, { params: { id: incident.id }, body: { closingNote: 'Wombat of two hours without a leak', withoutVerification: 'Too few cans to compare.', revision: acted } });
  await expect.poll(async () => (await found(reader, 'ocelot')).map(({ confirmed, helped }) => [confirmed, helped]), within).toEqual([[1, 1]]);
  await expect.poll(async () => (await found(reader, 'wombat')).map(({ state, verified }) => [state, verified]), within).toEqual([['closed', true]]);
});

it('speaks of the machine of an incident’s linked signals, and forgets it when the link goes', async () => {
  const { plantId } = plant;
  const incident = await database.work.client.incident.findFirstOrThrow({ where: { plantId } });
  const stream = await database.work.client.stream.create({ data: { plantId, characteristicId: plant.characteristics['cover-hook'], productId: plant.productId, machineId: plant.machines.seamer, chartKind: 'i-mr', basis: 'can', rules: ['1'] } });
  const at = new Date('2026-03-01T08:00:00Z');
  const signal = await database.work.client.signal.create({ data: { plantId, streamId: stream.id, chart: 'mean', rule: 'beyond-limits', side: 'below', firedAt: at, firstAt: at, lastAt: at, seen: {} } });
  const machines = async () => (await found(reader, 'quokka')).map(({ machine, stepKind }) => [machine, stepKind]);
  expect(await machines()).toEqual([[null, null]]);
  await writer.as('engineer').call(linkIncidentSignal, { params: { id: incident.id }, body: { signalId: signal.id } });
  await expect.poll(machines, within).toEqual([['SE1', 'seamer']]);
  expect((await found(reader, 'quokka SE1')).map(({ id }) => id)).toContain(incident.id);
  await writer.as('engineer').call(unlinkIncidentSignal, { params: { id: incident.id, signalId: signal.id }, query: {} });
  await expect.poll(machines, within).toEqual([[null, null]]);
});

it('asks the database at each search where it cannot listen, as behind a pooler', async () => {
  const work = new Work(`${database.url}?pgbouncer=true`, 3);
  const pooled = await startApi({ ...database, work });
  expect(await titles(pooled, 'kiwi')).toEqual([]);
  await writer.as('engineer').call(createNote, { body: { ...texts, title: 'Kiwi gasket' } });
  expect(await titles(pooled, 'kiwi')).toEqual(['Kiwi gasket']);
  await pooled.close();
  await work.close();
});

it('takes a change back out when the transaction that made it is rolled back', async () => {
  await expect(database.work.run(async (tx) => {
    await tx.note.create({ data: { plantId: plant.plantId, ...texts, title: 'Narwhal lifter', place: '', howToCheck: '', verified: '', authorId: plant.users.engineer } });
    throw new Error('not kept');
  })).rejects.toThrow('not kept');
  await writer.as('engineer').call(createNote, { body: { ...texts, title: 'Pelican lifter' } });
  await expect.poll(() => titles(reader, 'pelican'), within).toEqual(['Pelican lifter']);
  expect(await titles(reader, 'narwhal')).toEqual([]);
});

// Only the reader has searched, so only it listens.
it('catches up after its line to the database was cut', async () => {
  const admin = new pg.Client({ connectionString: database.url });
  await admin.connect();
  const { rows } = await admin.query("SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE application_name = 'seamledger notices' AND datname = current_database()");
  expect(rows.length).toBe(1);
  // Written past every application while nobody listens, or hardly.
  await database.work.client.note.create({ data: { plantId: plant.plantId, ...texts, title: 'Heron spindle', place: '', howToCheck: '', verified: '', authorId: plant.users.engineer } });
  await expect.poll(() => titles(reader, 'heron'), within).toEqual(['Heron spindle']);
  await expect.poll(async () => (await admin.query("SELECT 1 FROM pg_stat_activity WHERE application_name = 'seamledger notices' AND datname = current_database()")).rows.length, { timeout: 5000, interval: 50 }).toBe(1);
  await admin.end();
});

it('forgets what is gone, and keeps answering while it builds anew', async () => {
  const { plantId } = plant;
  const kept = await database.work.client.note.createManyAndReturn({ data: Array.from({ length: 260 }, (_none, number) => ({ plantId, ...texts, title: `Puffin ${number}`, place: '', howToCheck: '', verified: '', authorId: plant.users.engineer })), select: { id: true } });
  await expect.poll(async () => (await reader.as('operator').call(searchPastFixes, { query: { q: 'puffin' } })).body.total, within).toBe(260);
  await database.work.client.note.deleteMany({ where: { plantId, id: { in: kept.slice(0, 230).map(({ id }) => id) } } });
  await expect.poll(async () => (await reader.as('operator').call(searchPastFixes, { query: { q: 'puffin' } })).body.total, within).toBe(30);
  const pastFixes = reader.app.get(PastFixes);
  await pastFixes.refresh(plantId);
  expect((await pastFixes.indexOf(plantId)).dead).toBe(0);
  expect(await titles(reader, 'heron')).toEqual(['Heron spindle']);
});
