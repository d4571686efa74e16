import { afterAll, beforeAll, expect, it } from 'vitest';
import { getStudy, listStudies, saveStudy } from '#contract/studies';
import { startApi, type TestApi } from '../db/api.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';
import { makePlant } from '../factories/plant.js';

let database: TestDatabase;
let api: TestApi;
beforeAll(async () => { database = await freshDatabase(); await makePlant(database.work); api = await startApi(database); });
afterAll(async () => { await api.close(); await database.close(); });

const state = { version: 1, text: '1 2\n2 4\n3 3', choices: { form: 'rows' } };
const body = { kind: 'xbar-r', subgroups: [[1, 2], [2, 4], [3, 3]] };

it('keeps the screen, the numbers and the answers that the server computed itself', async () => {
  const saved = await api.as('technician').call(saveStudy, { body: { title: ' Seam thickness, trial ', note: 'new wire', state, requests: [{ method: 'chart', body }] } });
  expect(saved.status).toBe(201);
  const { body: { studies } } = await api.as('manager').call(listStudies, { query: {} });
  expect(studies[0]).toMatchObject({ id: saved.body.id, title: 'Seam thickness, trial', note: 'new wire', methods: ['chart'] });
  const { body: study } = await api.as('manager').call(getStudy, { params: { studyId: String(saved.body.id) } });
  expect(study.state).toEqual(state);
  expect(study.answers[0]).toMatchObject({ method: 'chart', body, answer: { kind: 'xbar-r' } });
  const [audit] = await database.work.client.auditRow.findMany({ where: { subject: `study ${saved.body.id}` } });
  expect(audit?.action).toBe('study kept');
});

it('keeps nothing when one computation is refused, and says which', async () => {
  const before = (await api.as('engineer').call(listStudies, { query: {} })).body.studies.length;
  const refused = await api.as('engineer').call(saveStudy, { body: { title: 'half', state, requests: [{ method: 'chart', body }, { method: 'chart', body: { kind: 'xbar-r', subgroups: [[1, 1], [1, 1]] } }] } });
  expect([refused.status, refused.problem.code]).toEqual([422, 'cannot-compute']);
  expect(refused.problem.detail).toMatch(/^chart: /);
  const wrong = await api.as('engineer').call(saveStudy, { body: { title: 'wrong', state, requests: [{ method: 'chart', body: { kind: 'xbar-r', subgroups: [['x']] } }] } });
  expect([wrong.status, wrong.problem.errors?.[0]?.field]).toEqual([400, 'chart.subgroups.0.0']);
  const unknown = await api.as('engineer').call(saveStudy, { body: { title: 'unknown', state, requests: [{ method: 'no-such-method', body: {} }] } });
  expect(unknown.status).toBe(404);
  expect((await api.as('engineer').call(listStudies, { query: {} })).body.studies.length).toBe(before);
});

it('is never changed or removed', async () => {
  const { body: { id } } = await api.as('engineer').call(saveStudy, { body: { title: 'stays', state, requests: [{ method: 'chart', body }] } });
  await expect(database.work.client.study.update({ where: { plantId_id: { plantId: 1, id } }, data: { title: 'other' } })).rejects.toThrow();
  await expect(database.work.client.study.delete({ where: { plantId_id: { plantId: 1, id } } })).rejects.toThrow();
});

it('knows no study that is not there', async () => {
  expect((await api.as('manager').call(getStudy, { params: { studyId: '999' } })).status).toBe(404);
});
