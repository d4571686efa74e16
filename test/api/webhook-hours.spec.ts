import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { afterAll, beforeAll, beforeEach, expect, it } from 'vitest';
import { changeWebhook, createWebhook, type Delivery, listDeliveries, listWebhooks, removeWebhook, resendDelivery, testWebhook } from '#contract/outgoing';
import { setShifts, type ShiftView } from '#contract/shifts';
import { NEVER_SENT } from '../../apps/api/src/outgoing/never-sent.store.js';
import { startApi, type TestApi } from '../db/api.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';
import { outgoingRound } from '../factories/outgoing-round.js';
import { makePlant, type TestPlant } from '../factories/plant.js';
import { makeStream, raiseSignal } from '../factories/signal.js';

// Webhooks have the hours, days and quiet hours of e-mails. The plant's clock is Lisbon's: in early March it is UTC. 2026-03-02 is a Monday.
let database: TestDatabase;
let api: TestApi;
let plant: TestPlant;
let receiver: Server;
let url: string;
let got: string[] = [];
let answers: number[] = [];
let hookId: number;
let streamId: number;
let now = new Date('2026-03-02T12:00:00Z');

beforeAll(async () => {
  receiver = createServer((request, response) => {
    let body = '';
    request.on('data', (chunk: Buffer) => { body += chunk.toString('utf8'); }).on('end', () => { got.push((JSON.parse(body) as { id: string }).id); response.writeHead(answers.shift() ?? 200).end('taken'); });
  });
  await new Promise<void>((resolve) => { receiver.listen(0, '127.0.0.1', resolve); });
  url = `http://127.0.0.1:${(receiver.address() as AddressInfo).port}/tower`;
  database = await freshDatabase();
  plant = await makePlant(database.work);
  api = await startApi(database, { now: () => now });
  streamId = await makeStream(database, plant, 'body-hook');
  // The plan of the plant has no interval, so that nothing but signals is told.
  await database.work.client.checkPlan.updateMany({ data: { everyMinutes: null, intervalSource: '' } });
}, 120_000);
afterAll(async () => { receiver.closeAllConnections(); receiver.close(); await api.close(); await database.close(); });
beforeEach(async () => {
  [got, answers, now] = [[], [], new Date('2026-03-02T12:00:00Z')];
  for (const { id } of (await hooks()).body) await api.as('administrator').call(removeWebhook, { params: { id } });
  await clock('2026-03-02T12:00:00Z');
  got = [];
});

const hooks = () => api.as('administrator').call(listWebhooks, {});
type Hours = Partial<{ shift: { from: number; until: number } | null; shifts: string[]; days: number[]; quiet: { from: number; until: number } | null }>;
const given = (name = 'Line tower') => ({ name, url, kinds: ['signal.raised' as const], allowInternal: true });
const make = async (hours: Hours = {}, name?: string) => { const { status, body } = await api.as('administrator').call(createWebhook, { body: { ...given(name), ...hours } }); expect(status).toBe(201); hookId = body.webhook.id; return body.webhook; };
const change = (hours: Hours & { active?: boolean }) => api.as('administrator').call(changeWebhook, { params: { id: hookId }, body: { ...given(), active: true, ...hours } });
const setUp = async (shifts: ShiftView[]) => expect((await api.as('engineer').call(setShifts, { body: { shifts } })).status).toBe(200);
const log = async (): Promise<Delivery[]> => (await api.as('administrator').call(listDeliveries, { query: { take: 200 } })).body.filter((row) => row.webhookId === hookId);
const look = () => outgoingRound(api, database);
const clock = async (moment: string) => { now = new Date(moment); await look(); };
const raise = async (moment: string) => { now = new Date(moment); const id = await raiseSignal(database, plant.plantId, streamId, now); await look(); return `signal-${id}-raised`; };
const hours = (from: number, until: number) => ({ from: from * 60, until: until * 60 });

it('sends at any hour of every day where nothing is chosen, as webhooks from before do', async () => {
  expect(await make()).toMatchObject({ shift: null, shifts: [], days: [1, 2, 3, 4, 5, 6, 7], quiet: null, held: 0 });
  const ids = [await raise('2026-03-07T03:00:00Z'), await raise('2026-03-08T23:00:00Z')];
  expect(got).toEqual(ids);
  expect((await log()).map(({ state, withheld }) => [state, withheld])).toEqual([['delivered', null], ['delivered', null]]);
});

