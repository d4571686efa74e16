import type { AddressInfo } from 'node:net';
import { SMTPServer } from 'smtp-server';
import { afterAll, beforeAll, beforeEach, expect, it } from 'vitest';
import { skipDueCheck } from '#contract/due-checks';
import { endMyCalendar, endMyNotices, getMyNotices, makeMyCalendar, type NoticeChoice, saveMyNotices } from '#contract/outgoing';
import { setShifts } from '#contract/shifts';
import { recordProductionCounts } from '#contract/production';
import { startApi, type TestApi } from '../db/api.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';
import { outgoingRound } from '../factories/outgoing-round.js';
import { makePlant, type TestPlant } from '../factories/plant.js';
import { makeStream, raiseSignal } from '../factories/signal.js';

// A real mail server on loopback. The plant's clock is Lisbon's: in March it is UTC.
let database: TestDatabase;
let api: TestApi;
let plant: TestPlant;
let server: SMTPServer;
let mails: { to: string; text: string }[] = [];
let refuse = 0;
let now = new Date('2026-03-02T12:00:00Z');
let streams: [number, number];

beforeAll(async () => {
  server = new SMTPServer({
    authOptional: true, disabledCommands: ['STARTTLS', 'AUTH'],
    onData(stream, session, done) {
      let text = '';
      stream.on('data', (chunk: Buffer) => { text += chunk.toString('utf8'); }).on('end', () => {
        if (refuse > 0) {
          refuse -= 1;
          return done(Object.assign(new Error('try later'), { responseCode: 451 }));
        }
        mails.push({ to: session.envelope.rcptTo.map(({ address }) => address).join(), text: text.replace(/=\r\n/g, '').replace(/=3D/g, '=') });
        done();
      });
    },
  });
  await new Promise<void>((resolve) => { server.listen(0, '127.0.0.1', resolve); });
  const { port } = server.server.address() as AddressInfo;
  database = await freshDatabase();
  plant = await makePlant(database.work);
  api = await startApi(database, { now: () => now }, { smtp: { url: `smtp://127.0.0.1:${port}`, from: 'seamledger@plant.example' }, publicUrl: 'https://quality.plant.example', metricsToken: null });
  await api.as('engineer').call(getMyNotices, {});
  streams = [await makeStream(database, plant, 'body-hook'), await makeStream(database, plant, 'cover-hook')];
});
afterAll(async () => { await api.close(); await new Promise<void>((resolve) => { server.close(() => resolve()); }); await database.close(); });
beforeEach(async () => {
  await database.work.client.notice.deleteMany();
  await database.work.client.mail.deleteMany();
  await database.work.client.overdueTold.deleteMany();
  mails = [];
  refuse = 0;
  now = new Date('2026-03-02T12:00:00Z');
});

const choice: NoticeChoice = { address: 'engineer@plant.example', signals: true, overdue: false, shift: null, shifts: [], quiet: null, days: [1, 2, 3, 4, 5, 6, 7], digestMinutes: null };
const choose = async (change: Partial<NoticeChoice> = {}) => expect((await api.as('engineer').call(saveMyNotices, { body: { ...choice, ...change } })).status).toBe(200);
const look = () => outgoingRound(api, database);
const raise = (stream: 0 | 1 = 0) => raiseSignal(database, plant.plantId, streams[stream], now);
const pass = (minutes: number) => { now = new Date(now.getTime() + minutes * 60_000); };

it('sends a signal once, with where to look and how to end it', async () => {
  await choose();
  const id = await raise();
  await look();
  await look();
  expect(mails.map(({ to }) => to)).toEqual(['engineer@plant.example']);
  for (const words of ['Subject: Test plant: Signal: Body hook on SE1', 'From: seamledger@plant.example', `https://quality.plant.example/signals/${id}`, 'https://quality.plant.example/account/notices', 'decided by the plant']) expect(mails[0]?.text).toContain(words);
});

it('tries again when the mail server says so, and sends once', async () => {
  await choose();
  refuse = 2;
  await raise();
  await look();
  expect(mails).toEqual([]);
  expect(await database.work.client.mail.findFirst()).toMatchObject({ state: 'waiting', attempts: 1 });
  for (let round = 0; round < 4; round += 1) await look();
  expect(mails).toHaveLength(1);
  expect(await database.work.client.mail.findFirst()).toMatchObject({ state: 'sent', attempts: 3, error: null });
});

