import { afterAll, beforeAll, expect, it } from 'vitest';
import { changePassword, changeUser, createUser, getSession, listAudit, listUsers } from '#contract/users';
import { refuseDemoPasswords } from '../../apps/api/src/users/demo-accounts.js';
import { startApi, type TestApi } from '../db/api.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';
import { makePlant, type TestPlant } from '../factories/plant.js';

let database: TestDatabase;
let api: TestApi;
let plant: TestPlant;
let now = new Date('2026-06-01T10:00:00Z');
beforeAll(async () => { database = await freshDatabase(); plant = await makePlant(database.work); api = await startApi(database, { now: () => now }); });
afterAll(async () => { await api.close(); await database.close(); });

const PASSWORD = 'a password of twelve and more';
const signIn = (login: string, password: string) => api.nobody.raw({ method: 'POST', url: '/api/session', payload: { login, password } });

it('makes an account whose password is kept as Argon2id, and signs it in by an httpOnly, same-site cookie', async () => {
  const made = await api.as('administrator').call(createUser, { body: { login: 'nina', name: 'Nina New', role: 'technician', password: PASSWORD } });
  expect(made).toMatchObject({ status: 201, body: { login: 'nina', role: 'technician', disabled: false } });
  const row = await database.work.client.user.findFirstOrThrow({ where: { login: 'nina' } });
  expect(row.passwordHash).toMatch(/^\$argon2id\$v=19\$/);
  const again = await api.as('administrator').call(createUser, { body: { login: 'nina', name: 'Another', role: 'operator', password: PASSWORD } });
  expect([again.status, again.problem.errors?.[0]?.field]).toEqual([409, 'login']);
  const good = await signIn('Nina ', PASSWORD);
  expect(good.status).toBe(200);
  expect(good.headers['set-cookie']).toMatch(/HttpOnly/);
  expect(good.headers['set-cookie']).toMatch(/SameSite=Strict/);
  const cookie = good.headers['set-cookie']?.split(';')[0] ?? '';
  const token = decodeURIComponent(cookie.split('=')[1] ?? '');
  expect(await database.work.client.session.count({ where: { tokenHash: token } }), 'the token itself is not stored').toBe(0);
  const session = await api.nobody.raw({ method: 'GET', url: '/api/session', headers: { cookie } });
  expect(session.body).toMatchObject({ person: { login: 'nina' } });
});

it('asks twelve characters of a password, and for the present one to change it', async () => {
  const short = await api.as('administrator').call(createUser, { body: { login: 'short', name: 'Short', role: 'operator', password: 'short' } });
  expect([short.status, short.problem.errors?.[0]?.field]).toEqual([400, 'password']);
  const opened = await signIn('nina', PASSWORD);
  const other = await signIn('nina', PASSWORD);
  const cookie = (reply: typeof opened) => reply.headers['set-cookie']?.split(';')[0] ?? '';
  const headers = { cookie: cookie(opened), 'x-csrf-token': (opened.body as { csrf: string }).csrf };
  const change = (body: object) => api.nobody.raw({ method: changePassword.method, url: changePassword.path, payload: body, headers });
  expect((await change({ oldPassword: 'not this one', newPassword: 'another long password' })).problem.code).toBe('wrong-credentials');
  const same = await change({ oldPassword: PASSWORD, newPassword: PASSWORD });
  expect([same.status, same.problem.errors?.[0]?.field]).toEqual([400, 'newPassword']);
  expect((await change({ oldPassword: PASSWORD, newPassword: 'another long password' })).status).toBe(200);
  expect((await api.nobody.raw({ method: 'GET', url: '/api/session', headers: { cookie: cookie(opened) } })).body).toMatchObject({ person: { login: 'nina' } });
  expect((await api.nobody.raw({ method: 'GET', url: '/api/session', headers: { cookie: cookie(other) } })).body, 'the other session is ended').toMatchObject({ person: null });
  expect((await signIn('nina', PASSWORD)).status).toBe(401);
  expect((await signIn('nina', 'another long password')).status).toBe(200);
});