it('does not send outside its hours and days, says so in the log, and sends such a message by hand', async () => {
  await make({ shift: hours(6, 14), days: [1, 2, 3, 4, 5] });
  const early = await raise('2026-03-02T05:59:00Z');
  const inside = await raise('2026-03-02T06:00:00Z');
  await raise('2026-03-02T14:00:00Z');
  await raise('2026-03-07T12:00:00Z');
  await clock('2026-03-09T12:00:00Z');
  expect(got).toEqual([inside]);
  const rows = await log();
  expect(rows.map(({ state, withheld, attempts }) => [state, withheld, attempts])).toEqual([['not-sent', 'off-day', 0], ['not-sent', 'off-hours', 0], ['delivered', null, 1], ['not-sent', 'off-hours', 0]]);
  expect((await hooks()).body[0]).toMatchObject({ waiting: 0, held: 0, failed: 0 });
  expect((await api.as('administrator').call(resendDelivery, { params: { id: rows[3]?.id ?? 0 } })).status).toBe(202);
  await clock('2026-03-09T23:00:00Z');
  expect(got).toEqual([inside, early]);
  expect((await log())[3]).toMatchObject({ state: 'delivered', withheld: 'off-hours', attempts: 1 });
});

it('keeps what comes in quiet hours and sends it at their end in its order, once', async () => {
  await make({ quiet: hours(22, 6) });
  const ids = [await raise('2026-03-02T22:00:00Z'), await raise('2026-03-03T02:00:00Z'), await raise('2026-03-03T05:59:00Z')];
  expect(got).toEqual([]);
  expect((await hooks()).body[0]).toMatchObject({ held: 3, waiting: 0 });
  await clock('2026-03-03T05:59:59Z');
  expect(got).toEqual([]);
  await clock('2026-03-03T06:00:00Z');
  await clock('2026-03-03T06:01:00Z');
  expect(got).toEqual(ids);
  expect((await log()).map(({ state, withheld }) => [state, withheld])).toEqual([['delivered', 'quiet'], ['delivered', 'quiet'], ['delivered', 'quiet']]);
});

it('sends a test and what is sent by hand in quiet hours, tries on what was begun before them, and all of it once they are taken away', async () => {
  await make({ quiet: hours(22, 6) });
  answers = [500];
  const begun = await raise('2026-03-02T21:59:00Z');
  await clock('2026-03-02T22:05:00Z');
  expect(got).toEqual([begun, begun]);
  expect((await api.as('administrator').call(testWebhook, { params: { id: hookId } })).status).toBe(202);
  await look();
  const [byHand, kept] = [await raise('2026-03-02T22:10:00Z'), await raise('2026-03-02T22:11:00Z')];
  await api.as('administrator').call(resendDelivery, { params: { id: (await log()).find(({ state }) => state === 'quiet' )?.id ?? 0 } });
  await look();
  expect(got).toHaveLength(4);
  expect([got[2]?.startsWith('test-'), [byHand, kept].includes(got[3] ?? '')]).toEqual([true, true]);
  expect((await change({ quiet: null })).body).toMatchObject({ quiet: null });
  await look();
  expect(new Set(got.slice(3))).toEqual(new Set([byHand, kept]));
  expect((await hooks()).body[0]).toMatchObject({ held: 0, failed: 0 });
});

it('goes by the plant’s clock where it is changed in the night', async () => {
  // 29 March 2026: 01:00 becomes 02:00, at 01:00 UTC; 06:00 is then 05:00 UTC.
  await make({ quiet: hours(22, 6) });
  const spring = await raise('2026-03-28T23:30:00Z');
  await clock('2026-03-29T04:59:00Z');
  expect(got).toEqual([]);
  await clock('2026-03-29T05:00:00Z');
  expect(got).toEqual([spring]);
  // 25 October 2026: 02:00 becomes 01:00, at 01:00 UTC; 06:00 is then 06:00 UTC, and was 05:00 UTC the day before.
  const autumn = await raise('2026-10-24T22:30:00Z');
  await clock('2026-10-25T05:30:00Z');
  expect(got).toEqual([spring]);
  await clock('2026-10-25T06:00:00Z');
  expect(got).toEqual([spring, autumn]);
});

