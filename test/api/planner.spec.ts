import { afterAll, beforeAll, expect, it } from 'vitest';
import { recordCheck } from '#contract/inspections';
import { changeStream, getStreamVariation, type PlanTakeOver, takeOverPlan } from '#contract/planner';
import { freezeLimits, getChart } from '#contract/specifications';
import { startApi, type TestApi } from '../db/api.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';
import { makePlant, type TestPlant } from '../factories/plant.js';

let database: TestDatabase;
let api: TestApi;
let plant: TestPlant;
beforeAll(async () => { database = await freshDatabase(); plant = await makePlant(database.work); api = await startApi(database, { now: () => new Date(START + 40 * 86_400_000) }); });
afterAll(async () => { await api.close(); await database.close(); });

const START = Date.UTC(2026, 2, 1, 8);
const at = (index: number) => new Date(START + index * 1_800_000).toISOString();
const POSITIONS = ['front', 'middle', 'back'];
let made = 0;

type Cell = number | null;
/** One weld check of the plan: can by can the overlaps at the positions. */
async function weld(index: number, cans: Cell[][], { positions = POSITIONS, machineId = plant.machines.bodyMaker } = {}): Promise<number> {
  made += 1;
  const { status, body, problem } = await api.as('technician').call(recordCheck, { body: {
    key: `planner-check-${made}`, machineId, productId: plant.productId, ...(machineId === plant.machines.bodyMaker ? { planId: plant.planId } : {}), takenAt: at(index), cans: cans.map((_can, number) => ({ number: number + 1 })), positions,
    characteristics: [{ code: 'weld-overlap', gaugeId: plant.gaugeId, readings: cans.flat() }],
  } });
  expect([status, problem.detail]).toEqual([201, undefined]);
  return body.subgroups[0]?.streamId as number;
}

/** Check effects, can effects and position effects that are known: three checks of two cans at three positions. */
const KNOWN = [
  [[0.40, 0.41, 0.42], [0.42, 0.43, 0.47]],
  [[0.45, 0.46, 0.47], [0.44, 0.46, 0.45]],
  [[0.38, 0.40, 0.39], [0.41, 0.41, 0.38]],
];
const average = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;
const squares = (values: readonly number[], around: number) => values.reduce((sum, value) => sum + (value - around) ** 2, 0);

const variation = (streamId: number, query: { from?: string; to?: string } = {}) => api.as('manager').call(getStreamVariation, { params: { id: streamId }, query });
const plan = (change: Partial<PlanTakeOver> = {}): PlanTakeOver => ({
  checkPlanId: plant.planId, cans: 4, positions: ['front', 'back'], everyMinutes: 20, scheme: { kind: 'rules', rules: ['eight-in-a-row', 'beyond-limits'] },
  figures: { falseAlarmDays: 12.345, shift: 0.02, cansUntilSeen: 7421.6, hoursUntilSeen: 1.25, tornDownPerDay: 288 }, reason: 'a drift of the overlap is seen a shift earlier', ...change,
});
const takeOver = (streamId: number, body: PlanTakeOver, role: 'engineer' | 'technician' = 'engineer') => api.as(role).call(takeOverPlan, { params: { id: streamId }, body });
const planRow = () => database.work.client.checkPlan.findUniqueOrThrow({ where: { plantId_id: { plantId: plant.plantId, id: plant.planId } } });
const streamRow = (id: number) => database.work.client.stream.findUniqueOrThrow({ where: { plantId_id: { plantId: plant.plantId, id } } });

let streamId = 0;

it('parts the stored readings of a stream as the nested analysis of variance does by hand', async () => {
  for (const [index, cans] of KNOWN.entries()) streamId = await weld(index, cans);
  const { body } = await variation(streamId);
  const grand = average(KNOWN.flat(2));
  const checkMeans = KNOWN.map((cans) => average(cans.flat()));
  const msCheck = (6 * squares(checkMeans, grand)) / 2;
  const msCan = (3 * KNOWN.reduce((sum, cans, check) => sum + squares(cans.map(average), checkMeans[check] as number), 0)) / 3;
  const msPosition = KNOWN.flat().reduce((sum, can) => sum + squares(can, average(can)), 0) / 12;
  const expected = [(msCheck - msCan) / 6, (msCan - msPosition) / 3, msPosition];
  expect(body.components.map(({ sources }) => sources)).toEqual([['check'], ['can'], ['position']]);
  expect(body.components.map(({ raw }) => raw)).toEqual(expected.map((value) => expect.closeTo(value, 12)));
  expect(body.components.map(({ df }) => df)).toEqual([2, 3, 12]);
  expect(body.mean).toBeCloseTo(grand, 12);
  expect(body.used).toEqual({ checks: 3, cans: 6, readings: 18, from: at(0), to: at(2), older: false, otherFormula: 0 });
  expect(body.steadiness).toEqual({ openSignals: 0, signalled: 0, notJudged: 3 });
  expect(body.plan).toMatchObject({ id: plant.planId, cans: 5, positions: POSITIONS, everyMinutes: 30, parts: 1, otherStreams: 0 });
  expect(body.speed).toBeNull();
});

