import { afterAll, beforeAll, beforeEach, expect, it } from 'vitest';
import { listCounterDecisions, listCounters, recordCounterReadings, setCounter } from '#contract/counters';
import { recordProductionCounts } from '#contract/production';
import { recordCounterReadings as recordInside } from '../../apps/api/src/production/record-counter-readings.js';
import { startApi, type TestApi } from '../db/api.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';
import { makePlant, type TestPlant } from '../factories/plant.js';

const NOW = new Date('2026-07-01T12:00:00Z');
let database: TestDatabase;
let api: TestApi;
let plant: TestPlant;
// Each test counts a day of its own, so that none stands in another one's way.
let day = 0;
beforeAll(async () => { database = await freshDatabase(); plant = await makePlant(database.work); api = await startApi(database, { now: () => NOW }); });
afterAll(async () => { await api.close(); await database.close(); });
beforeEach(() => { day += 1; });

const at = (time: string) => `2026-06-${String(day).padStart(2, '0')}T${time}:00.000Z`;
const reading = (time: string, good: number, rejected: number | null = null, machineId = plant.machines.bodyMaker) => ({ machineId, at: at(time), good, rejected });
const send = async (...readings: ReturnType<typeof reading>[]) => (await api.as('operator').call(recordCounterReadings, { body: { readings } })).body;
/** Times of day, minutes, good, rejected of what is counted on the test's day. */
const counted = async (machineId = plant.machines.bodyMaker) => (await database.work.client.productionCount.findMany({ where: { plantId: plant.plantId, machineId, at: { gte: new Date(at('00:00')), lte: new Date(at('23:59')) } }, orderBy: { at: 'asc' } })).map((row) => [row.at.toISOString().slice(11, 16), row.minutes, row.good, row.rejected]);
const decisions = async (machine = plant.machines.bodyMaker) => (await api.as('manager').call(listCounterDecisions, { query: { machine } })).body.decisions.filter((one) => one.at?.slice(0, 10) === at('00:00').slice(0, 10));

it('makes counts of readings, once however often and in whatever order they come', async () => {
  const batch = [reading('06:10', 104_500, 12), reading('06:00', 100_000, 10), reading('06:05', 102_000, 10)];
  expect(await send(...batch)).toEqual({ stored: 3, same: 0, refused: [], spans: { stored: 2, changed: 0, removed: 0 }, decisions: [] });
  expect(await counted()).toEqual([['06:00', 5, 2_000, 0], ['06:05', 5, 2_500, 2]]);
  expect(await send(...batch, batch[0] as (typeof batch)[0])).toMatchObject({ stored: 0, same: 4, spans: { stored: 0, changed: 0, removed: 0 }, decisions: [] });
  expect((await send(reading('06:15', 106_000, 12))).spans).toEqual({ stored: 1, changed: 0, removed: 0 });
  expect(await counted()).toEqual([['06:00', 5, 2_000, 0], ['06:05', 5, 2_500, 2], ['06:10', 5, 1_500, 0]]);
});

it('puts a late reading in its place and says so', async () => {
  await send(reading('06:00', 0), reading('06:10', 6_000), reading('06:20', 9_000));
  const answer = await send(reading('06:05', 5_000));
  expect(answer).toMatchObject({ stored: 1, spans: { stored: 1, changed: 1, removed: 0 }, decisions: [{ kind: 'late', at: at('06:05'), until: null }] });
  expect(await counted()).toEqual([['06:00', 5, 5_000, 0], ['06:05', 5, 1_000, 0], ['06:10', 10, 3_000, 0]]);
  // One that does not fit takes away what was told across it, and what follows is told again when its neighbours allow.
  expect((await send(reading('06:15', 2_000))).spans).toEqual({ stored: 1, changed: 0, removed: 1 });
  expect(await counted()).toEqual([['06:00', 5, 5_000, 0], ['06:05', 5, 1_000, 0], ['06:15', 5, 7_000, 0]]);
  expect((await decisions()).map(({ kind, at: from, least }) => [kind, from, least])).toEqual([['set-back', at('06:10'), 2_000], ['late', at('06:15'), null], ['late', at('06:05'), null]]);
});