it('follows shifts of the plant when the plant moves them, and is not silenced by one that is gone', async () => {
  const early: ShiftView = { name: 'Early', begins: '06:00', ends: '14:00', days: [1, 2, 3, 4, 5] };
  await setUp([early, { name: 'Night', begins: '22:00', ends: '06:00', days: [7, 1, 2, 3, 4] }]);
  expect(await make({ shifts: ['Night', 'Early', 'Night'] })).toMatchObject({ shift: null, shifts: ['Night', 'Early'] });
  const told = [await raise('2026-03-03T05:00:00Z'), await raise('2026-03-03T13:59:00Z')];
  await raise('2026-03-03T14:00:00Z');
  await raise('2026-03-06T23:00:00Z');
  expect((await log()).map(({ withheld }) => withheld)).toEqual(['off-day', 'off-hours', null, null]);
  await setUp([{ ...early, begins: '07:00', ends: '15:00' }, { name: 'Night', begins: '23:00', ends: '07:00', days: [7, 1, 2, 3, 4] }]);
  told.push(await raise('2026-03-04T14:30:00Z'));
  await raise('2026-03-04T22:30:00Z');
  expect(got).toEqual(told);
  await setUp([early]);
  told.push(await raise('2026-03-05T20:00:00Z'));
  expect(got).toEqual(told);
  // The switch and other changes leave the hours alone, the shift that is gone included.
  expect((await change({})).body).toMatchObject({ shifts: ['Night', 'Early'], active: true });
  expect((await change({ shifts: ['Night'] })).problem.errors).toEqual([{ field: 'shifts.0', expected: 'a shift of the plant: Early; not “Night”' }]);
  expect((await change({ shifts: ['Early'] })).body).toMatchObject({ shifts: ['Early'] });
  await raise('2026-03-05T21:00:00Z');
  expect(got).toEqual(told);
});

it('keeps the hours of each webhook apart, and names what is wrong with them', async () => {
  await make({ shift: hours(6, 14) }, 'Day');
  const day = hookId;
  await make({ shift: hours(22, 6) }, 'Night');
  await raise('2026-03-03T23:00:00Z');
  const rows = (await api.as('administrator').call(listDeliveries, { query: { take: 2 } })).body;
  expect(new Map(rows.map(({ webhookId, state }) => [webhookId, state]))).toEqual(new Map([[hookId, 'delivered'], [day, 'not-sent']]));
  const wrong = async (body: object) => (await api.as('administrator').raw({ method: 'POST', url: createWebhook.path, payload: { ...given(), ...body } })).problem.errors?.map(({ field }) => field);
  expect(await wrong({ shift: hours(6, 6) })).toEqual(['shift.until']);
  expect(await wrong({ quiet: { from: -1, until: 1440 } })).toEqual(['quiet.from', 'quiet.until']);
  expect(await wrong({ days: [] })).toEqual(['days']);
  expect(await wrong({ days: [0] })).toEqual(['days.0']);
  expect(await wrong({ shifts: ['Siesta'] })).toEqual(['shifts.0']);
  expect(await wrong({ shifts: ['Early'], shift: hours(6, 14) })).toEqual(['shifts']);
  expect((await hooks()).body).toHaveLength(2);
  const acts = await database.work.client.auditRow.findMany({ where: { action: 'webhook.made', subject: `webhook ${hookId}` } });
  expect(acts[0]?.after).toMatchObject({ name: 'Night', shift: hours(22, 6), days: [1, 2, 3, 4, 5, 6, 7] });
});

it('sends nothing that waited in quiet hours once the webhook is switched off, removed, or imported elsewhere', async () => {
  await make({ quiet: hours(22, 6) });
  await raise('2026-03-02T23:00:00Z');
  await change({ active: false });
  await clock('2026-03-03T06:00:00Z');
  expect((await log())[0]).toMatchObject({ state: 'failed', lastError: 'the webhook was switched off or removed' });
  await change({ active: true });
  await raise('2026-03-03T23:00:00Z');
  for (const statement of NEVER_SENT) await database.work.client.$executeRawUnsafe(statement);
  await clock('2026-03-04T06:00:00Z');
  expect((await log())[0]).toMatchObject({ state: 'failed', lastError: expect.stringContaining('was exported') });
  expect(got).toEqual([]);
});
