import { afterAll, beforeAll, expect, it } from 'vitest';
import { createNote, searchPastFixes } from '#contract/knowledge';
import { changeSynonymGroup, createSynonymGroup, listSynonymRevisions, listSynonyms } from '#contract/synonyms';
import { startApi, type TestApi } from '../db/api.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';
import { makePlant, type TestPlant } from '../factories/plant.js';

let database: TestDatabase;
let api: TestApi;
let plant: TestPlant;
beforeAll(async () => { database = await freshDatabase(); plant = await makePlant(database.work); api = await startApi(database); });
afterAll(async () => { await api.close(); await database.close(); });

const texts = { symptom: 'Cover hook short on all heads', cause: 'Roll worn', fix: 'Roll renewed', defect: 'short-cover-hook', stepKind: 'seamer' };
const titles = async (q: string) => (await api.as('operator').call(searchPastFixes, { query: { q } })).body.hits.map(({ title }) => title.map(({ text }) => text).join(''));
const add = (preferred: string, others: string[]) => api.as('engineer').call(createSynonymGroup, { body: { preferred, others, reason: 'said so at the line' } });

it('adds words of the plant, finds by them, changes and retires them, with a trail', async () => {
  await api.as('engineer').call(createNote, { body: { ...texts, title: 'Roll profile renewed on the second turret' } });
  expect(await titles('merry-go-round')).toEqual([]);
  const { status, body: group } = await add('turret', ['merry-go-round', 'Karussell']);
  expect([status, group.author, group.revision]).toEqual([201, 'Test engineer', 1]);
  expect(await titles('merry go round')).toEqual(['Roll profile renewed on the second turret']);
  expect(await titles('Karusell')).toEqual(['Roll profile renewed on the second turret']);
  const stale = await api.as('engineer').call(changeSynonymGroup, { params: { id: group.id }, body: { preferred: 'turret', others: ['carousel'], retired: false, revision: 7, reason: 'from an old page' } });
  expect(stale.problem.code).toBe('changed-meanwhile');
  await api.as('engineer').call(changeSynonymGroup, { params: { id: group.id }, body: { preferred: 'turret', others: ['carousel'], retired: false, revision: 1, reason: 'nobody says the old words' } });
  expect(await titles('merry-go-round')).toEqual([]);
  expect(await titles('carousel')).toEqual(['Roll profile renewed on the second turret']);
  const { body: retired } = await api.as('engineer').call(changeSynonymGroup, { params: { id: group.id }, body: { preferred: 'turret', others: ['carousel'], retired: true, revision: 2, reason: 'the turret was sold' } });
  expect(retired).toMatchObject({ retired: true, revision: 3 });
  expect(await titles('carousel')).toEqual([]);
  const trail = await database.work.client.auditRow.findMany({ where: { plantId: plant.plantId, subject: `synonyms ${group.id}` }, orderBy: { id: 'asc' } });
  expect(trail.map(({ action }) => action)).toEqual(['synonyms.made', 'synonyms.changed', 'synonyms.retired']);
  expect(trail[1]).toMatchObject({ before: { others: ['merry-go-round', 'Karussell'] }, after: { others: ['carousel'] } });
  const { revisions } = (await api.as('operator').call(listSynonymRevisions, { params: { id: group.id } })).body;
  expect(revisions.map(({ revision, others, retired, author, reason }) => [revision, others, retired, author, reason])).toEqual([
    [3, ['carousel'], true, 'Test engineer', 'the turret was sold'], [2, ['carousel'], false, 'Test engineer', 'nobody says the old words'], [1, ['merry-go-round', 'Karussell'], false, 'Test engineer', 'said so at the line'],
  ]);
  expect((await api.as('operator').call(listSynonymRevisions, { params: { id: 99_999 } })).problem.code).toBe('not-found');
  await expect(database.work.client.$executeRaw`UPDATE synonym_revision SET reason = 'another'`).rejects.toThrow(/never changed/);
  const { body } = await api.as('operator').call(listSynonyms, {});
  expect(body.own).toMatchObject([{ id: group.id, retired: true }]);
  expect(body.trade.map(({ preferred }) => preferred)).toContain('cover hook');
  expect(body.ambiguous.map(({ term }) => term)).toContain('overlap');
});

it('adds to a group of the trade', async () => {
  expect(await titles('proboscis')).toEqual([]);
  expect((await add('cover hook', ['proboscis'])).status).toBe(201);
  expect(await titles('proboscis')).toEqual(['Roll profile renewed on the second turret']);
});

it.each([
  ['a word of another group', 'peg', ['end hook'], [{ field: 'others.0', expected: 'a word that no other group has: “end hook” belongs to “cover hook”' }]],
  ['a word with two meanings, which would merge what runs opposite ways', 'tightness', ['wrinkle'], [{ field: 'others.0', expected: 'a word with one meaning: “wrinkle” may be tightness or wrinkle number, and the search asks which' }]],
  ['a word with two meanings as the name', 'overlap', ['engaged length'], [{ field: 'preferred', expected: 'a word with one meaning: “overlap” may be seam overlap or weld overlap, and the search asks which' }]],
  ['a word twice', 'peg', ['pin', 'Pins'], [{ field: 'others.1', expected: 'words that differ: “Pins” is the same as “pin” in a search' }]],
  ['a word that is there already', 'cover hook', ['EH'], [{ field: 'preferred', expected: 'a group of its own: there is one for “cover hook”, change that one' }, { field: 'others.0', expected: 'a word that is not there yet: “EH” is in the group of “cover hook” already' }]],
  ['nothing but signs', '…', ['!'], [{ field: 'preferred', expected: 'a word with letters or digits' }, { field: 'others.0', expected: 'words that differ: “!” is the same as “…” in a search' }]],
])('refuses %s, naming it', async (_what, preferred, others, errors) => {
  const { status, problem } = await add(preferred, others);
  expect([status, problem.errors]).toEqual([400, errors]);
});

it('lets one of two people who want the same word at once have it', async () => {
  const answers = await Promise.all([add('gripper', ['jaws']), add('clamp', ['jaws'])]);
  expect(answers.map(({ status }) => status).sort()).toEqual([201, 400]);
});

it('asks why', async () => {
  const { status, problem } = await api.as('engineer').call(createSynonymGroup, { body: { preferred: 'spindle nose', others: ['snout'], reason: ' ' } });
  expect([status, problem.errors?.map(({ field }) => field)]).toEqual([400, ['reason']]);
});
