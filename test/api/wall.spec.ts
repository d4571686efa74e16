import { createHash } from 'node:crypto';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { allEndpoints } from '#contract/all-endpoints';
import { listAudit } from '#contract/users';
import { createKiosk, getWall, listKiosks, openWall, revokeKiosk, wallBoard } from '#contract/wall';
import { logIncident } from '#contract/incidents';
import { startApi, type TestApi } from '../db/api.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';
import { makePlant, type TestPlant } from '../factories/plant.js';

let database: TestDatabase;
let api: TestApi;
let plant: TestPlant;
let now = new Date('2026-03-02T08:00:00Z');
beforeAll(async () => {
  database = await freshDatabase();
  plant = await makePlant(database.work);
  api = await startApi(database, { now: () => now });
});
afterAll(async () => { await api.close(); await database.close(); });

const make = async (name: string, expiresAt: string | null = null) => (await api.as('administrator').call(createKiosk, { body: { name, expiresAt } })).body;
const cookieOf = async (token: string) => {
  const opened = await api.nobody.call(openWall, { body: { token } });
  expect(opened.status).toBe(200);
  return opened.headers['set-cookie'] ?? '';
};
const board = (cookie: string) => api.nobody.raw({ method: 'GET', url: getWall.path, headers: { cookie: cookie.split(';')[0] ?? '' } });

it('makes a token that is shown once and stored as its SHA-256', async () => {
  const { kiosk, token } = await make('Seamer hall');
  expect(kiosk).toMatchObject({ name: 'Seamer hall', state: 'active', expiresAt: null });
  const row = await database.work.client.kioskToken.findFirstOrThrow({ where: { id: kiosk.id } });
  expect(row.tokenHash).toBe(createHash('sha256').update(token).digest('hex'));
  const { body, text } = await api.as('administrator').call(listKiosks, {});
  expect(body.map(({ name }) => name)).toContain('Seamer hall');
  expect(text).not.toContain(token);
  const audit = await api.as('manager').call(listAudit, { query: { subject: `kiosk ${kiosk.id}` } });
  expect(audit.body.map(({ action }) => action)).toEqual(['kiosk.made']);
  expect(audit.text).not.toContain(token);
});

it('shows the board to the screen, for longer than any session, and without the names of customers and people', async () => {
  await api.as('engineer').call(logIncident, { body: {
    kind: 'complaint', customer: 'Brackwater Pantry', productId: plant.productId, lineId: plant.lineId, madeAt: '2026-03-01T08:00:00Z', receivedAt: '2026-03-02T07:00:00Z', cansComplained: 12, cansExamined: 12, cansLeaking: 4,
    leakPlace: 'juncture', defect: 'cold-weld', description: 'From the shelf.',
  } });
  const cookie = await cookieOf((await make('Welder bay')).token);
  expect(cookie).toMatch(/Path=\/api\/wall/);
  expect(cookie).toMatch(/HttpOnly/);
  expect(cookie).toMatch(/SameSite=Strict/);
  now = new Date('2026-09-30T08:00:00Z');
  const { status, body, text } = await board(cookie);
  expect(status).toBe(200);
  expect(wallBoard.parse(body)).toMatchObject({ plant: 'Test plant', timeZone: 'Europe/Lisbon', screen: 'Welder bay', lines: [{ code: 'T1', incidents: 1 }] });
  expect(text).not.toMatch(/Brackwater|Test engineer/);
  now = new Date('2026-03-02T08:00:00Z');
});

it('opens nothing else with it, by cookie, by session cookie or by header', async () => {
  const { token } = await make('Only the board');
  const others = allEndpoints.filter(({ endpoint }) => endpoint.access !== 'public' && endpoint.access !== 'wall');
  expect(others.length).toBeGreaterThan(50);
  for (const { name, endpoint } of others) {
    const ask = async (headers: Record<string, string>) => {
      const { status, problem } = await api.nobody.raw({ method: endpoint.method, url: endpoint.path.replace(/:[A-Za-z]+/g, '1'), ...(endpoint.method === 'GET' ? {} : { payload: {} }), headers });
      return [status, problem.code];
    };
    const cookie = `seamledger_wall=${token}; seamledger_session=${token}`;
    expect(await ask({ cookie }), name).toEqual([401, 'not-signed-in']);
    // As a bearer it is looked up among the tokens of feeds, and is none of them.
    expect(await ask({ cookie, authorization: `Bearer ${token}` }), name).toEqual([401, 'token-refused']);
  }
});

it('ends at once when revoked, and when its time is over', async () => {
  const { kiosk, token } = await make('Old screen');
  const cookie = await cookieOf(token);
  expect((await board(cookie)).status).toBe(200);
  expect((await api.as('administrator').call(revokeKiosk, { params: { id: kiosk.id } })).body.state).toBe('revoked');
  expect((await board(cookie)).status).toBe(401);
  expect((await api.nobody.call(openWall, { body: { token } })).problem.code).toBe('wrong-credentials');
  expect((await api.as('administrator').call(revokeKiosk, { params: { id: kiosk.id } })).problem.code).toBe('wrong-state');

  const short = await make('For the visit', '2026-03-02T18:00:00Z');
  const visit = await cookieOf(short.token);
  now = new Date('2026-03-02T17:59:00Z');
  expect((await board(visit)).status).toBe(200);
  now = new Date('2026-03-02T18:00:00Z');
  expect((await board(visit)).status).toBe(401);
  expect((await api.as('administrator').call(createKiosk, { body: { name: 'Too late', expiresAt: '2026-03-02T18:00:00Z' } })).problem.errors?.[0]?.field).toBe('expiresAt');
  now = new Date('2026-03-02T08:00:00Z');
});

it('is made by administrators only', async () => {
  expect((await api.as('engineer').call(createKiosk, { body: { name: 'Mine' } })).status).toBe(403);
  expect((await api.as('administrator').call(getWall, {})).problem.code).toBe('not-allowed');
});
