import { afterAll, beforeAll, expect, it } from 'vitest';
import { ModulesContainer } from '@nestjs/core';
import { allEndpoints } from '#contract/all-endpoints';
import { type Endpoint, mayUse } from '#contract/endpoint';
import { roles } from '#contract/roles';
import { getSession, listUsers } from '#contract/users';
import { definitionOf } from '../../apps/api/src/platform/endpoint.js';
import { SESSION_COOKIE } from '../../apps/api/src/platform/access.guard.js';
import { hashToken } from '../../apps/api/src/platform/token.js';
import { startApi, type TestApi } from '../db/api.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';
import { makePlant, type TestPlant } from '../factories/plant.js';

let database: TestDatabase;
let api: TestApi;
let plant: TestPlant;
beforeAll(async () => { database = await freshDatabase(); plant = await makePlant(database.work); api = await startApi(database); });
afterAll(async () => { await api.close(); await database.close(); });

/** An address for the endpoint with parameters that lead nowhere. */
const addressOf = (endpoint: Endpoint) => endpoint.path.replace(/:[A-Za-z]+/g, '999999');
const requestOf = (endpoint: Endpoint, headers: Record<string, string> = {}) => ({ method: endpoint.method, url: addressOf(endpoint), ...(endpoint.method === 'GET' ? {} : { payload: {} }), headers });
// A stream of events never ends; its roles are those of every signed-in person.
const answering = allEndpoints.filter(({ endpoint }) => endpoint.answerType !== 'text/event-stream');

it('routes every endpoint of the contract, once, and nothing that the contract does not name', () => {
  const routed = handlers().map((handler) => definitionOf(handler));
  expect(routed.every((definition) => definition !== undefined), 'a handler without a declared role').toBe(true);
  const name = (endpoint: Endpoint) => `${endpoint.method} ${endpoint.path}`;
  expect(routed.map((definition) => name(definition as Endpoint)).sort()).toEqual(allEndpoints.map(({ endpoint }) => name(endpoint)).sort());
});

it('refuses everything but the public endpoints to somebody who is not signed in', async () => {
  for (const { name, endpoint } of answering.filter(({ endpoint: { access } }) => access !== 'public')) {
    const { status, problem } = await api.nobody.raw(requestOf(endpoint));
    expect([status, problem.code], name).toEqual([401, 'not-signed-in']);
  }
  expect(allEndpoints.filter(({ endpoint }) => endpoint.access === 'public' && endpoint.feature !== 'workbench').map(({ name }) => name).sort()).toEqual(['firstRun', 'getCalendar', 'getDocs', 'getHealth', 'getOpenApi', 'getSession', 'getVersion', 'openWall', 'signIn']);
});

it('refuses each endpoint to each role that it does not name, and never with a 500', { timeout: 120_000 }, async () => {
  for (const { name, endpoint } of answering) {
    if (endpoint.access === 'public') continue;
    for (const role of roles) {
      if (['signOut', 'lockSession', 'endOwnSession'].includes(name)) continue;
      const { status, problem, text } = await api.as(role).raw(requestOf(endpoint));
      if (!mayUse(endpoint, role)) expect([status, problem.code], `${name} as ${role}`).toEqual([403, 'not-allowed']);
      else expect([status === 401 || status === 403 ? status : 0, status >= 500 ? `${status} ${text}` : 'no 5xx'], `${name} as ${role}`).toEqual([0, 'no 5xx']);
      expect(text).not.toMatch(/\n\s+at |node_modules/);
    }
  }
});

it('lets an auditor change nothing', () => {
  for (const { name, endpoint } of allEndpoints) {
    if (endpoint.method === 'GET' || endpoint.access === 'public' || ['signOut', 'changePassword'].includes(name)) continue;
    // Reading by POST is still reading: a preview stores nothing.
    if (/preview/i.test(name)) continue;
    // Their own account and session, which hold no record of the plant.
    if (endpoint.auditor === 'own' && endpoint.feature === 'users') continue;
    expect(mayUse(endpoint, 'auditor'), name).toBe(false);
  }
});

