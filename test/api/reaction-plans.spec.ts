import { afterAll, beforeAll, expect, it } from 'vitest';
import { getCheckVerdict, recordCheck } from '#contract/inspections';
import { listReactionPlans, type ReactionScope, writeReactionPlan } from '#contract/reaction-plans';
import { startApi, type TestApi } from '../db/api.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';
import { makePlant, type TestPlant } from '../factories/plant.js';

let database: TestDatabase;
let api: TestApi;
let plant: TestPlant;
let clock = new Date('2026-03-02T08:10:00Z');
beforeAll(async () => { database = await freshDatabase(); plant = await makePlant(database.work); api = await startApi(database, { now: () => clock }); });
afterAll(async () => { await api.close(); await database.close(); });

const write = (scope: ReactionScope, steps: string[], after = 0, reason = 'agreed with the shift leads') => api.as('engineer').call(writeReactionPlan, { body: { scope, steps, reason, after } });
let checks = 0;
async function weld(takenAt: string, overlap: number) {
  checks += 1;
  const { status, body } = await api.as('operator').call(recordCheck, { body: {
    key: `reaction-check-${checks}`, machineId: plant.machines.bodyMaker, productId: plant.productId, planId: plant.planId, takenAt, cans: [{ number: 1 }, { number: 2 }], positions: ['middle'],
    characteristics: [{ code: 'weld-overlap', readings: [overlap - 0.01, overlap + 0.01] }],
  } });
  expect(status).toBe(201);
  return body;
}
const verdict = async (id: number) => (await api.as('manager').call(getCheckVerdict, { params: { id } })).body;

it('shows with the verdict what the plant wrote for the characteristic at the step, the plan of the chart before it, and the next check', async () => {
  const first = await weld('2026-03-02T07:00:00Z', 0.42);
  const streamId = first.subgroups[0]?.streamId as number;
  expect(await verdict(first.checkId)).toMatchObject({ control: 'unknown', reactions: [], withoutReaction: [], next: { plan: 'Weld', everyMinutes: 30, basis: 'clock', dueAt: '2026-03-02T07:30:00.000Z', due: true, source: 'common practice, no source' } });
  await database.work.client.limits.create({ data: { plantId: plant.plantId, streamId, kind: 'xbar-r', centre: 0.42, sigma: 0.01, spreadCentre: 0.02, subgroups: 30, readings: 60, baselineFrom: '2026-02-01T00:00:00Z', baselineTo: '2026-02-20T00:00:00Z', effectiveFrom: '2026-02-21T00:00:00Z', authorId: plant.users.engineer, reason: 'test' } });
  const out = await weld('2026-03-02T08:00:00Z', 0.5);
  expect(await verdict(out.checkId)).toMatchObject({ control: 'out', reactions: [], withoutReaction: [streamId], pastFixes: [], next: { due: false, dueAt: '2026-03-02T08:30:00.000Z' } });

  const step = { kind: 'step' as const, characteristicId: plant.characteristics['weld-overlap'], stepKind: 'body-maker' };
  expect((await write(step, ['Pick five cans and measure again', 'Call the shift lead'])).status).toBe(201);
  expect((await verdict(out.checkId)).reactions).toMatchObject([{ streamIds: [streamId], plan: { scope: step, version: 1, steps: ['Pick five cans and measure again', 'Call the shift lead'], author: 'Test engineer', at: '2026-03-02T08:10:00.000Z' } }]);
  expect((await write({ kind: 'stream', streamId }, ['Check the wire tension'])).body).toMatchObject({ version: 1, machine: 'BM1', characteristic: 'Weld overlap', stepKind: 'body-maker' });
  expect((await verdict(out.checkId)).reactions.map(({ plan }) => plan.steps)).toEqual([['Check the wire tension']]);
  // Taken back: the plan of the step holds again.
  clock = new Date('2026-03-02T09:00:00Z');
  expect((await write({ kind: 'stream', streamId }, [], 1, 'the step says it all')).status).toBe(201);
  expect(await verdict(out.checkId)).toMatchObject({ withoutReaction: [], reactions: [{ plan: { scope: step } }] });
});

it('keeps every version, lets nobody overwrite what he did not see, and refuses what leads nowhere', async () => {
  const scope = { kind: 'step' as const, characteristicId: plant.characteristics['cover-hook'], stepKind: 'seamer' };
  expect((await write(scope, ['Measure again'])).status).toBe(201);
  const second = await write(scope, ['Measure again', 'Check the first-operation roll'], 1);
  expect(second.body).toMatchObject({ version: 2, author: 'Test engineer' });
  expect((await write(scope, ['From an old page'], 1)).problem.code).toBe('changed-meanwhile');
  const versions = (await api.as('manager').call(listReactionPlans, { query: { history: 'true' } })).body.plans.filter((plan) => plan.characteristic === 'Cover hook');
  expect(versions.map(({ version, steps }) => [version, steps.length])).toEqual([[2, 2], [1, 1]]);
  expect((await api.as('manager').call(listReactionPlans, { query: {} })).body.plans.filter((plan) => plan.characteristic === 'Cover hook')).toHaveLength(1);
  expect((await write({ ...scope, stepKind: 'kitchen' }, ['Stir'])).problem.errors?.map(({ field }) => field)).toEqual(['scope.stepKind']);
  expect((await write({ kind: 'stream', streamId: 99_999 }, ['Look'])).problem.code).toBe('not-found');
  expect((await write({ ...scope, stepKind: 'flanger' }, [])).problem.errors?.map(({ field }) => field)).toEqual(['steps']);
  await expect(database.work.client.$executeRaw`UPDATE reaction_plan SET steps = '{}'`).rejects.toThrow(/never changed/);
  expect((await api.as('technician').call(writeReactionPlan, { body: { scope, steps: ['Mine'], reason: 'because', after: 2 } })).problem.code).toBe('not-allowed');
});
