import { afterAll, beforeAll, expect, it } from 'vitest';
import { newCheck } from '#contract/inspections';
import { listLineEvents, recordLineEvent, recordProductionCounts } from '#contract/production';
import { getNow } from '#contract/signals';
import { placeHold } from '#contract/holds';
import { logIncident } from '#contract/incidents';
import { recordReadings } from '../../apps/api/src/flows/record-readings.js';
import { startApi, type TestApi } from '../db/api.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';
import { makePlant, type TestPlant } from '../factories/plant.js';

let database: TestDatabase;
let api: TestApi;
let plant: TestPlant;
let clock = new Date('2026-03-02T08:00:00Z');
beforeAll(async () => {
  database = await freshDatabase();
  plant = await makePlant(database.work);
  api = await startApi(database, { now: () => clock });
});
afterAll(async () => { await api.close(); await database.close(); });

const time = (text: string) => `2026-03-02T${text}:00.000Z`;
const board = async () => (await api.as('manager').call(getNow, {})).body;
const machine = async (code: string) => (await board()).lines[0]?.steps.flatMap(({ machines }) => machines).find((entry) => entry.code === code);
let checks = 0;
const weld = (takenAt: string, overlap: number) => {
  checks += 1;
  return database.work.run((tx) => recordReadings(tx, { plantId: plant.plantId, userId: plant.users.technician, name: 'Test technician' }, [newCheck.parse({
    key: `now-check-${checks}`, machineId: plant.machines.bodyMaker, productId: plant.productId, planId: plant.planId, takenAt, cans: [{ number: 1 }, { number: 2 }], positions: ['middle'], characteristics: [{ code: 'weld-overlap', readings: [overlap - 0.01, overlap + 0.01] }],
  })], { now: clock, source: 'entry' }));
};
const count = (from: string, spans: number, good = 400) => api.as('operator').call(recordProductionCounts, { body: { counts: Array.from({ length: spans }, (_, index) => ({ machineId: plant.machines.bodyMaker, at: new Date(new Date(time(from)).getTime() + index * 300_000).toISOString(), minutes: 5, good })) } });

it('shows lines in order with steps in process order, asks for a first check, and calls nothing steady', async () => {
  const view = await board();
  expect(view.lines).toMatchObject([{ code: 'T1', running: 'unknown', notRunningSince: null, incidents: [] }]);
  expect(view.lines[0]?.steps.map(({ kind, machines }) => [kind, machines.map(({ code, state }) => [code, state])])).toEqual([['body-maker', [['BM1', 'due'], ['BM2', null]]], ['flanger', [['FL1', null]]], ['seamer', [['SE1', null]]]]);
  expect(view.due).toMatchObject([{ plan: 'Weld', machine: 'BM1', lastCheckAt: null, minutesOver: null, intervalSource: 'common practice, no source' }]);
  expect((await api.nobody.call(getNow, {})).status).toBe(401);
});

it('says not judged while there are no limits, due by the clock while nothing is counted', async () => {
  await weld(time('07:50'), 0.42);
  expect(await machine('BM1')).toMatchObject({ state: 'not-judged', lastCheckAt: time('07:50'), checksDue: 0 });
  clock = new Date(time('08:25'));
  expect((await board()).due).toMatchObject([{ basis: 'clock', dueAt: time('08:20'), minutesOver: 5, lastCheckAt: time('07:50') }]);
  expect(await machine('BM1')).toMatchObject({ state: 'due', checksDue: 1 });
});

it('goes by running time where cans are counted, and lets nothing fall due while the line stands', async () => {
  expect((await count('07:50', 2)).body).toEqual({ stored: 2, changed: 0, same: 0 });
  // Cans until 08:00, and nothing for 25 minutes.
  expect((await board()).lines[0]).toMatchObject({ running: 'not-running', notRunningSince: time('08:00') });
  expect((await board()).due).toEqual([]);
  clock = new Date(time('08:40'));
  await count('08:20', 4);
  // 10 minutes before the stop and 20 after it: exactly the interval of 30.
  expect((await board()).lines[0]?.running).toBe('running');
  expect((await board()).due).toEqual([]);
  await count('08:40', 2);
  clock = new Date(time('08:50'));
  expect((await board()).due).toMatchObject([{ basis: 'running', dueAt: null, minutesOver: 10 }]);
});

it('is steady when it was judged lately, and a signal when a rule fired', async () => {
  const stream = await database.work.client.stream.findFirstOrThrow({ where: { plantId: plant.plantId, machineId: plant.machines.bodyMaker, characteristicId: plant.characteristics['weld-overlap'] } });
  await database.work.client.limits.create({ data: { plantId: plant.plantId, streamId: stream.id, kind: 'xbar-r', centre: 0.42, sigma: 0.02, spreadCentre: 0.0226, subgroups: 25, readings: 50, baselineFrom: new Date(time('01:00')), baselineTo: new Date(time('02:00')), effectiveFrom: new Date(time('08:00')), authorId: plant.users.engineer, reason: 'test' } });
  await weld(time('08:48'), 0.425);
  expect(await machine('BM1')).toMatchObject({ state: 'steady', openSignals: 0 });
  await weld(time('08:49'), 0.5);
  expect(await machine('BM1')).toMatchObject({ state: 'signal', openSignals: 1 });
  const view = await board();
  expect(view.openSignals).toBe(1);
  expect(view.signals[0]).toMatchObject({ rule: 'beyond-limits', side: 'above', stream: { machine: { code: 'BM1' } } });
  await database.work.client.signal.updateMany({ where: { plantId: plant.plantId }, data: { state: 'closed', closedAt: clock } });
  clock = new Date('2026-03-04T08:00:00Z');
  // Two days later the line still stands: what was judged at its end is what is known.
  expect(await machine('BM1')).toMatchObject({ state: 'steady' });
});

