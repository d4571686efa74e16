import { existsSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createServer, type Server } from 'node:net';
import path from 'node:path';
import pg from 'pg';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { freshDatabase } from '../db/database.js';
import { freePort } from '../../apps/api/src/platform/free-port.js';
import { scratchFolder, type ServerProcess, startServer, stopServer } from './server-process.js';

// Each test starts the built server as its own process, as a person would.
let data: string;
const servers: ServerProcess[] = [];
const begin = (env: Record<string, string>) => {
  const server = startServer(env);
  servers.push(server);
  return server;
};
beforeAll(() => { data = scratchFolder(); });
afterAll(async () => {
  for (const server of servers) {
    if (server.child.exitCode === null && server.child.signalCode === null) await stopServer(server);
  }
  rmSync(data, { recursive: true, force: true });
});

const json = async (url: string, init?: RequestInit) => {
  const response = await fetch(url, init);
  return { status: response.status, body: (await response.json()) as Record<string, unknown>, cookie: response.headers.get('set-cookie')?.split(';')[0] ?? '' };
};
const refused = async (env: Record<string, string>) => {
  const { code, words } = await begin(env).ended;
  return { code, lines: words.trim().split('\n').filter((line) => !/starting PostgreSQL|migrating/.test(line)) };
};

it('makes a first administrator on SEED=none, keeps everything over a stop, a start and a kill, and stops within 10 s', async () => {
  const env = { SEED: 'none', SEAMLEDGER_DATA: data, PORT: String(await freePort()) };
  const first = begin(env);
  await first.ready;
  expect(first.words()).toContain('make the first administrator');
  expect((await json(`${first.url}/api/session`)).body).toMatchObject({ firstRun: true, person: null });
  const made = await json(`${first.url}/api/first-run`, { method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify({ plantName: 'Start test', timeZone: 'Europe/Lisbon', login: 'first', name: 'First Administrator', password: 'a long enough password' }) });
  expect(made.status).toBe(201);
  const again = await json(`${first.url}/api/first-run`, { method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify({ plantName: 'Second', timeZone: 'Europe/Lisbon', login: 'second', name: 'Second', password: 'a long enough password' }) });
  expect(again).toMatchObject({ status: 409, body: { code: 'first-run-done' } });
  const asked = Date.now();
  expect(await stopServer(first)).toMatchObject({ code: 0 });
  expect(Date.now() - asked).toBeLessThan(10_000);

  const second = begin(env);
  await second.ready;
  expect(second.words()).not.toContain('migrating');
  const signedIn = await json(`${second.url}/api/session`, { method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify({ login: 'first', password: 'a long enough password' }) });
  expect(signedIn).toMatchObject({ status: 200, body: { person: { login: 'first', role: 'administrator' }, plant: { name: 'Start test', demo: false } } });
  second.child.kill('SIGKILL');
  await second.ended;

  const third = begin(env);
  await third.ready;
  // The session row was acknowledged before the kill: it is still good.
  expect((await json(`${third.url}/api/session`, { headers: { cookie: signedIn.cookie } })).body).toMatchObject({ person: { login: 'first' } });

  // While this one runs: the same data folder, and the same port, are refused.
  const inUse = await refused({ ...env, PORT: String(await freePort()) });
  expect(inUse.code).toBe(1);
  expect(inUse.lines).toHaveLength(1);
  expect(inUse.lines[0]).toContain(`in use by another start (process ${third.child.pid})`);
  const taken = await refused({ ...env, SEAMLEDGER_DATA: path.join(data, 'other') });
  expect(taken).toMatchObject({ code: 1 });
  expect(taken.lines).toHaveLength(1);
  expect(taken.lines[0]).toContain(`port ${env.PORT} on 127.0.0.1 is taken`);
  third.child.kill('SIGINT');
  expect(await third.ended).toMatchObject({ code: 0 });
}, 90_000);

