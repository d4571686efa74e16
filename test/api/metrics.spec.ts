import { afterAll, beforeAll, expect, it } from 'vitest';
import { getSignal } from '#contract/signals';
import { measure } from '../../apps/api/src/platform/metrics.js';
import { announce } from '../../apps/api/src/platform/outbox.js';
import { NOTHING_OUTWARD } from '../../apps/api/src/platform/outward.js';
import { systemClock } from '../../apps/api/src/platform/clock.js';
import { startApi, type TestApi } from '../db/api.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';
import { makePlant, type TestPlant } from '../factories/plant.js';
import { makeStream, raiseSignal } from '../factories/signal.js';

let database: TestDatabase;
let plant: TestPlant;
let here: TestApi;
let guarded: TestApi;
const token = 'a token of the scraper';
beforeAll(async () => {
  database = await freshDatabase();
  plant = await makePlant(database.work);
  [here, guarded] = [await startApi(database), await startApi(database, systemClock, { ...NOTHING_OUTWARD, metricsToken: token })];
});
afterAll(async () => { await here.close(); await guarded.close(); await database.close(); });

const scrape = (api: TestApi, headers: Record<string, string> = {}) => api.nobody.raw({ method: 'GET', url: '/metrics', headers });
const metric = (text: string, name: string) => Number(new RegExp(`^${name} (\\S+)$`, 'm').exec(text)?.[1] ?? Number.NaN);

it('counts what waits, what signals, and how long answers took, by route and without ids', async () => {
  await here.as('engineer').call(getSignal, { params: { id: 424242 } });
  const signalId = await raiseSignal(database, plant.plantId, await makeStream(database, plant, 'body-hook'), new Date());
  await database.work.run((tx) => announce(tx, plant.plantId, [{ kind: 'signal.changed', payload: { signalId } }]));
  await database.work.client.outboxRow.updateMany({ where: { kind: 'signal.changed' }, data: { dueAt: new Date(Date.now() - 90_000), attempts: 2 } });
  const { status, text, headers } = await scrape(here);
  expect([status, headers['content-type']]).toEqual([200, expect.stringContaining('text/plain')]);
  expect(metric(text, 'seamledger_outbox_rows')).toBe(2);
  expect(metric(text, 'seamledger_outbox_failing_rows')).toBe(1);
  expect(metric(text, 'seamledger_outbox_oldest_seconds')).toBeGreaterThanOrEqual(90);
  expect(metric(text, 'seamledger_signals_open')).toBe(1);
  expect(text).toContain('seamledger_http_request_duration_seconds_count{method="GET",route="/api/signals/:id",status="404"} 1');
  expect(text).not.toContain('424242');
  expect(metric(text, 'process_resident_memory_bytes')).toBeGreaterThan(0);
  await here.react();
  expect(metric((await scrape(here)).text, 'seamledger_outbox_failing_rows')).toBe(0);
});

it('shows what other parts measure', async () => {
  measure({ name: 'seamledger_test_queue', help: 'For this test', read: () => 7 });
  expect(metric((await scrape(here)).text, 'seamledger_test_queue')).toBe(7);
});

it('answers this machine itself only, and not through a proxy on it', async () => {
  expect((await scrape(here, { 'x-forwarded-for': '203.0.113.9' })).status).toBe(403);
  const far = await here.app.inject({ method: 'GET', url: '/metrics', remoteAddress: '203.0.113.9' });
  expect(far.statusCode).toBe(403);
});

it('with a token answers who brings it, from anywhere, and nobody else', async () => {
  expect((await scrape(guarded)).status).toBe(401);
  expect((await scrape(guarded, { authorization: 'Bearer wrong' })).status).toBe(401);
  const far = await guarded.app.inject({ method: 'GET', url: '/metrics', remoteAddress: '203.0.113.9', headers: { authorization: `Bearer ${token}` } });
  expect(far.statusCode).toBe(200);
});
