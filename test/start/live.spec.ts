import { createHash, randomBytes } from 'node:crypto';
import pg from 'pg';
import { afterAll, beforeAll, expect, it } from 'vitest';
import type { Role } from '#contract/roles';
import { freePort } from '../../apps/api/src/platform/free-port.js';
import { announce } from '../../apps/api/src/platform/outbox.js';
import type { Tx } from '../../apps/api/src/platform/work.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';
import { makePlant, type TestPlant } from '../factories/plant.js';
import { type EventReader, readEvents } from './event-reader.js';
import { type ServerProcess, startServer, stopServer } from './server-process.js';

// Two processes of the built server on one database, as behind a load balancer.
let database: TestDatabase;
let plant: TestPlant;
let [a, b]: [ServerProcess, ServerProcess] = [] as unknown as [ServerProcess, ServerProcess];
const open: EventReader[] = [];
const sessions = new Map<Role, Record<string, string>>();

beforeAll(async () => {
  database = await freshDatabase();
  plant = await makePlant(database.work);
  for (const role of ['engineer', 'auditor', 'operator', 'administrator', 'manager'] as const) sessions.set(role, await session(role));
  const begin = async () => startServer({ DATABASE_URL: database.url, SEED: 'none', PORT: String(await freePort()) });
  [a, b] = [await begin(), await begin()];
  await Promise.all([a.ready, b.ready]);
});
afterAll(async () => {
  for (const reader of open) reader.drop();
  await Promise.all([a, b].map((server) => stopServer(server)));
  await database.close();
});

async function session(role: Role): Promise<Record<string, string>> {
  const token = randomBytes(32).toString('base64url');
  await database.work.client.session.create({ data: { plantId: plant.plantId, userId: plant.users[role], tokenHash: createHash('sha256').update(token).digest('hex'), csrf: 'csrf', expiresAt: new Date(Date.now() + 3_600_000) } });
  return { cookie: `seamledger_session=${token}`, 'x-csrf-token': 'csrf' };
}
const listen = async (server: ServerProcess, role: Role, lastId?: string) => {
  const reader = await readEvents(`${server.url}/api/live`, { ...sessions.get(role), ...(lastId === undefined ? {} : { 'last-event-id': lastId }) });
  open.push(reader);
  return reader;
};
const logIncident = async (server: ServerProcess, text: string): Promise<number> => {
  const response = await fetch(`${server.url}/api/incidents`, { method: 'POST', headers: { ...sessions.get('engineer'), 'content-type': 'application/json' }, body: JSON.stringify({
    kind: 'complaint', customer: 'Brackwater Pantry', productId: plant.productId, lineId: plant.lineId, madeAt: '2026-03-01T08:00:00Z', receivedAt: '2026-03-02T08:00:00Z', cansComplained: 12, cansExamined: 12, cansLeaking: 4,
    leakPlace: 'juncture', defect: 'cold-weld', description: text,
  }) });
  expect(response.status).toBe(201);
  return ((await response.json()) as { id: number }).id;
};
const names = (reader: EventReader) => reader.heard.map(({ event, data }) => (data.id === undefined ? event : `${event} ${data.id}`));
const signalNews = (tx: Tx, signalId: number) => announce(tx, plant.plantId, [{ kind: 'signal.changed', payload: { signalId } }]);
/** The promise is one second; the wait is longer, because a loaded machine is no fault of the program. */
const soon = { timeout: 5000, interval: 10 };

it('tells a page of one process what another one changed', async () => {
  const page = await listen(b, 'operator');
  await expect.poll(() => names(page), soon).toEqual(['hello']);
  const took: number[] = [];
  for (let round = 0; round < 10; round += 1) {
    const asked = performance.now();
    const id = await logIncident(a, `round ${round}`);
    await expect.poll(() => names(page).at(-1), soon).toBe(`incident ${id}`);
    took.push((page.heard.at(-1)?.at ?? 0) - asked);
  }
  console.log(`from the request to one process until the page of another heard of it: ${took.map((ms) => ms.toFixed(0)).join(', ')} ms`);
  expect(names(page)).toHaveLength(11);
  page.drop();
});

it('resumes after a drop without a gap, in either process', async () => {
  const before = await listen(b, 'operator');
  const first = await logIncident(a, 'before the drop');
  await expect.poll(() => names(before), soon).toEqual(['hello', `incident ${first}`]);
  before.drop();
  const missed = [await logIncident(a, 'missed 1'), await logIncident(b, 'missed 2')];
  const after = await listen(a, 'operator', before.lastId());
  await expect.poll(() => names(after).filter((name) => missed.includes(Number(name.split(' ')[1]))), soon).toEqual(missed.map((id) => `incident ${id}`));
  expect(names(after)).not.toContain('ask-again');
  expect(names(after)).not.toContain('hello');
  after.drop();
});