it('refuses the data of another PostgreSQL major version, and leaves them as they were', async () => {
  const folder = scratchFolder();
  const version = path.join(folder, 'postgres', 'PG_VERSION');
  const { mkdirSync } = await import('node:fs');
  mkdirSync(path.dirname(version));
  writeFileSync(version, '16\n');
  const { code, lines } = await refused({ SEED: 'none', SEAMLEDGER_DATA: folder, PORT: String(await freePort()) });
  expect(code).toBe(1);
  expect(lines).toHaveLength(1);
  expect(lines[0]).toContain('written by PostgreSQL 16');
  expect(readFileSync(version, 'utf8')).toBe('16\n');
  expect(existsSync(path.join(folder, 'start.lock'))).toBe(false);
  rmSync(folder, { recursive: true });
});

it('refuses a folder that cannot be written, and a wrong environment, each in one line that says what to do', async () => {
  const file = path.join(scratchFolder(), 'a-file');
  writeFileSync(file, 'not a folder');
  const folder = await refused({ SEED: 'none', SEAMLEDGER_DATA: path.join(file, 'data'), PORT: String(await freePort()) });
  expect(folder).toMatchObject({ code: 1 });
  expect(folder.lines).toHaveLength(1);
  expect(folder.lines[0]).toContain('is not writable');
  const wrong = await refused({ SEED: 'everything', PORT: '1' });
  expect(wrong).toMatchObject({ code: 1 });
  expect(wrong.lines[0]).toContain('environment variable SEED');
});

it('refuses a database that does not answer, and one that holds somebody else’s tables', async () => {
  const closed = await freePort();
  const away = await refused({ DATABASE_URL: `postgresql://nobody@127.0.0.1:${closed}/none`, PORT: String(await freePort()) });
  expect(away).toMatchObject({ code: 1 });
  expect(away.lines).toHaveLength(1);
  expect(away.lines[0]).toContain(`127.0.0.1:${closed} cannot be used`);
  const database = await freshDatabase({ empty: true });
  const client = new pg.Client({ connectionString: database.url });
  await client.connect();
  await client.query('CREATE TABLE ledger_of_somebody (id int); INSERT INTO ledger_of_somebody VALUES (1)');
  const foreign = await refused({ DATABASE_URL: database.url, PORT: String(await freePort()) });
  expect(foreign).toMatchObject({ code: 1 });
  expect(foreign.lines[0]).toContain('not empty and not Seamledger');
  expect((await client.query('SELECT count(*)::int AS kept FROM ledger_of_somebody')).rows).toEqual([{ kept: 1 }]);
  await client.end();
  await database.close();
});

it('runs two starts on one external database one after the other, and refuses the demo plant on an address that others reach', async () => {
  const database = await freshDatabase({ empty: true });
  const [one, two] = [begin({ DATABASE_URL: database.url, SEED: 'none', PORT: String(await freePort()) }), begin({ DATABASE_URL: database.url, SEED: 'none', PORT: String(await freePort()) })];
  await Promise.all([one.ready, two.ready]);
  expect([one, two].filter((server) => server.words().includes('migrating'))).toHaveLength(1);
  for (const server of [one, two]) expect((await json(`${server.url}/api/health`)).body).toMatchObject({ status: 'ok', migrations: { pending: 0 } });
  await Promise.all([stopServer(one), stopServer(two)]);
  const open = await refused({ DATABASE_URL: database.url, HOST: '0.0.0.0', PORT: String(await freePort()) });
  expect(open).toMatchObject({ code: 1 });
  expect(open.lines.at(-1)).toContain('only made while listening on loopback');
  await database.close();
}, 60_000);

it('does not take a port check for a server: a program that holds the port stays as it was', async () => {
  const port = await freePort();
  const holder: Server = createServer((socket) => socket.end('mine'));
  await new Promise<void>((resolve) => holder.listen(port, '127.0.0.1', resolve));
  expect(await refused({ SEED: 'none', SEAMLEDGER_DATA: path.join(data, 'unused'), PORT: String(port) })).toMatchObject({ code: 1 });
  expect(existsSync(path.join(data, 'unused'))).toBe(false);
  await new Promise((resolve) => holder.close(resolve));
});