it('answers an unknown login like a wrong password, and 429 after ten failures, until fifteen minutes have passed', async () => {
  const unknown = await signIn('nobody-here', PASSWORD);
  const wrong = await signIn('nina', 'wrong');
  expect([unknown.status, unknown.problem.code, unknown.problem.detail]).toEqual([wrong.status, wrong.problem.code, wrong.problem.detail]);
  for (let attempt = 0; attempt < 10; attempt += 1) await signIn('nina', 'wrong again');
  expect(await signIn('nina', 'another long password')).toMatchObject({ status: 429, problem: { code: 'too-many-attempts' } });
  now = new Date(now.getTime() + 16 * 60_000);
  expect((await signIn('nina', 'another long password')).status).toBe(200);
});

it('disables an account at once, keeps the last administrator, and writes each act into the trail with old and new value', async () => {
  const users = await api.as('administrator').call(listUsers, {});
  const technician = users.body.find((user) => user.login === 'technician');
  expect((await api.as('technician').call(getSession, {})).body.person?.login).toBe('technician');
  const disabled = await api.as('administrator').call(changeUser, { params: { id: plant.users.technician }, body: { name: technician?.name ?? '', role: 'technician', disabled: true } });
  expect(disabled.body).toMatchObject({ disabled: true });
  expect((await api.as('technician').call(getSession, {})).body.person).toBeNull();
  const last = await api.as('administrator').call(changeUser, { params: { id: plant.users.administrator }, body: { name: 'Still', role: 'engineer', disabled: false } });
  expect([last.status, last.problem.code]).toEqual([409, 'wrong-state']);
  const trail = await api.as('manager').call(listAudit, { query: { subject: `user ${plant.users.technician}` } });
  expect(trail.body[0]).toMatchObject({ action: 'user.changed', actor: 'Test administrator', before: { disabled: false }, after: { disabled: true } });
});

it('refuses to listen where others reach it while demo passwords are in use, and names the accounts', async () => {
  await database.work.client.user.update({ where: { plantId_id: { plantId: plant.plantId, id: plant.users.operator } }, data: { demoPassword: true } });
  await expect(refuseDemoPasswords(database.work, '127.0.0.1')).resolves.toBeUndefined();
  await expect(refuseDemoPasswords(database.work, '0.0.0.0')).rejects.toThrow(/operator/);
  const reset = (password: string) => api.as('administrator').call(changeUser, { params: { id: plant.users.operator }, body: { name: 'Test operator', role: 'operator', disabled: false, password } });
  expect((await reset('a new long password')).body).toMatchObject({ demoPassword: false });
  await expect(refuseDemoPasswords(database.work, '0.0.0.0')).resolves.toBeUndefined();
  await database.work.client.user.update({ where: { plantId_id: { plantId: plant.plantId, id: plant.users.operator } }, data: { demoPassword: true } });
  const kept = await reset('a new long password');
  expect([kept.status, kept.problem.errors?.[0]?.field], 'the same password again does not take the mark away').toEqual([400, 'password']);
  await expect(refuseDemoPasswords(database.work, '0.0.0.0')).rejects.toThrow(/operator/);
});

it('changes an account while something that names its person is being stored', async () => {
  await database.work.run(async (tx) => {
    // What the database does for each row that refers to the person, until it is committed.
    await tx.$executeRaw`SELECT 1 FROM "user" WHERE plant_id = ${plant.plantId} AND id = ${plant.users.engineer} FOR KEY SHARE`;
    const changed = await api.as('administrator').call(changeUser, { params: { id: plant.users.engineer }, body: { name: 'Test engineer', role: 'engineer', disabled: false } });
    expect(changed.status, changed.text).toBe(200);
  });
});