it('speaks of one stream at most once an hour, of others meanwhile, and of the rest together after it', async () => {
  await choose();
  await raise(0);
  await look();
  pass(10);
  await raise(0);
  await raise(1);
  await look();
  expect(mails).toHaveLength(2);
  expect(mails[1]?.text).toContain('Cover hook');
  expect(mails[1]?.text).not.toContain('Body hook');
  pass(20);
  await raise(0);
  await look();
  expect(mails).toHaveLength(2);
  pass(30);
  await look();
  expect(mails).toHaveLength(3);
  expect(mails[2]?.text).toContain('2 messages');
});

it('waits through quiet hours and tells everything at their end, in one e-mail', async () => {
  await choose({ quiet: { from: 22 * 60, until: 6 * 60 } });
  now = new Date('2026-03-02T23:30:00Z');
  await raise(0);
  await look();
  pass(120);
  await raise(1);
  await look();
  expect(mails).toEqual([]);
  now = new Date('2026-03-03T06:00:00Z');
  await look();
  expect(mails).toHaveLength(1);
  expect(mails[0]?.text).toContain('Body hook');
  expect(mails[0]?.text).toContain('Cover hook');
});

it('tells nothing on days that are not the person’s', async () => {
  // 2026-03-02 is a Monday.
  await choose({ days: [2, 3] });
  expect((await api.as('engineer').call(getMyNotices, {})).body.choice?.days).toEqual([2, 3]);
  now = new Date('2026-03-02T12:00:00Z');
  await raise(0);
  await look();
  expect(mails).toEqual([]);
  now = new Date('2026-03-03T12:00:00Z');
  await raise(1);
  await look();
  expect(mails).toHaveLength(1);
  expect(mails[0]?.text).toContain('Cover hook');
  expect(mails[0]?.text).not.toContain('Body hook');
});

it('tells nothing outside the person’s shift, and in digests when asked to', async () => {
  await choose({ shift: { from: 6 * 60, until: 14 * 60 }, digestMinutes: 120 });
  now = new Date('2026-03-02T14:00:00Z');
  await raise(0);
  await look();
  now = new Date('2026-03-03T06:30:00Z');
  await look();
  expect(mails).toEqual([]);
  await raise(0);
  await look();
  expect(mails).toHaveLength(1);
  pass(119);
  await raise(1);
  await look();
  expect(mails).toHaveLength(1);
  pass(1);
  await look();
  expect(mails).toHaveLength(2);
});

it('follows a shift of the plant when the plant moves it, and tells more rather than nothing when it is gone', async () => {
  const early = { name: 'Early', begins: '06:00', ends: '14:00', days: [1, 2, 3, 4, 5] };
  const setUp = async (shifts: (typeof early)[]) => expect((await api.as('engineer').call(setShifts, { body: { shifts } })).status).toBe(200);
  await setUp([early]);
  await choose({ shifts: ['Early'] });
  expect((await api.as('engineer').call(getMyNotices, {})).body.choice).toMatchObject({ shift: null, shifts: ['Early'] });
  const told = async (moment: string) => { const before = mails.length; now = new Date(moment); await raise(0); await look(); return mails.length - before; };
  expect([await told('2026-03-02T13:00:00Z'), await told('2026-03-02T14:30:00Z'), await told('2026-03-07T13:00:00Z')]).toEqual([1, 0, 0]);
  await setUp([{ ...early, begins: '07:00', ends: '15:00' }]);
  expect([await told('2026-03-03T06:30:00Z'), await told('2026-03-03T14:30:00Z')]).toEqual([0, 1]);
  await setUp([{ ...early, name: 'Morning' }]);
  expect(await told('2026-03-04T20:00:00Z')).toBe(1);
  const refused = await api.as('engineer').call(saveMyNotices, { body: { ...choice, shifts: ['Early'] } });
  expect(refused.problem.errors).toEqual([{ field: 'shifts.0', expected: 'a shift of the plant: Morning; not “Early”' }]);
  await setUp([]);
});

