import { afterAll, beforeAll, expect, it } from 'vitest';
import { listCheckPlanRevisions } from '#contract/check-plans';
import { changeCheckPlan, createCheckPlan, getPlant } from '#contract/plant';
import { startApi, type TestApi } from '../db/api.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';
import { makePlant, type TestPlant } from '../factories/plant.js';

let database: TestDatabase;
let api: TestApi;
let plant: TestPlant;
let clock = new Date('2026-03-02T08:00:00Z');
beforeAll(async () => { database = await freshDatabase(); plant = await makePlant(database.work); api = await startApi(database, { now: () => clock }); });
afterAll(async () => { await api.close(); await database.close(); });

const sheet = { name: 'Visual seam', cans: 1, perUnit: true, perLane: false, positions: ['whole'], characteristics: ['cover-hook'], everyMinutes: 30, intervalSource: 'at most 30 min is advised by 21 CFR 113.60(a)' };
const rotation = { everyCans: 12_000, cansSource: 'agreed with the customer', unitsEachTime: 1, openedBy: ['jam', 'long-stop'] as ('jam' | 'long-stop')[], longStopMinutes: 45, eventsSource: '21 CFR 113.60(a)' };
const at = () => ({ machineId: plant.machines.seamer, productId: plant.productId });
const engineer = () => api.as('engineer');
const revisionsOf = async (id: number) => (await api.as('manager').call(listCheckPlanRevisions, { params: { id } })).body.revisions;

it('keeps every state of a plan with who, when and why, and leaves out of a change what was left out', async () => {
  const { body: { id } } = await engineer().call(createCheckPlan, { body: { ...at(), ...sheet, ...rotation, reason: 'the new seamer' } });
  clock = new Date('2026-03-03T09:00:00Z');
  const change = await engineer().call(changeCheckPlan, { params: { id }, body: { ...sheet, everyMinutes: 20, retired: false, reason: 'a complaint of March', revision: 1 } });
  expect([change.status, change.problem.detail]).toEqual([200, undefined]);
  expect(await revisionsOf(id)).toEqual([
    { revision: 2, at: '2026-03-03T09:00:00.000Z', author: 'Test engineer', reason: 'a complaint of March', plan: { ...sheet, ...rotation, everyMinutes: 20, retired: false } },
    { revision: 1, at: '2026-03-02T08:00:00.000Z', author: 'Test engineer', reason: 'the new seamer', plan: { ...sheet, ...rotation, retired: false } },
  ]);
  expect((await engineer().call(getPlant, {})).body.checkPlans.find((entry) => entry.id === id)).toMatchObject({ ...rotation, everyMinutes: 20, revision: 2 });
  const late = await engineer().call(changeCheckPlan, { params: { id }, body: { ...sheet, retired: false, reason: 'from an old page', revision: 1 } });
  expect([late.status, late.problem.code]).toEqual([409, 'changed-meanwhile']);
  await expect(database.work.client.$executeRaw`UPDATE check_plan_revision SET reason = 'another' WHERE plan_id = ${id}`).rejects.toThrow(/never changed/);
});

it('keeps what a plan from before revisions said, with the author not on record', async () => {
  expect((await revisionsOf(plant.planId)).map(({ revision, author }) => [revision, author])).toEqual([[1, 'not on record']]);
  const weld = { name: 'Weld', cans: 5, perUnit: false, perLane: false, positions: ['front', 'middle', 'back'], characteristics: ['weld-overlap'], everyMinutes: 30, intervalSource: '' };
  expect((await engineer().call(changeCheckPlan, { params: { id: plant.planId }, body: { ...weld, retired: false, reason: 'thickness is measured elsewhere' } })).status).toBe(200);
  expect((await revisionsOf(plant.planId)).map(({ revision, author, plan }) => [revision, author, plan.characteristics])).toEqual([[2, 'Test engineer', ['weld-overlap']], [1, 'not on record', ['weld-overlap', 'weld-thickness']]]);
});

it.each([
  ['unitsEachTime', { unitsEachTime: 3 }], ['unitsEachTime', { unitsEachTime: 1, perUnit: false }],
  ['longStopMinutes', { openedBy: ['long-stop' as const] }], ['longStopMinutes', { openedBy: ['jam' as const], longStopMinutes: 20 }], ['openedBy.1', { openedBy: ['jam' as const, 'jam' as const] }],
])('refuses a plan that cannot fall due as it says: %s', async (field, change) => {
  const { status, problem } = await engineer().call(createCheckPlan, { body: { ...at(), ...sheet, name: 'Impossible', ...change } });
  expect([status, problem.errors?.map((error) => error.field)]).toEqual([400, [field]]);
});
