import { createHmac } from 'node:crypto';
import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { afterAll, beforeAll, beforeEach, expect, it } from 'vitest';
import { changeWebhook, createWebhook, listDeliveries, listWebhooks, removeWebhook, resendDelivery, testWebhook } from '#contract/outgoing';
import { listAudit } from '#contract/users';
import { OutgoingWorker } from '../../apps/api/src/flows/outgoing/outgoing.worker.js';
import { MOST_ATTEMPTS } from '../../apps/api/src/outgoing/deliver.js';
import { announce } from '../../apps/api/src/platform/outbox.js';
import { startApi, type TestApi } from '../db/api.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';
import { makePlant, type TestPlant } from '../factories/plant.js';
import { makeStream, raiseSignal } from '../factories/signal.js';

// A real receiver on loopback, which does as it is told.
type Got = { path: string; headers: Record<string, string>; body: string };
let database: TestDatabase;
let api: TestApi;
let plant: TestPlant;
let receiver: Server;
let base: string;
let got: Got[] = [];
let answers: (number | 'hang up' | 'zero')[] = [];
let hook: { id: number; secret: string };
let streamId: number;
const now = new Date();

beforeAll(async () => {
  receiver = createServer((request, response) => {
    let body = '';
    request.on('data', (chunk: Buffer) => { body += chunk.toString('utf8'); }).on('end', () => {
      got.push({ path: request.url ?? '', headers: request.headers as Record<string, string>, body });
      const answer = answers.shift() ?? 200;
      if (answer === 'hang up') return request.socket.destroy();
      if (answer === 'zero') return response.writeHead(200).end('taken\u0000');
      response.writeHead(answer, { location: `${base}/elsewhere` }).end(`you said ${body.length} characters ${'.'.repeat(3000)}`);
    });
  });
  await new Promise<void>((resolve) => { receiver.listen(0, '127.0.0.1', resolve); });
  base = `http://127.0.0.1:${(receiver.address() as AddressInfo).port}`;
  database = await freshDatabase();
  plant = await makePlant(database.work);
  api = await startApi(database, { now: () => now });
  streamId = await makeStream(database, plant, 'body-hook');
  const made = await api.as('administrator').call(createWebhook, { body: { name: 'Line tower', url: `${base}/tower`, kinds: ['signal.raised', 'check.overdue'], allowInternal: true } });
  hook = { id: made.body.webhook.id, secret: made.body.secret };
});
afterAll(async () => { receiver.closeAllConnections(); receiver.close(); await api.close(); await database.close(); });
beforeEach(() => { got = []; answers = []; });

const lane = () => api.app.get(OutgoingWorker).lane.drain();
/** The pause before the next attempt is the outbox's; here it is over. */
const later = async () => { await database.work.client.outboxRow.updateMany({ data: { dueAt: new Date(0) } }); return lane(); };
const newest = async () => (await api.as('administrator').call(listDeliveries, { query: { take: 1 } })).body[0];
const send = async () => { const id = await raiseSignal(database, plant.plantId, streamId, now); await api.react(); return id; };

it('takes an answer with a character that the database does not keep for what it is', async () => {
  answers = ['zero'];
  await send();
  await lane();
  await later();
  expect(got).toHaveLength(1);
  expect(await newest()).toMatchObject({ state: 'delivered', attempts: 1, lastStatus: 200, lastAnswer: 'taken\ufffd' });
});

it('tells of a signal once, signed so that the receiver can compute it', async () => {
  const signalId = await send();
  await lane();
  expect(got).toHaveLength(1);
  const [{ path, headers, body }] = got as [Got];
  expect(path).toBe('/tower');
  expect(headers).toMatchObject({ 'content-type': 'application/json', 'seamledger-event': 'signal.raised', 'seamledger-delivery': `signal-${signalId}-raised`, 'seamledger-timestamp': String(Math.floor(now.getTime() / 1000)) });
  // Computed from RFC 2104 and SHA-256 alone, not by the program's own function.
  const key = Buffer.concat([Buffer.from(hook.secret), Buffer.alloc(64)]).subarray(0, 64);
  const { createHash } = await import('node:crypto');
  const inner = createHash('sha256').update(key.map((byte) => byte ^ 0x36)).update(`${headers['seamledger-timestamp']}.${body}`).digest();
  const outer = createHash('sha256').update(key.map((byte) => byte ^ 0x5c)).update(inner).digest('hex');
  expect(headers['seamledger-signature']).toBe(`v1=${outer}`);
  expect(headers['seamledger-signature']).not.toBe(`v1=${createHmac('sha256', 'another secret').update(`${headers['seamledger-timestamp']}.${body}`).digest('hex')}`);
  expect(JSON.parse(body)).toMatchObject({ event: 'signal.raised', plant: 'Test plant', data: { signalId, line: 'T1', machine: 'SE1', characteristic: 'body-hook', rule: 'beyond-limits', side: 'below', path: `/signals/${signalId}` } });

  // The reaction may run again: nothing is sent twice.
  await database.work.run((tx) => announce(tx, plant.plantId, [{ kind: 'signal.raised', payload: { signalId } }]));
  await api.react();
  const delivery = await newest();
  await database.work.run((tx) => announce(tx, plant.plantId, [{ kind: 'delivery.due', payload: { deliveryId: delivery?.id } }]));
  await lane();
  expect(got).toHaveLength(1);
  expect(delivery).toMatchObject({ state: 'delivered', attempts: 1, lastStatus: 200, webhook: 'Line tower' });
  expect(delivery?.lastAnswer).toMatch(/^you said \d+ characters/);
  expect(delivery?.lastAnswer?.length).toBe(500);
});

