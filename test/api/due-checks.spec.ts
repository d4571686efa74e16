import { afterAll, beforeAll, expect, it } from 'vitest';
import { listAssignments, listDueChecks, listMissedChecks, setAssignments, setMyAssignments, skipDueCheck } from '#contract/due-checks';
import { newCheck } from '#contract/inspections';
import { recordLineEvent, recordProductionCounts } from '#contract/production';
import { getNow } from '#contract/signals';
import { recordReadings } from '../../apps/api/src/flows/record-readings.js';
import { startApi, type TestApi } from '../db/api.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';
import { makePlant, type TestPlant } from '../factories/plant.js';

let database: TestDatabase;
let api: TestApi;
let plant: TestPlant;
let seam: number;
let clock = new Date('2026-03-02T08:00:00Z');
const time = (text: string) => `2026-03-02T${text}:00.000Z`;
beforeAll(async () => {
  database = await freshDatabase(); plant = await makePlant(database.work); api = await startApi(database, { now: () => clock });
  const data = { plantId: plant.plantId, machineId: plant.machines.seamer, productId: plant.productId, name: 'Visual seam', cans: 1, perUnit: true, unitsEachTime: 1, positions: ['whole'], characteristics: ['cover-hook'], everyCans: 8000, cansSource: 'the customer', openedBy: ['jam', 'long-stop'], longStopMinutes: 30, eventsSource: '21 CFR 113.60(a)' };
  seam = (await database.work.client.checkPlan.create({ data })).id;
});
afterAll(async () => { await api.close(); await database.close(); });

const due = async (query: { machine?: number; line?: number; mine?: 'true' } = {}, role: 'operator' | 'auditor' | 'technician' = 'operator') => (await api.as(role).call(listDueChecks, { query })).body;
let checks = 0;
const check = (takenAt: string, unitId: number, planId = seam) => {
  checks += 1;
  return database.work.run((tx) => recordReadings(tx, { plantId: plant.plantId, userId: plant.users.technician, name: 'Test technician' }, [newCheck.parse({
    key: `due-check-${checks}`, machineId: plant.machines.seamer, productId: plant.productId, planId, takenAt, cans: [{ number: 1, unitId }], positions: ['whole'], characteristics: [{ code: 'cover-hook', readings: [1.65] }],
  })], { now: clock, source: 'entry' }));
};
const jam = (at: string, until: string | null, machineId: number | null = plant.machines.seamer, kind: 'jam' | 'stop' = 'jam') => api.as('operator').call(recordLineEvent, { body: { lineId: plant.lineId, machineId, kind, at, until, text: `${kind} at the infeed` } });

it('opens a check by an event of its machine, says which, whose turn it is, and closes it by the next check', async () => {
  await check(time('07:30'), plant.headIds[0]);
  expect((await due({ machine: plant.machines.seamer })).due).toEqual([]);
  await jam(time('07:40'), time('07:45'));
  await jam(time('07:41'), null, plant.machines.bodyMaker);
  await jam(time('07:50'), null, null);
  expect((await due({ machine: plant.machines.seamer })).due).toMatchObject([{
    planId: seam, plan: 'Visual seam', basis: 'event', dueAt: time('07:45'), minutesOver: 15, everyMinutes: null, everyCans: 8000, eventsSource: '21 CFR 113.60(a)', lastCheckAt: time('07:30'),
    cause: { kind: 'jam', at: time('07:45'), machine: 'SE1' }, moreCauses: 1, units: [{ code: 'H2' }], mine: false,
  }]);
  // The Now board tells the same.
  expect((await api.as('manager').call(getNow, {})).body.due.find(({ planId }) => planId === seam)).toMatchObject({ basis: 'event', minutesOver: 15 });
  await check(time('07:55'), plant.headIds[1]);
  expect((await due({ machine: plant.machines.seamer })).due).toEqual([]);
});

it('lets only a stop that was long enough open a check, when it ends', async () => {
  clock = new Date(time('09:00'));
  await jam(time('08:05'), time('08:25'), plant.machines.seamer, 'stop');
  expect((await due({ machine: plant.machines.seamer })).due).toEqual([]);
  await jam(time('08:28'), time('08:58'), plant.machines.seamer, 'stop');
  expect((await due({ machine: plant.machines.seamer })).due).toMatchObject([{ basis: 'event', dueAt: time('08:58'), cause: { kind: 'stop' }, units: [{ code: 'H1' }] }]);
});

