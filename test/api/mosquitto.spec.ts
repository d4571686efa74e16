import { spawn, spawnSync, type ChildProcess } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import mqtt from 'mqtt';
import { afterAll, beforeAll, expect, it, vi } from 'vitest';
import { listFeeds, makeFeed, makeFeedTopic } from '#contract/monitors';
import { MonitorsWorker } from '../../apps/api/src/flows/monitors.worker.js';
import { freePort } from '../../apps/api/src/platform/free-port.js';
import { startApi, type TestApi } from '../db/api.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';
import { makePlant, type TestPlant } from '../factories/plant.js';

// The broker that Debian ships, where it is installed: both versions of the protocol, with a session that it keeps.
const installed = spawnSync('mosquitto', ['-h']).error === undefined;
let database: TestDatabase;
let api: TestApi;
let plant: TestPlant;
let broker: ChildProcess;
let url: string;
const folder = mkdtempSync(path.join(tmpdir(), 'seamledger-mosquitto-'));

beforeAll(async () => {
  if (!installed) return;
  database = await freshDatabase();
  plant = await makePlant(database.work);
  api = await startApi(database);
  const port = await freePort();
  url = `mqtt://127.0.0.1:${port}`;
  writeFileSync(path.join(folder, 'mosquitto.conf'), `listener ${port} 127.0.0.1\nallow_anonymous true\n`);
  broker = spawn('mosquitto', ['-c', path.join(folder, 'mosquitto.conf')], { stdio: 'ignore' });
});
afterAll(async () => {
  broker?.kill('SIGTERM');
  await api?.close();
  await database?.close();
  rmSync(folder, { recursive: true, force: true });
});

for (const protocol of [4, 5] as const) {
  it(`takes what mosquitto brings by MQTT ${protocol === 4 ? '3.1.1' : '5'}, also what was published while nobody listened`, async ({ skip }) => {
    if (!installed) skip('mosquitto is not installed here');
    const publisher = await mqtt.connectAsync(url, { protocolVersion: protocol });
    const engineer = api.as('engineer');
    const feed = (await engineer.call(makeFeed, { body: { name: `mosquitto ${protocol}`, url, clientId: `ours-${protocol}`, protocol } })).body;
    await engineer.call(makeFeedTopic, { params: { id: feed.id }, body: { filter: `weld/${protocol}/+`, machineId: protocol === 4 ? plant.machines.bodyMaker : plant.machines.bodyMaker2, productId: plant.productId, mapping: { kind: 'readings', count: '/n', time: { pointer: '/at', format: 'milliseconds' }, channels: [{ value: '/v', characteristicId: plant.characteristics['weld-overlap'] }], subgroup: { size: 5, every: 10 } } } });
    const state = async () => (await engineer.call(listFeeds, {})).body.feeds.find(({ id }) => id === feed.id)?.state;
    const send = (from: number, to: number) => Promise.all(Array.from({ length: to - from }, (_, index) => publisher.publishAsync(`weld/${protocol}/x`, JSON.stringify({ at: Date.now(), n: from + index, v: 0.4 }), { qos: 1 })));
    const until = (check: () => Promise<void>) => vi.waitFor(check, { timeout: 15_000, interval: 50 });
    const first = new MonitorsWorker(database.work, { now: () => new Date() });
    first.start();
    await until(async () => expect(await state()).toMatchObject({ connection: 'connected' }));
    await send(0, 100);
    await until(async () => expect(await state()).toMatchObject({ readings: 100, subgroups: 10 }));
    await first.stop();
    await send(100, 300);
    const second = new MonitorsWorker(database.work, { now: () => new Date() });
    second.start();
    await until(async () => expect(await state()).toMatchObject({ readings: 300, subgroups: 30, refused: 0 }));
    await second.stop();
    await publisher.endAsync();
  });
}