it('refuses a change without the session’s token, with a wrong one, or from a page of another site', async () => {
  const token = 'a session whose page forgot its token';
  await database.work.client.session.create({ data: { plantId: plant.plantId, userId: plant.users.administrator, tokenHash: hashToken(token), csrf: 'the right one', expiresAt: new Date(Date.now() + 60_000) } });
  const cookie = `${SESSION_COOKIE}=${encodeURIComponent(token)}`;
  for (const { name, endpoint } of answering.filter(({ endpoint: { method, access } }) => method !== 'GET' && access !== 'public')) {
    const wrong = await api.as('administrator').raw(requestOf(endpoint, { 'x-csrf-token': 'guessed' }));
    expect([wrong.status, wrong.problem.code], name).toEqual(endpoint.access.includes('administrator') ? [403, 'request-forgery'] : [403, 'not-allowed']);
    const missing = await api.nobody.raw(requestOf(endpoint, { cookie }));
    expect([missing.status, missing.problem.code], `${name} without a token`).toEqual(endpoint.access.includes('administrator') ? [403, 'request-forgery'] : [403, 'not-allowed']);
    const foreign = await api.as('administrator').raw(requestOf(endpoint, { origin: 'https://elsewhere.example' }));
    expect([foreign.status, foreign.problem.code], name).toEqual([403, 'request-forgery']);
  }
});

it('sends the headers that keep a page to itself, the same with every answer', async () => {
  const answers = [];
  for (const url of ['/api/session', '/api/session', '/api/nowhere', '/api/now']) answers.push((await api.nobody.raw({ method: 'GET', url })).headers);
  for (const headers of answers) {
    expect(headers['content-security-policy']).toContain("script-src 'self'");
    expect(headers['content-security-policy']).toContain("frame-ancestors 'none'");
    expect(headers['x-content-type-options']).toBe('nosniff');
    expect(headers['x-frame-options']).toBe('SAMEORIGIN');
    expect(headers['referrer-policy']).toBe('same-origin');
    expect(headers['strict-transport-security']).toBeUndefined();
    expect(headers['content-security-policy']).toBe(answers[0]?.['content-security-policy']);
  }
  expect(answers[0]?.['cache-control']).toBe('no-store');
});

it('forgets a session that has expired or whose person was disabled', async () => {
  const db = database.work.client;
  const people = await api.as('manager').call(getSession, {});
  expect(people.body.person?.role).toBe('manager');
  await db.session.updateMany({ where: { userId: plant.users.manager }, data: { expiresAt: new Date(Date.now() - 1000) } });
  expect((await api.as('manager').call(getSession, {})).body.person).toBeNull();
  await db.user.update({ where: { plantId_id: { plantId: plant.plantId, id: plant.users.technician } }, data: { disabledAt: new Date() } });
  expect((await api.as('technician').call(listUsers, {})).status).toBe(401);
});

it('keeps the audit trail, limits, specifications and replaced values from being changed, by anybody', async () => {
  const db = database.work.client;
  await db.$executeRaw`INSERT INTO audit_row (plant_id, actor, action, subject) VALUES (${plant.plantId}, 'test', 'test', 'test')`;
  await expect(db.$executeRaw`UPDATE audit_row SET actor = 'nobody'`).rejects.toThrow(/never changed/);
  await expect(db.$executeRaw`DELETE FROM audit_row`).rejects.toThrow(/never changed/);
  await expect(db.$executeRaw`TRUNCATE audit_row`).rejects.toThrow(/never changed/);
  await expect(db.$executeRaw`UPDATE specification SET lsl = 0`).rejects.toThrow(/never changed/);
});

function handlers(): object[] {
  const controllers = [...api.app.get(ModulesContainer).values()].flatMap((module) => [...module.controllers.values()]);
  return controllers.flatMap(({ metatype }) => {
    const prototype = (metatype as { prototype: Record<string, unknown> }).prototype;
    return Object.getOwnPropertyNames(prototype).filter((name) => name !== 'constructor').map((name) => prototype[name]).filter((value): value is object => typeof value === 'function' && Reflect.hasMetadata('path', value));
  });
}