it('keeps why a due check was skipped, closes it by that, and refuses to skip what is not due', async () => {
  const skip = (reason: string, planId = seam) => api.as('operator').call(skipDueCheck, { body: { planId, reason } });
  expect((await skip('no')).problem.errors?.[0]?.field).toBe('reason');
  expect((await skip('the seamer is being set')).status).toBe(201);
  expect((await due({ machine: plant.machines.seamer })).due).toEqual([]);
  expect([(await skip('once more')).problem.code, (await skip('no such plan', 9999)).problem.code]).toEqual(['wrong-state', 'not-found']);
  expect(await database.work.client.auditRow.findFirst({ where: { plantId: plant.plantId, action: 'due-check.skipped' } })).toMatchObject({ subject: `check plan ${seam}`, actor: 'Test operator' });
  await expect(database.work.client.$executeRaw`DELETE FROM due_skip`).rejects.toThrow(/never changed/);
});

it('falls due by cans, the most overdue first', async () => {
  clock = new Date(time('10:00'));
  const counts = Array.from({ length: 12 }, (_, index) => ({ machineId: plant.machines.seamer, at: new Date(Date.parse(time('09:00')) + index * 300_000).toISOString(), minutes: 5, good: 1000 }));
  await api.as('operator').call(recordProductionCounts, { body: { counts } });
  // 12,000 cans since the skip: 4,000 over, which is 20 of the 60 minutes. The weld plan was never checked and comes last.
  expect((await due()).due).toMatchObject([{ planId: seam, basis: 'cans', cansOver: 4000, minutesOver: 20 }, { planId: plant.planId, minutesOver: null }]);
});

it('lists what was missed in a period, and what was skipped with its reason', async () => {
  clock = new Date(time('11:00'));
  const missed = async (query: { from: string; to: string; machine?: number }) => (await api.as('manager').call(listMissedChecks, { query: { machine: plant.machines.seamer, ...query } })).body.missed;
  await jam(time('09:30'), null);
  expect(await missed({ from: time('07:00'), to: time('12:00') })).toMatchObject([
    { kind: 'skipped', from: time('09:00'), reason: 'the seamer is being set', by: 'Test operator' },
    { kind: 'event', from: time('09:30'), until: null, cause: { kind: 'jam' }, source: '21 CFR 113.60(a)' },
  ]);
  await database.work.client.checkPlan.update({ where: { plantId_id: { plantId: plant.plantId, id: seam } }, data: { everyCans: 4000 } });
  expect((await missed({ from: time('09:10'), to: time('12:00') })).filter(({ kind }) => kind === 'interval')).toMatchObject([{ from: time('09:00'), until: null, every: 4000, unit: 'cans', passed: 12_000, missed: 2, source: 'the customer' }]);
  const long = await api.as('manager').call(listMissedChecks, { query: { from: '2026-01-01T00:00:00Z', to: '2026-03-01T00:00:00Z' } });
  expect(long.problem.errors?.map(({ field }) => field)).toEqual(['query.to']);
});

it('tells a person what is theirs, by machine or by line, and lets an engineer assign it', async () => {
  clock = new Date(time('10:00'));
  expect(await due({ mine: 'true' })).toMatchObject({ assigned: false, due: [] });
  expect((await api.as('operator').call(setMyAssignments, { body: { lineIds: [], machineIds: [plant.machines.seamer] } })).status).toBe(200);
  expect(await due({ mine: 'true' })).toMatchObject({ assigned: true, due: [{ planId: seam, mine: true }] });
  expect((await due()).due.map(({ mine }) => mine)).toEqual([true, false]);
  const technician = { params: { id: plant.users.technician }, body: { lineIds: [plant.lineId], machineIds: [] } };
  expect((await api.as('operator').call(setAssignments, technician)).problem.code).toBe('not-allowed');
  expect((await api.as('engineer').call(setAssignments, technician)).status).toBe(200);
  expect((await due({ mine: 'true' }, 'technician')).due).toHaveLength(2);
  const wrong = await api.as('engineer').call(setAssignments, { ...technician, body: { lineIds: [999], machineIds: [plant.machines.seamer, 998] } });
  expect(wrong.problem.errors?.map(({ field }) => field)).toEqual(['lineIds.0', 'machineIds.1']);
  expect((await api.as('manager').call(listAssignments, {})).body.people.find(({ userId }) => userId === plant.users.technician)).toMatchObject({ lineIds: [plant.lineId], machineIds: [] });
});