it('leaves a gap where a counter was set back, and closes it when the roll-over is stated', async () => {
  const machine = plant.machines.bodyMaker2;
  const answer = await send(reading('06:00', 998_000, 5, machine), reading('06:05', 1_000, 6, machine), reading('06:10', 3_500, 6, machine));
  expect(answer.decisions).toEqual([{ machineId: machine, kind: 'set-back', counter: 'good', at: at('06:00'), until: at('06:05'), cans: null, least: 1_000, detail: 'from 998000 to 1000; it would be a roll-over if the counter begins again after 999999' }]);
  expect(await counted(machine)).toEqual([['06:05', 5, 2_500, 0]]);
  const counterOf = async () => (await api.as('manager').call(listCounters, {})).body.counters.find(({ machineId }) => machineId === machine);
  expect(await counterOf()).toMatchObject({ machine: 'BM2', rollsOverAt: null, readings: 3, last: { good: 3_500, rejected: 6, at: at('06:10') } });

  const stated = await api.as('engineer').call(setCounter, { params: { id: machine }, body: { rollsOverAt: 1_000_000, mostPerMinute: 1_000 } });
  expect(stated.body).toEqual({ spans: { stored: 1, changed: 0, removed: 0 } });
  expect(await counted(machine)).toEqual([['06:00', 5, 3_000, 1], ['06:05', 5, 2_500, 0]]);
  expect((await decisions(machine)).map(({ kind, cans, replaced }) => [kind, cans, replaced])).toEqual([['rolled-over', 3_000, false], ['set-back', null, true]]);
  expect(await counterOf()).toMatchObject({ rollsOverAt: 1_000_000, mostPerMinute: 1_000, changedBy: 'Test engineer' });

  const tooLow = await api.as('engineer').call(setCounter, { params: { id: machine }, body: { rollsOverAt: 900_000, mostPerMinute: null } });
  expect([tooLow.status, tooLow.problem.errors]).toEqual([400, [{ field: 'rollsOverAt', expected: 'more than 998000, the highest number that this machine\'s counters showed' }]]);
  expect((await send(reading('06:15', 1_000_000, 6, machine))).refused).toEqual([{ field: 'readings.0.good', row: 1, expected: 'less than 1000000, where this counter begins again at 0, and not 1000000' }]);
  expect((await api.as('engineer').call(setCounter, { params: { id: 999_999 }, body: { rollsOverAt: null, mostPerMinute: null } })).status).toBe(404);
  expect((await api.as('operator').call(setCounter, { params: { id: machine }, body: { rollsOverAt: null, mostPerMinute: null } })).status).toBe(403);
});

it('refuses what no counter can show row by row, keeps the reason, and stores the others', async () => {
  const batch = [reading('06:00', 10), reading('06:01', -5), reading('06:02', 20.5), { ...reading('06:03', 30), machineId: 999_999 }, { ...reading('06:04', 40), at: '2026-07-01T12:06:00Z' }, reading('06:00', 11), reading('06:05', 60, -1), reading('06:06', 70)];
  const answer = await send(...batch);
  expect(answer).toMatchObject({ stored: 2, same: 0, spans: { stored: 1 } });
  expect(answer.refused).toEqual([
    { field: 'readings.1.good', row: 2, expected: 'a whole number of cans, 0 or more, and not -5' },
    { field: 'readings.2.good', row: 3, expected: 'a whole number of cans, 0 or more, and not 20.5' },
    { field: 'readings.3.machineId', row: 4, expected: 'a machine of this plant' },
    { field: 'readings.4.at', row: 5, expected: 'a moment that is not in the future' },
    { field: 'readings.5.good', row: 6, expected: 'what is known of this machine and moment: good 10, rejected not counted' },
    { field: 'readings.6.rejected', row: 7, expected: 'a whole number of cans, 0 or more, and not -1' },
  ]);
  expect(await counted()).toEqual([['06:00', 6, 60, 0]]);
  const kept = await database.work.client.counterDecision.count({ where: { plantId: plant.plantId, kind: 'refused' } });
  await send(...batch);
  // Sent again, the same refusals are not news.
  expect(await database.work.client.counterDecision.count({ where: { plantId: plant.plantId, kind: 'refused' } })).toBe(kept);
  expect((await decisions()).find(({ detail }) => detail.includes('-5'))?.detail).toBe('good -5, rejected not counted: good must be a whole number of cans, 0 or more, and not -5');
  const infinite = await api.as('operator').raw({ method: 'POST', url: '/api/counts/readings', payload: '{"readings":[{"machineId":1,"at":"2026-06-01T00:00:00Z","good":1e999}]}', headers: { 'content-type': 'application/json' } });
  expect([infinite.status, infinite.problem.errors?.[0]?.field]).toEqual([400, 'readings.0.good']);
});