it('tries again after a 500, a hang-up and a redirect, with the same id, and keeps the last answer', async () => {
  answers = [500, 'hang up', 302];
  await send();
  await lane();
  expect(await newest()).toMatchObject({ state: 'waiting', attempts: 1, lastStatus: 500, lastError: 'answered 500' });
  expect(await lane()).toBe(0);
  await later();
  expect(await newest()).toMatchObject({ state: 'waiting', attempts: 2, lastStatus: null });
  await later();
  expect(await newest()).toMatchObject({ state: 'waiting', attempts: 3, lastStatus: 302 });
  await later();
  expect(await newest()).toMatchObject({ state: 'delivered', attempts: 4, lastStatus: 200, lastError: null });
  expect(new Set(got.map(({ headers }) => headers['seamledger-delivery'])).size).toBe(1);
  expect(got.map(({ path }) => path)).toEqual(['/tower', '/tower', '/tower', '/tower']);
  expect(await later()).toBe(0);
});

it('gives up in the end, says so, and sends again by hand', async () => {
  answers = Array.from({ length: MOST_ATTEMPTS }, () => 503);
  await send();
  await lane();
  for (let attempt = 1; attempt < MOST_ATTEMPTS; attempt += 1) await later();
  const given = await newest();
  expect(given).toMatchObject({ state: 'failed', attempts: MOST_ATTEMPTS, lastStatus: 503 });
  expect(await later()).toBe(0);
  expect((await api.as('administrator').call(listWebhooks, {})).body[0]).toMatchObject({ failed: 1, waiting: 0 });
  expect((await api.as('administrator').call(resendDelivery, { params: { id: given?.id ?? 0 } })).status).toBe(202);
  expect((await api.as('administrator').call(resendDelivery, { params: { id: given?.id ?? 0 } })).problem.code).toBe('wrong-state');
  await lane();
  expect(await newest()).toMatchObject({ state: 'delivered', attempts: 1 });
});

it('does not post inside a network unless that is allowed, by address or by name', async () => {
  for (const host of ['127.0.0.1', 'localhost', '[::1]']) {
    const { body } = await api.as('administrator').call(createWebhook, { body: { name: host, url: base.replace('127.0.0.1', host), kinds: ['signal.raised'] } });
    await api.as('administrator').call(testWebhook, { params: { id: body.webhook.id } });
    await lane();
    expect(await newest(), host).toMatchObject({ kind: 'test', state: 'waiting', lastStatus: null, lastError: 'the address lies inside a network, which this webhook may not post to' });
    await api.as('administrator').call(removeWebhook, { params: { id: body.webhook.id } });
    await later();
    expect(await newest(), host).toMatchObject({ state: 'failed', lastError: 'the webhook was switched off or removed' });
  }
  expect(got).toEqual([]);
});

it('shows the secret once, keeps it out of the lists and the audit trail, and names what is wrong', async () => {
  const list = await api.as('administrator').call(listWebhooks, {});
  const audit = await api.as('administrator').call(listAudit, { query: { take: 200 } });
  expect(audit.body.filter(({ action }) => action === 'webhook.made').length).toBeGreaterThan(0);
  expect([list.text, audit.text, JSON.stringify(await newest())].some((text) => text.includes(hook.secret))).toBe(false);
  for (const [url, kinds, field] of [['ftp://example.test/x', ['signal.raised'], 'url'], ['http://', ['signal.raised'], 'url'], ['https://a:b@example.test', ['signal.raised'], 'url'], ['https://example.test', [], 'kinds']] as const) {
    const { status, problem } = await api.as('administrator').call(createWebhook, { body: { name: 'Wrong', url, kinds: [...kinds] } });
    expect([status, problem.errors?.[0]?.field]).toEqual([400, field]);
  }
  expect((await api.as('engineer').call(listWebhooks, {})).status).toBe(403);
});

it('stays silent when switched off, and a slow receiver holds up nothing else', async () => {
  await api.as('administrator').call(changeWebhook, { params: { id: hook.id }, body: { name: 'Line tower', url: `${base}/tower`, kinds: ['signal.raised'], allowInternal: true, active: false } });
  await send();
  expect(await lane()).toBe(0);
  await api.as('administrator').call(changeWebhook, { params: { id: hook.id }, body: { name: 'Line tower', url: `${base}/tower`, kinds: ['signal.raised'], allowInternal: true, active: true } });
  await send();
  // The delivery waits in its own lane; the reactions of everything else are done.
  expect(await database.work.client.outboxRow.count({ where: { kind: { notIn: ['delivery.due', 'mail.due'] } } })).toBe(await database.work.client.outboxRow.count({ where: { kind: 'delivery.changed' } }));
  await lane();
  expect(got).toHaveLength(1);
});