it('takes the span that is asked for, leaves voided checks out, and has nothing to part in a single check', async () => {
  const one = (await variation(streamId, { from: at(1), to: at(1) })).body;
  expect([one.used.checks, one.components, one.refusal]).toEqual([1, [], 'too-little-data']);
  const none = (await variation(streamId, { from: at(900) })).body;
  expect([none.used.readings, none.mean, none.refusal]).toEqual([0, null, 'too-little-data']);
  const wrong = await api.as('manager').raw({ method: 'GET', url: `/api/streams/${streamId}/variation?from=${at(2)}&to=${at(1)}` });
  expect([wrong.status, wrong.problem.errors?.[0]?.field]).toEqual([400, 'query.to']);
  expect((await variation(999_999)).status).toBe(404);

  await weld(3, [[0.9, 0.9, 0.9], [0.9, 0.9, 0.9]]);
  const { id } = await database.work.client.check.findFirstOrThrow({ where: { plantId: plant.plantId, machineId: plant.machines.bodyMaker, takenAt: at(3) } });
  await database.work.client.check.update({ where: { plantId_id: { plantId: plant.plantId, id } }, data: { voidedAt: new Date() } });
  expect((await variation(streamId)).body.used.checks).toBe(3);
});

it('counts how fast the machine runs while it runs, and how many hours a day', async () => {
  const counts = [{ day: -1, good: 1190, rejected: 10, minutes: 10 }, { day: -1.5, good: 600, rejected: 0, minutes: 5 }, { day: -1.2, good: 0, rejected: 0, minutes: 60 }, { day: -20, good: 9000, rejected: 0, minutes: 10 }];
  for (const { day, ...rest } of counts) await database.work.client.productionCount.create({ data: { plantId: plant.plantId, machineId: plant.machines.bodyMaker, at: new Date(START + day * 86_400_000), ...rest } });
  // 1800 cans in 15 minutes of running, on 2 days begun.
  expect((await variation(streamId)).body.speed).toMatchObject({ machineCansPerMinute: 120, share: 1, cansPerMinute: 120, days: 2, hoursPerDay: 0.125 });
});

it('takes a plan over: check plan, rules, audit and news together', async () => {
  const before = await streamRow(streamId);
  await api.react();
  const { status, body } = await takeOver(streamId, plan());
  expect(status).toBe(200);
  expect(body).toMatchObject({ checkPlanId: plant.planId, rules: ['beyond-limits', 'eight-in-a-row'], judgesFrom: 'next-check', otherStreams: 0, limitsStillFit: true, revision: before.revision + 1 });
  expect(body.intervalSource).toBe('Planner 2026-04-10: a shift of 0.02 mm is seen after 7420 cans (1.25 h) on average; false alarm once in 12.3 days; 288 cans torn down a day');
  expect(await planRow()).toMatchObject({ cans: 4, positions: ['front', 'back'], everyMinutes: 20, intervalSource: body.intervalSource, characteristics: ['weld-overlap', 'weld-thickness'], name: 'Weld' });
  expect((await streamRow(streamId)).rules).toEqual(['beyond-limits', 'eight-in-a-row']);
  const audit = await database.work.client.auditRow.findMany({ where: { plantId: plant.plantId, subject: { in: [`check plan ${plant.planId}`, `stream ${streamId}`] } }, orderBy: { id: 'asc' } });
  expect(audit.map(({ action, actor }) => [action, actor])).toEqual([['check-plan.changed', 'Test engineer'], ['stream.changed', 'Test engineer']]);
  expect(audit[0]).toMatchObject({ before: { cans: 5, everyMinutes: 30 }, after: { cans: 4, everyMinutes: 20, reason: plan().reason, figures: { shift: 0.02 } } });
  expect(audit[1]).toMatchObject({ before: { rules: before.rules }, after: { rules: ['beyond-limits', 'eight-in-a-row'], reason: plan().reason } });
  expect(await api.react()).toBe(1);
});