it('keeps what was written early and committed late, over a drop between', async () => {
  const page = await listen(b, 'operator');
  await expect.poll(() => names(page), soon).toEqual(['hello']);
  let commit: () => void = () => {};
  let written: () => void = () => {};
  const isWritten = new Promise<void>((resolve) => { written = resolve; });
  const late = database.work.run(async (tx) => {
    await signalNews(tx, 901);
    written();
    await new Promise<void>((resolve) => { commit = resolve; });
  });
  await isWritten;
  // Given its place in the table after the first one, and committed before it.
  await database.work.run((tx) => signalNews(tx, 902));
  await expect.poll(() => names(page), soon).toEqual(['hello', 'signal 902']);
  page.drop();
  commit();
  await late;
  const resumed = await listen(b, 'operator', page.lastId());
  await expect.poll(() => names(resumed), soon).toContain('signal 901');
  resumed.drop();
});

it('tells nothing of what was rolled back, and each thing once while connected', async () => {
  const page = await listen(a, 'operator');
  await expect(database.work.run(async (tx) => { await signalNews(tx, 903); throw new Error('not kept'); })).rejects.toThrow('not kept');
  await database.work.run((tx) => announce(tx, plant.plantId, [1, 1, 2].map((id) => ({ kind: 'stream.changed', payload: { streamId: id } }))));
  await expect.poll(() => names(page), soon).toEqual(['hello', 'stream 1', 'stream 2']);
  page.drop();
});

it('says "ask again" where it no longer knows what was missed, or never did', async () => {
  const old = await listen(a, 'operator', `1-${Date.now() - 31 * 60_000}`);
  await expect.poll(() => names(old), soon).toEqual(['ask-again']);
  const nonsense = await listen(a, 'operator', "1' OR 1=1");
  await expect.poll(() => names(nonsense), soon).toEqual(['ask-again']);
  const ahead = await listen(a, 'operator', `1-${Date.now() + 48 * 3_600_000}`);
  await expect.poll(() => names(ahead), soon).toEqual(['ask-again']);
  for (const page of [old, nonsense, ahead]) page.drop();
});

it('comes back when its line to the database is cut, with everything that was written meanwhile', async () => {
  const page = await listen(b, 'operator');
  await expect.poll(() => names(page), soon).toEqual(['hello']);
  const admin = new pg.Client({ connectionString: database.url });
  await admin.connect();
  const { rows } = await admin.query("SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE application_name = 'seamledger notices' AND query LIKE '%news%' AND datname = current_database()");
  expect(rows.length).toBe(2);
  await admin.end();
  const ids = [await logIncident(a, 'while deaf 1'), await logIncident(a, 'while deaf 2')];
  await expect.poll(() => names(page), { timeout: 10_000, interval: 20 }).toEqual(['hello', ...ids.map((id) => `incident ${id}`)]);
  page.drop();
});

it('tells people only of what they may read, another plant nothing, and nobody without a session', async () => {
  const [auditor, administrator] = [await listen(b, 'auditor'), await listen(b, 'administrator')];
  const other = await database.work.client.plant.create({ data: { name: 'Other plant', timeZone: 'Europe/Lisbon' } });
  await database.work.run(async (tx) => {
    await announce(tx, other.id, [{ kind: 'signal.changed', payload: { signalId: 77 } }]);
    await announce(tx, plant.plantId, [{ kind: 'webhook.changed', payload: { webhookId: 5 } }, { kind: 'unheard.changed', payload: { unheardId: 5 } }, { kind: 'signal.changed', payload: { signalId: 78 } }]);
  });
  await expect.poll(() => names(administrator), soon).toEqual(['hello', 'signal 78', 'webhook 5']);
  await expect.poll(() => names(auditor), soon).toEqual(['hello', 'signal 78']);
  expect((await fetch(`${b.url}/api/live`)).status).toBe(401);
});

it('ends the stream of somebody whose account was disabled', async () => {
  const page = await listen(a, 'manager');
  await expect.poll(() => names(page), soon).toEqual(['hello']);
  await database.work.client.user.update({ where: { plantId_id: { plantId: plant.plantId, id: plant.users.manager } }, data: { disabledAt: new Date() } });
  await page.ended;
  expect((await fetch(`${a.url}/api/live`, { headers: sessions.get('manager') ?? {} })).status).toBe(401);
});
