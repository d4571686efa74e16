import { afterAll, beforeAll, expect, it } from 'vitest';
import { allEndpoints } from '#contract/all-endpoints';
import { endOwnSession, getSessionRule, listOwnSessions, lockSession, noteActivity, setSessionRule, unlockSession } from '#contract/sessions';
import { createUser, getSession, listAudit, signIn } from '#contract/users';
import { startApi, type TestApi } from '../db/api.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';
import { makePlant } from '../factories/plant.js';

let database: TestDatabase;
let api: TestApi;
let now = new Date();
const PASSWORD = 'a long enough password';
beforeAll(async () => {
  database = await freshDatabase();
  await makePlant(database.work);
  api = await startApi(database, { now: () => now });
  for (const login of ['ines', 'rui']) expect((await api.as('administrator').call(createUser, { body: { login, name: `Person ${login}`, role: 'engineer', password: PASSWORD } })).status).toBe(201);
});
afterAll(async () => { await api.close(); await database.close(); });

/** A browser of its own: cookie and token of a log-in through the door. */
async function open(login: string, agent = 'test browser') {
  const reply = await api.nobody.raw({ method: 'POST', url: signIn.path, payload: { login, password: PASSWORD }, headers: { 'user-agent': agent } });
  expect(reply.status, reply.text).toBe(200);
  const cookie = /seamledger_session=[^;]+/.exec(reply.headers['set-cookie'] as string)?.[0] as string;
  const headers = { cookie, 'x-csrf-token': (reply.body as { csrf: string }).csrf };
  return (method: 'GET' | 'POST' | 'PUT' | 'DELETE', url: string, payload?: object) => api.nobody.raw({ method, url, headers, ...(payload ? { payload } : method === 'GET' ? {} : { payload: {} }) });
}
const later = (minutes: number) => { now = new Date(now.getTime() + minutes * 60_000); };

it('takes the idle minutes from an administrator, within bounds, and writes who set them', async () => {
  const administrator = api.as('administrator');
  expect((await administrator.call(getSessionRule, {})).body).toEqual({ idleMinutes: 15 });
  expect((await administrator.call(setSessionRule, { body: { idleMinutes: 0 } })).problem.errors).toEqual([{ field: 'idleMinutes', expected: 'at least 1 minute' }]);
  expect((await api.as('engineer').call(setSessionRule, { body: { idleMinutes: 5 } })).status).toBe(403);
  expect((await administrator.call(setSessionRule, { body: { idleMinutes: 5 } })).status).toBe(200);
  const [entry] = (await administrator.call(listAudit, { query: {} })).body;
  expect(entry).toMatchObject({ action: 'session-rule.changed', before: { idleMinutes: 15 }, after: { idleMinutes: 5 } });
  const ask = await open('ines');
  later(6);
  expect((await ask('GET', listOwnSessions.path)).problem.code).toBe('session-locked');
  expect((await administrator.call(setSessionRule, { body: { idleMinutes: 15 } })).status).toBe(200);
});

it('locks on the server: every route refuses but unlocking, locking and signing out, until the password comes', async () => {
  const ask = await open('ines');
  expect((await ask('POST', lockSession.path)).status).toBe(200);
  for (const { name, endpoint } of allEndpoints.filter(({ endpoint }) => endpoint.access !== 'public' && !endpoint.whileLocked && endpoint.answerType !== 'text/event-stream')) {
    const { status, problem } = await ask(endpoint.method, endpoint.path.replace(/:[A-Za-z]+/g, '1'));
    expect([status, problem.code], name).toEqual([423, 'session-locked']);
  }
  expect((await ask('GET', getSession.path)).body).toMatchObject({ locked: true, person: { login: 'ines' } });
  expect((await ask('POST', unlockSession.path, { password: 'a wrong password' })).problem.code).toBe('wrong-credentials');
  expect((await ask('GET', listOwnSessions.path)).status).toBe(423);
  expect((await ask('POST', unlockSession.path, { password: PASSWORD })).body).toMatchObject({ locked: false });
  expect((await ask('GET', listOwnSessions.path)).status).toBe(200);
  expect(allEndpoints.filter(({ endpoint }) => endpoint.whileLocked).map(({ name }) => name).sort()).toEqual(['lockSession', 'signOut', 'unlockSession']);
});

it('locks by itself after the idle minutes, whatever the page asks meanwhile, and not while something is done', async () => {
  const ask = await open('ines');
  for (let minute = 0; minute < 40; minute += 10) {
    later(10);
    expect((await ask('POST', noteActivity.path)).status).toBe(200);
  }
  later(14);
  expect((await ask('GET', listOwnSessions.path)).status).toBe(200);
  later(2);
  // What was asked two minutes ago was a page asking: it does not count.
  expect((await ask('GET', listOwnSessions.path)).problem.code).toBe('session-locked');
  expect((await ask('POST', noteActivity.path)).problem.code).toBe('session-locked');
  expect((await ask('POST', unlockSession.path, { password: PASSWORD })).status).toBe(200);
  expect((await ask('GET', listOwnSessions.path)).status).toBe(200);
});

it('counts wrong passwords at unlocking like failed log-ins', async () => {
  const ask = await open('rui');
  await ask('POST', lockSession.path);
  const codes: string[] = [];
  for (let times = 0; times < 12; times += 1) codes.push((await ask('POST', unlockSession.path, { password: `wrong ${times}` })).problem.code);
  expect(codes.at(0)).toBe('wrong-credentials');
  expect(codes.at(-1)).toBe('too-many-attempts');
  expect((await ask('POST', unlockSession.path, { password: PASSWORD })).problem.code).toBe('too-many-attempts');
  later(16);
  expect((await ask('POST', unlockSession.path, { password: PASSWORD })).status).toBe(200);
});

it('lists one’s own sessions with where and when, and ends one of them at once', async () => {
  const [here, other, stranger] = [await open('ines', 'the office computer'), await open('ines', 'the tablet at SE1'), await open('rui')];
  const { sessions } = (await here('GET', listOwnSessions.path)).body as { sessions: { id: string; agent: string; address: string; here: boolean }[] };
  expect(sessions.filter((session) => session.here).map(({ agent }) => agent)).toEqual(['the office computer']);
  const tablet = sessions.find(({ agent }) => agent === 'the tablet at SE1');
  expect(tablet?.address).toBe('127.0.0.1');
  const end = endOwnSession.path.replace(':session', tablet?.id ?? '');
  expect((await stranger('DELETE', end)).problem.code).toBe('not-found');
  expect((await other('GET', listOwnSessions.path)).status).toBe(200);
  expect((await here('DELETE', end)).status).toBe(200);
  expect((await other('GET', listOwnSessions.path)).status).toBe(401);
  expect((await here('DELETE', endOwnSession.path.replace(':session', 'not a session'))).problem.errors?.[0]?.field).toBe('params.session');
});
