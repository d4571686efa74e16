import { afterAll, beforeAll, expect, it } from 'vitest';
import { addNoteLink, confirmNoteLink, createNote, getNote, listDefects, rejectNoteLink, reviseNote, searchPastFixes } from '#contract/knowledge';
import { getIncident, logIncident } from '#contract/incidents';
import { announce } from '../../apps/api/src/platform/outbox.js';
import { seedNotes } from '../../seed/notes.js';
import { startApi, type TestApi } from '../db/api.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';
import { makePlant, type TestPlant } from '../factories/plant.js';

let database: TestDatabase;
let api: TestApi;
let plant: TestPlant;
beforeAll(async () => {
  database = await freshDatabase();
  plant = await makePlant(database.work);
  api = await startApi(database);
  const { plantId } = plant;
  await database.work.client.note.createMany({ data: seedNotes.map(({ defectCode, machineCode: _code, author: _author, daysAgo, ...note }) => ({ ...note, plantId, defect: defectCode, machineId: note.stepKind === 'seamer' ? plant.machines.seamer : null, authorId: plant.users.engineer, changedAt: new Date(Date.now() - daysAgo * 86_400_000) })) });
});
afterAll(async () => { await api.close(); await database.close(); });

const texts = { title: 'Countersink deep after a bearing change', symptom: 'Countersink of one head 0.05 mm deeper', cause: 'Chuck set too low', fix: 'Chuck height set by the gauge', defect: 'short-cover-hook', stepKind: 'seamer' };
const titles = async (q: string, more: object = {}) => (await api.as('operator').call(searchPastFixes, { query: { q, ...more } })).body.hits.map(({ title }) => title.map(({ text }) => text).join(''));

it('writes a note, revises it by revision, and keeps the old text in the audit trail', async () => {
  const written = await api.as('technician').call(createNote, { body: { ...texts, machineId: plant.machines.seamer } });
  expect(written.status).toBe(201);
  expect(written.body).toMatchObject({ author: 'Test technician', machine: 'SE1', revision: 1, verified: '', links: [] });
  const { id } = written.body;
  const revised = await api.as('engineer').call(reviseNote, { params: { id }, body: { ...texts, verified: 'Three cans of the head in limits', revision: 1 } });
  expect(revised.body).toMatchObject({ revision: 2, verified: 'Three cans of the head in limits', machineId: null });
  const stale = await api.as('engineer').call(reviseNote, { params: { id }, body: { ...texts, revision: 1 } });
  expect(stale.problem.code).toBe('changed-meanwhile');
  const [row] = await database.work.client.auditRow.findMany({ where: { plantId: plant.plantId, subject: `note ${id}`, action: 'note.revised' } });
  expect(row).toMatchObject({ before: { verified: '' }, after: { verified: 'Three cans of the head in limits' } });
});

it('names each field of a note that is wrong', async () => {
  const bad = await api.as('engineer').call(createNote, { body: { ...texts, defect: 'nothing', stepKind: 'body-maker', machineId: plant.machines.seamer } });
  expect(bad.problem.errors).toEqual([{ field: 'defect', expected: 'a code of the defect taxonomy' }, { field: 'machineId', expected: 'a machine of the step body-maker' }]);
  expect((await api.as('engineer').call(createNote, { body: { ...texts, title: '  ' } })).problem.errors?.[0]?.field).toBe('title');
  expect((await api.as('operator').call(createNote, { body: texts })).status).toBe(403);
  expect((await api.as('engineer').call(createNote, { body: { ...texts, incidentId: 99_999 } })).problem.code).toBe('not-found');
  expect(await titles('Countersink deep after a bearing change')).toHaveLength(new Set(await titles('Countersink deep after a bearing change')).size);
});

it('finds a note at once after it was written or revised, by whichever process', async () => {
  expect(await titles('zanzibar')).toEqual([]);
  const { body: note } = await api.as('engineer').call(createNote, { body: { ...texts, title: 'Zanzibar roll' } });
  expect(await titles('zanzibr')).toEqual(['Zanzibar roll']);
  // Another process writes past this one's index.
  await database.work.client.note.update({ where: { plantId_id: { plantId: plant.plantId, id: note.id } }, data: { title: 'Madagascar roll', revision: { increment: 1 }, changedAt: new Date() } });
  await expect.poll(() => titles('madagascar'), { timeout: 1000, interval: 20 }).toEqual(['Madagascar roll']);
  expect(await titles('zanzibar')).toEqual([]);
});