it('refuses what a stream cannot hold and changes nothing then', async () => {
  const [planBefore, streamBefore] = [await planRow(), await streamRow(streamId)];
  const refused = async (body: PlanTakeOver) => { const { status, problem } = await takeOver(streamId, body); return [status, problem.errors?.[0]?.field]; };
  const ewma = await takeOver(streamId, plan({ scheme: { kind: 'ewma', lambda: 0.2, width: 2.7 } }));
  expect([ewma.status, ewma.problem.errors?.[0]]).toEqual([400, { field: 'scheme.kind', expected: expect.stringContaining('cannot be charted by it yet') as string }]);
  expect(await refused(plan({ scheme: { kind: 'cusum', k: 0.5, h: 5 } }))).toEqual([400, 'scheme.kind']);
  expect(await refused(plan({ positions: ['front', 'front'] }))).toEqual([400, 'positions.1']);
  expect(await refused(plan({ cans: 0 }))).toEqual([400, 'cans']);
  expect((await takeOver(streamId, plan({ checkPlanId: 999_999 }))).status).toBe(404);
  expect((await takeOver(999_999, plan())).status).toBe(404);
  expect((await takeOver(streamId, plan(), 'technician')).status).toBe(403);

  const other = await database.work.client.checkPlan.create({ data: { plantId: plant.plantId, machineId: plant.machines.seamer, productId: plant.productId, name: 'Teardown', cans: 1, positions: ['60°'], characteristics: ['body-hook'] } });
  expect(await refused(plan({ checkPlanId: other.id }))).toEqual([400, 'checkPlanId']);
  const retired = await database.work.client.checkPlan.create({ data: { plantId: plant.plantId, machineId: plant.machines.bodyMaker, productId: plant.productId, name: 'Former', cans: 1, positions: ['front'], characteristics: ['weld-overlap'], retiredAt: new Date() } });
  expect((await takeOver(streamId, plan({ checkPlanId: retired.id }))).problem.code).toBe('wrong-state');
  expect([await planRow(), await streamRow(streamId)]).toEqual([planBefore, { ...streamBefore, revision: expect.any(Number) as number }]);
});

it('judges the next check by the new rules, and leaves what was judged as it was', async () => {
  // Means that rise by steps: six in a trend, all within the limits of the twenty checks before.
  const machineId = plant.machines.bodyMaker2;
  const shape = { machineId, positions: ['front'] };
  let id = 0;
  const steady = (index: number) => 0.42 + 0.01 * (index % 3 - 1);
  for (let index = 0; index < 22; index += 1) id = await weld(index, [[steady(index) - 0.03], [steady(index)], [steady(index) + 0.03]], shape);
  expect((await api.as('engineer').call(freezeLimits, { params: { streamId: id }, body: { from: at(0), to: at(21), reason: 'steady running' } })).status).toBe(201);
  const trend = (index: number) => 0.405 + 0.005 * (index - 22);
  for (let index = 22; index < 28; index += 1) await weld(index, [[trend(index) - 0.03], [trend(index)], [trend(index) + 0.03]], shape);
  const firings = async () => (await api.as('manager').call(getChart, { params: { streamId: id }, query: {} })).body.firings.map(({ index, rule }) => [index, rule]);
  expect(await firings()).toEqual([]);

  const changed = await api.as('engineer').call(changeStream, { params: { id }, body: { rules: ['six-in-a-trend', 'beyond-limits'], reason: 'the roll wears: a trend is what we look for' } });
  expect(changed.body).toMatchObject({ rules: ['beyond-limits', 'six-in-a-trend'], chartKind: 'xbar-r', judgesFrom: 'next-check' });
  expect(await firings()).toEqual([]);
  await weld(28, [[trend(28) - 0.03], [trend(28)], [trend(28) + 0.03]], shape);
  expect(await firings()).toEqual([[28, 'six-in-a-trend']]);

  const kind = await api.as('engineer').call(changeStream, { params: { id }, body: { rules: ['beyond-limits'], chartKind: 'xbar-s', reason: 'larger subgroups' } });
  expect([kind.status, kind.problem.code]).toEqual([409, 'wrong-state']);
  expect((await streamRow(id)).rules).toEqual(['beyond-limits', 'six-in-a-trend']);
});

it('changes the kind of chart of a stream without limits, and knows only rules that exist', async () => {
  const changed = await api.as('engineer').call(changeStream, { params: { id: streamId }, body: { rules: ['beyond-limits'], chartKind: 'xbar-s', reason: 'more than ten readings a check' } });
  expect(changed.body.chartKind).toBe('xbar-s');
  expect(await streamRow(streamId)).toMatchObject({ chartKind: 'xbar-s', rules: ['beyond-limits'] });
  const raw = (body: object) => api.as('engineer').raw({ method: 'PUT', url: `/api/streams/${streamId}`, payload: body });
  const unknown = await raw({ rules: ['nine-of-ten'], reason: 'a rule of our own' });
  expect([unknown.status, unknown.problem.errors?.[0]?.field]).toEqual([400, 'rules.0']);
  expect((await raw({ rules: [], reason: 'none at all' })).status).toBe(400);
  expect((await raw({ rules: ['beyond-limits'] })).problem.errors?.[0]?.field).toBe('reason');
});

it('says that limits no longer fit once the mean is one of other positions', async () => {
  const machineId = plant.machines.bodyMaker2;
  const stream = await database.work.client.stream.findFirstOrThrow({ where: { plantId: plant.plantId, machineId } });
  const own = await database.work.client.checkPlan.create({ data: { plantId: plant.plantId, machineId, productId: plant.productId, name: 'Weld 2', cans: 3, positions: ['front'], characteristics: ['weld-overlap'] } });
  const same = await takeOver(stream.id, plan({ checkPlanId: own.id, cans: 5, positions: ['middle'] }));
  expect(same.body.limitsStillFit).toBe(true);
  const more = await takeOver(stream.id, plan({ checkPlanId: own.id, cans: 5, positions: ['front', 'middle'] }));
  expect(more.body.limitsStillFit).toBe(false);
});