it('keeps a count that was entered by another way, whichever came first', async () => {
  const machineId = plant.machines.flanger;
  const enter = (time: string, minutes: number, good: number) => api.as('operator').call(recordProductionCounts, { body: { counts: [{ machineId, at: at(time), minutes, good }] } });
  expect((await enter('06:00', 10, 4_000)).status).toBe(200);
  const answer = await send(reading('06:05', 100, null, machineId), reading('06:10', 900, null, machineId), reading('06:15', 2_000, null, machineId));
  expect(answer.decisions).toMatchObject([{ kind: 'already-counted', at: at('06:05'), until: at('06:10'), cans: 800 }]);
  expect(await counted(machineId)).toEqual([['06:00', 10, 4_000, 0], ['06:10', 5, 1_100, 0]]);
  // A correction by hand of what a counter told stands against a late reading, too.
  expect((await enter('06:10', 5, 1_050)).body).toEqual({ stored: 0, changed: 1, same: 0 });
  await send(reading('06:12', 1_500, null, machineId));
  expect(await counted(machineId)).toEqual([['06:00', 10, 4_000, 0], ['06:10', 5, 1_050, 0]]);
});

it('does not spread the cans of more than a day, and tells what a counter that went wild did', async () => {
  const machine = plant.machines.seamer;
  const answer = await send(reading('01:00', 500_000, null, machine), reading('01:05', 499_000, null, machine), reading('01:10', 900_000, null, machine));
  expect(answer.decisions.map(({ kind, cans, least }) => [kind, cans, least])).toEqual([['went-backwards', null, 0], ['jumped', null, 0]]);
  const later = { ...reading('01:10', 900_100, null, machine), at: `2026-06-${String(day + 1).padStart(2, '0')}T02:00:00.000Z` };
  expect((await send(later)).decisions.map(({ kind }) => kind)).toEqual(['too-far-apart']);
  expect(await counted(machine)).toEqual([]);
  day += 1;
  expect(await counted(machine)).toEqual([]);
});

it('works inside a transaction of somebody else, and nothing stays of one that fails', async () => {
  const actor = { plantId: plant.plantId, userId: null, name: 'line monitor' };
  const rows = [reading('06:00', 5), reading('06:05', 500)];
  await expect(database.work.run(async (tx) => { await recordInside(tx, actor, rows, NOW); throw new Error('the message was not acknowledged'); })).rejects.toThrow('not acknowledged');
  expect(await counted()).toEqual([]);
  expect(await database.work.run((tx) => recordInside(tx, actor, rows, NOW))).toMatchObject({ stored: 2, spans: { stored: 1 } });
  // Two at once do not slip spans past each other.
  const both = await Promise.all([send(reading('06:02', 200)), send(reading('06:04', 400))]);
  expect(both.map(({ stored }) => stored)).toEqual([1, 1]);
  expect(await counted()).toEqual([['06:00', 2, 195, 0], ['06:02', 2, 200, 0], ['06:04', 1, 100, 0]]);
});

it('never changes a reading or a decision afterwards', async () => {
  await expect(database.work.client.$executeRaw`UPDATE counter_reading SET good = 0`).rejects.toThrow(/never changed/);
  await expect(database.work.client.$executeRaw`DELETE FROM counter_decision`).rejects.toThrow(/never changed/);
});