it('searches by misspelt synonyms, filters, and asks about words with two meanings', async () => {
  expect((await titles('cros-over leak')).slice(0, 3)).toContain('Leaks at the juncture while every measurement is in specification');
  const { body } = await api.as('operator').call(searchPastFixes, { query: { q: 'overlap', step: 'seamer' } });
  expect(body.hits.every(({ stepKind }) => stepKind === 'seamer')).toBe(true);
  expect(body.facets.machine).toContainEqual({ value: 'SE1', name: 'SE1', count: body.facets.step.find(({ value }) => value === 'seamer')?.count });
  expect(body.ambiguous.map(({ term }) => term)).toEqual(['overlap']);
  const { body: newest } = await api.as('operator').call(searchPastFixes, { query: {} });
  expect(newest.total).toBeGreaterThan(30);
  for (const q of ['a:b', 'title:', '+', '~', 'weld~99', '*', "'; DROP TABLE note; --"]) expect((await api.as('operator').call(searchPastFixes, { query: { q } })).status, q).toBe(200);
  expect((await api.as('operator').call(searchPastFixes, { query: { q: 'x'.repeat(401) } })).status).toBe(400);
});

it('suggests notes for a logged incident once; a person confirms or rejects them', async () => {
  const { body: incident } = await api.as('engineer').call(logIncident, { body: {
    kind: 'complaint', customer: 'Brackwater Pantry', productId: plant.productId, lineId: plant.lineId, madeAt: '2026-03-01T08:00:00Z', receivedAt: '2026-03-02T08:00:00Z', cansComplained: 12, cansExamined: 12, cansLeaking: 4,
    leakPlace: 'juncture', defect: 'cold-weld', description: 'Leaks at the crossover, the tear strip breaks at the leading end of half A.',
  } });
  await api.react();
  const suggested = (await api.as('manager').call(getIncident, { params: { id: incident.id } })).body.notes;
  expect(suggested.length).toBeGreaterThan(0);
  expect(suggested.length).toBeLessThanOrEqual(5);
  expect(suggested.map(({ noteTitle }) => noteTitle).slice(0, 2)).toContain('Peel strip snaps in the first five millimetres, half A only');
  expect(suggested.every(({ confirmedBy, reasons, score }) => confirmedBy === null && reasons.length > 0 && score !== null)).toBe(true);
  const [first, second] = suggested;
  const confirmed = await api.as('technician').call(confirmNoteLink, { params: { id: first?.id ?? 0 } });
  expect(confirmed.body).toMatchObject({ confirmedBy: 'Test technician', incidentId: incident.id, about: 'Cold weld, Brackwater Pantry' });
  expect((await api.as('engineer').call(confirmNoteLink, { params: { id: first?.id ?? 0 } })).body.confirmedBy).toBe('Test technician');
  expect((await api.as('operator').call(rejectNoteLink, { params: { id: second?.id ?? 0 } })).status).toBe(403);
  expect((await api.as('technician').call(rejectNoteLink, { params: { id: second?.id ?? 0 } })).status).toBe(200);
  // The same message once more: nothing is added, and the rejected note stays away.
  await database.work.run((tx) => announce(tx, plant.plantId, [{ kind: 'incident.changed', payload: { incidentId: incident.id, change: 'logged' } }]));
  await api.react();
  const after = (await api.as('manager').call(getIncident, { params: { id: incident.id } })).body.notes;
  expect(after.map(({ id }) => id).sort()).toEqual(suggested.map(({ id }) => id).filter((id) => id !== second?.id).sort());
  const note = (await api.as('manager').call(getNote, { params: { id: first?.noteId ?? 0 } })).body;
  expect(note.links).toMatchObject([{ incidentId: incident.id, confirmedBy: 'Test technician' }]);
});

it('suggests notes for a raised signal by characteristic and machine', async () => {
  const { plantId } = plant;
  const stream = await database.work.client.stream.create({ data: { plantId, characteristicId: plant.characteristics['cover-hook'], productId: plant.productId, machineId: plant.machines.seamer, unitId: plant.headIds[0], chartKind: 'i-mr', basis: 'can', rules: ['1'] } });
  const at = new Date('2026-03-01T08:00:00Z');
  const signal = await database.work.client.signal.create({ data: { plantId, streamId: stream.id, chart: 'mean', rule: 'beyond-limits', side: 'below', firedAt: at, firstAt: at, lastAt: at, seen: {} } });
  await database.work.run((tx) => announce(tx, plantId, [{ kind: 'signal.raised', payload: { signalId: signal.id, streamId: stream.id } }]));
  await api.react();
  const links = await database.work.client.noteLink.findMany({ where: { plantId, signalId: signal.id }, include: { note: true }, orderBy: { score: 'desc' } });
  expect(links.map(({ note }) => note.title).slice(0, 3)).toContain('All heads lose cover hook slowly over two weeks');
  expect(links[0]?.reasons).toContainEqual({ kind: 'same-machine', value: 'SE1' });
  expect(links.every(({ confirmedBy }) => confirmedBy === null)).toBe(true);
});