it('shows the open incidents of the line', async () => {
  const logged = await api.as('technician').call(logIncident, { body: { kind: 'complaint', customer: 'Test customer', productId: plant.productId, lineId: plant.lineId, canCode: '', madeAt: time('08:00'), receivedAt: time('08:30'), cansComplained: 3, cansExamined: 0, cansLeaking: 0, leakPlace: 'unknown', defect: 'short-cover-hook', description: 'Leakers at the warehouse' } });
  expect(logged.status).toBe(201);
  expect((await board()).lines[0]?.incidents).toMatchObject([{ id: logged.body.id, customer: 'Test customer', product: 'T65' }]);
});

it('stores a batch of counts once, replaces what changed, and names the rows it cannot take', async () => {
  expect((await count('08:40', 2)).body).toEqual({ stored: 0, changed: 0, same: 2 });
  expect((await count('08:40', 2, 410)).body).toEqual({ stored: 0, changed: 2, same: 0 });
  const audit = await database.work.client.auditRow.findFirstOrThrow({ where: { plantId: plant.plantId, action: 'production-counts.recorded' }, orderBy: { id: 'desc' } });
  expect(audit.before).toMatchObject([{ good: 400 }, { good: 400 }]);
  const send = (counts: { machineId: number; at: string; minutes: number; good: number }[]) => api.as('operator').call(recordProductionCounts, { body: { counts } });
  const span = { machineId: plant.machines.bodyMaker, at: time('08:42'), minutes: 5, good: 1 };
  const before = await database.work.client.productionCount.count();
  expect((await send([span])).problem.errors?.[0]).toMatchObject({ field: 'counts.0.at', row: 1, expected: expect.stringContaining('overlap') });
  expect((await send([{ ...span, at: time('11:00'), machineId: 999_999 }, { ...span, at: time('11:05') }, { ...span, at: '2026-03-02T11:05:00+00:00' }])).problem.errors?.map(({ field }) => field)).toEqual(['counts.0.machineId', 'counts.2.at']);
  expect((await send([{ ...span, at: '2026-03-05T00:00:00Z' }])).problem.errors?.[0]?.expected).toContain('future');
  expect(await database.work.client.productionCount.count()).toBe(before);
  expect((await api.as('auditor').call(recordProductionCounts, { body: { counts: [span] } })).status).toBe(403);
});

it('enters line events, lists those that touch a span, and names what does not fit', async () => {
  const event = { lineId: plant.lineId, machineId: plant.machines.seamer, kind: 'roll-change' as const, at: time('09:00'), until: time('09:30'), text: 'First operation roll of head 2' };
  const entered = await api.as('operator').call(recordLineEvent, { body: event });
  expect(entered).toMatchObject({ status: 201, body: { line: 'T1', machine: 'SE1', actor: 'Test operator', at: time('09:00'), until: time('09:30'), enteredAt: clock.toISOString() } });
  const list = async (query: object) => (await api.as('manager').call(listLineEvents, { query })).body.events.map(({ id }) => id);
  expect(await list({ line: plant.lineId, from: time('09:20'), to: time('10:00') })).toEqual([entered.body.id]);
  expect(await list({ from: time('09:31') })).toEqual([]);
  expect(await list({ line: 99_999 })).toEqual([]);
  const wrong = await api.as('operator').call(recordLineEvent, { body: { ...event, machineId: 99_999, at: '2026-04-01T00:00:00Z', until: null } });
  expect(wrong.problem.errors?.map(({ field }) => field)).toEqual(['machineId', 'at']);
  expect((await api.as('operator').call(recordLineEvent, { body: { ...event, until: time('08:00') } })).problem.errors?.[0]?.field).toBe('until');
  expect((await api.as('auditor').call(recordLineEvent, { body: event })).status).toBe(403);
  const audit = await database.work.client.auditRow.findFirstOrThrow({ where: { plantId: plant.plantId, subject: `line event ${entered.body.id}` } });
  expect(audit).toMatchObject({ action: 'line-event.recorded', after: { kind: 'roll-change' } });
});

it('names holds that are not decided and incidents that are overdue, and marks the machine whose product is held', async () => {
  const before = await board();
  expect([before.holds, before.overdue]).toEqual([[], []]);
  const { body: hold } = await api.as('engineer').call(placeHold, { body: { lineId: plant.lineId, machineId: plant.machines.flanger, from: time('06:00'), until: time('06:30'), reason: 'Short flange.', state: 'placed', shownCans: null } });
  const { client } = database.work;
  const incident = await client.incident.findFirstOrThrow({ where: { plantId: plant.plantId, state: { not: 'closed' } } });
  await client.incident.update({ where: { plantId_id: { plantId: plant.plantId, id: incident.id } }, data: { dueAt: new Date(clock.getTime() - 3_600_000) } });
  const after = await board();
  expect(after.holds).toMatchObject([{ id: hold.id, machine: 'FL1', state: 'placed' }]);
  expect(after.overdue).toMatchObject([{ id: incident.id, line: 'T1', dueAt: new Date(clock.getTime() - 3_600_000).toISOString() }]);
  expect(await machine('FL1')).toMatchObject({ state: 'held', holds: 1 });
});