it('tells of an overdue check once for the interval that was missed', async () => {
  await choose({ signals: false, overdue: true });
  await database.work.client.checkPlan.updateMany({ data: { everyMinutes: 60, intervalSource: 'plan of the plant' } });
  await look();
  expect(mails).toHaveLength(1);
  expect(mails[0]?.text).toContain('was never made');
  expect(mails[0]?.text).toContain('is advice');
  pass(180);
  await look();
  expect(mails).toHaveLength(1);
});

it('ends all of it when the person says so, what is waiting too, and when the account is disabled', async () => {
  await choose({ quiet: { from: 11 * 60, until: 13 * 60 } });
  await raise();
  await look();
  expect((await api.as('engineer').call(getMyNotices, {})).body).toMatchObject({ waiting: 1, mailServer: true });
  expect((await api.as('engineer').call(endMyNotices, {})).body).toMatchObject({ waiting: 0, choice: null });
  pass(120);
  await look();
  expect(mails).toEqual([]);
  await choose();
  await database.work.client.user.updateMany({ where: { role: 'engineer' }, data: { disabledAt: new Date() } });
  await raise();
  await look();
  expect(mails).toEqual([]);
  await database.work.client.user.updateMany({ where: { role: 'engineer' }, data: { disabledAt: null } });
});

it('names what is wrong with a choice', async () => {
  const wrong = async (change: object) => (await api.as('engineer').raw({ method: 'PUT', url: saveMyNotices.path, payload: { ...choice, ...change } })).problem.errors?.[0]?.field;
  expect(await wrong({ address: 'nobody' })).toBe('address');
  expect(await wrong({ address: 'a@plant.example\r\nBcc: b@plant.example' })).toBe('address');
  expect(await wrong({ quiet: { from: 60, until: 60 } })).toBe('quiet.until');
  expect(await wrong({ shift: { from: 0, until: 1440 } })).toBe('shift.until');
  expect(await wrong({ digestMinutes: 1 })).toBe('digestMinutes');
});

it('gives each person a secret calendar of due checks, until another is made, or it is ended', async () => {
  const make = async () => (await api.as('technician').call(makeMyCalendar, {})).body.path;
  const read = (url: string) => api.nobody.raw({ method: 'GET', url });
  const first = await make();
  const { status, headers, text } = await read(first);
  expect([status, headers['content-type']]).toEqual([200, 'text/calendar; charset=utf-8']);
  expect(text).toMatch(/^BEGIN:VCALENDAR\r\nVERSION:2\.0\r\n/);
  const uids = (calendar: string) => calendar.match(/UID:.*/g);
  expect(uids(text)).toHaveLength(1);
  pass(5);
  expect(uids((await read(first)).text)).toEqual(uids(text));
  const second = await make();
  expect([(await read(first)).status, (await read(second)).status]).toEqual([404, 200]);
  await api.as('technician').call(endMyCalendar, {});
  expect((await read(second)).status).toBe(404);
  expect((await read('/api/calendar/guessed')).problem.code).toBe('not-found');
});

it('tells in cans of a check that is late by cans, and again when it falls due again after a skip', async () => {
  await choose({ signals: false, overdue: true });
  await database.work.client.checkPlan.updateMany({ data: { everyMinutes: null, intervalSource: '', everyCans: 4000, cansSource: 'the customer' } });
  const produce = async () => {
    const counts = Array.from({ length: 12 }, (_, index) => ({ machineId: plant.machines.bodyMaker, at: new Date(now.getTime() - 3_600_000 + index * 300_000).toISOString(), minutes: 5, good: 1000 }));
    expect((await api.as('operator').call(recordProductionCounts, { body: { counts } })).status).toBe(200);
  };
  await produce();
  await look();
  expect(mails.map(({ text }) => text.replace(/=?\r?\n/g, ''))).toEqual([expect.stringContaining('is late by 8000 cans. The interval of 4000 cans is advice (the customer).')]);
  expect((await api.as('operator').call(skipDueCheck, { body: { planId: plant.planId, reason: 'the line is being set' } })).status).toBe(201);
  pass(61);
  await produce();
  await look();
  expect(mails).toHaveLength(2);
});