it('remembers what people rejected and confirmed: the next like incident has it lower or higher, with the reason', async () => {
  const log = async () => {
    const { body } = await api.as('engineer').call(logIncident, { body: {
      kind: 'complaint', customer: 'Brackwater Pantry', productId: plant.productId, lineId: plant.lineId, madeAt: '2026-03-01T08:00:00Z', receivedAt: '2026-03-02T08:00:00Z', cansComplained: 5, cansExamined: 5, cansLeaking: 1,
      leakPlace: 'juncture', defect: 'juncture-leak', description: 'Leaks at the crossover, droop of the cover hook, weld step.',
    } });
    await api.react();
    return { id: body.id, notes: (await api.as('manager').call(getIncident, { params: { id: body.id } })).body.notes };
  };
  const first = await log();
  const [best, next] = first.notes;
  expect(next).toBeDefined();
  await api.as('engineer').call(rejectNoteLink, { params: { id: best?.id ?? 0 } });
  await api.as('engineer').call(confirmNoteLink, { params: { id: next?.id ?? 0 } });
  const second = await log();
  const scoreOf = (notes: typeof first.notes, noteId: number | undefined) => notes.find((link) => link.noteId === noteId)?.score ?? 0;
  expect(scoreOf(second.notes, best?.noteId)).toBeLessThan(best?.score ?? 0);
  expect(scoreOf(second.notes, next?.noteId)).toBeGreaterThan(next?.score ?? 0);
  expect(second.notes.find(({ noteId }) => noteId === next?.noteId)?.reasons).toContainEqual({ kind: 'confirmed-before', value: '1' });
  // Rejected is remembered, not deleted; a person may still link it.
  const stored = await database.work.client.noteLink.findUniqueOrThrow({ where: { plantId_id: { plantId: plant.plantId, id: best?.id ?? 0 } } });
  expect([stored.rejectedBy, stored.confirmedBy]).toEqual([plant.users.engineer, null]);
  await api.as('engineer').call(addNoteLink, { params: { id: best?.noteId ?? 0 }, body: { incidentId: first.id } });
  expect((await api.as('manager').call(getIncident, { params: { id: first.id } })).body.notes.find(({ noteId }) => noteId === best?.noteId)?.confirmedBy).toBe('Test engineer');
});

it('lets a note cite a signal or an incident, one at a time', async () => {
  const incident = await database.work.client.incident.findFirstOrThrow({ where: { plantId: plant.plantId } });
  const { body: note } = await api.as('engineer').call(createNote, { body: { ...texts, title: 'Written at closing', incidentId: incident.id } });
  expect(note.links).toMatchObject([{ incidentId: incident.id, confirmedBy: 'Test engineer', reason: 'the note was written from it' }]);
  const neither = await api.as('engineer').call(addNoteLink, { params: { id: note.id }, body: {} });
  expect(neither.problem.code).toBe('invalid-input');
  const again = await api.as('engineer').call(addNoteLink, { params: { id: note.id }, body: { incidentId: incident.id } });
  expect(again.body.links).toHaveLength(1);
});

it('shows the taxonomy with severity schemes apart, sources and cautions', async () => {
  const { body } = await api.as('operator').call(listDefects, {});
  const pinhole = body.defects.find(({ code }) => code === 'pinhole');
  expect(new Set(pinhole?.severities.map(({ scheme }) => scheme)).size).toBe(3);
  expect(pinhole?.sources.length).toBeGreaterThan(0);
  for (const { origins, caution, code } of body.defects) {
    expect(origins.reduce((sum, { weight }) => sum + weight, 0), code).toBeCloseTo(1, 9);
    expect(origins.map(({ weight }) => weight), code).toEqual(origins.map(({ weight }) => weight).sort((a, b) => b - a));
    expect(caution, code).toContain('process authority');
  }
  expect(pinhole?.origins[0]).toMatchObject({ step: 'body-maker', units: 'machine', characteristics: ['weld-overlap', 'weld-thickness'] });
  expect(body.leakPlaces).toContain('juncture');
  expect(body.cautions.join(' ')).toContain('never releases product');
});
