import { afterAll, beforeAll, expect, it, vi } from 'vitest';
import { changeFeedTopic, discardQuarantine, listFeeds, listQuarantine, makeFeed, makeFeedTopic, replayQuarantine } from '#contract/feeds';
import { listLineEvents } from '#contract/production';
import { FeedsWorker } from '../../apps/api/src/flows/feeds.worker.js';
import { startApi, type TestApi } from '../db/api.js';
import { startBroker, type TestBroker } from '../db/broker.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';
import { makePlant, type TestPlant } from '../factories/plant.js';

let database: TestDatabase;
let api: TestApi;
let plant: TestPlant;
let broker: TestBroker;
let feedId: number;
/** The server's clock runs with the machine's, plus what a test puts it ahead. */
let ahead = 0;
const clock = { now: () => new Date(Date.now() + ahead) };
const now = () => clock.now().getTime();

beforeAll(async () => {
  database = await freshDatabase();
  plant = await makePlant(database.work);
  api = await startApi(database, clock);
  broker = await startBroker();
  feedId = await newFeed(4);
  api.app.get(FeedsWorker).start();
});
afterAll(async () => { await api.close(); await broker.close(); await database.close(); });

const engineer = () => api.as('engineer');
const weld = (laneId: number) => ({
  machineId: plant.machines.bodyMaker, productId: plant.productId, lateHours: 72, clockSeconds: 60,
  mapping: { kind: 'readings' as const, time: { pointer: '/at', format: 'milliseconds' as const }, count: '/body', channels: [{ value: '/overlap', characteristicId: plant.characteristics['weld-overlap'], laneId }, { value: '/thickness', characteristicId: plant.characteristics['weld-thickness'], laneId }], subgroup: { size: 3, every: 10 } },
});

async function newFeed(protocol: 4 | 5): Promise<number> {
  const { body } = await engineer().call(makeFeed, { body: { name: `Broker by ${protocol}`, url: broker.url, clientId: `seamledger-${protocol}`, protocol } });
  return body.id;
}
async function newTopic(filter: string, fields: Omit<Parameters<typeof topicBody>[1], 'filter'>, feed = feedId): Promise<number> {
  const reply = await engineer().call(makeFeedTopic, { params: { id: feed }, body: topicBody(filter, fields) });
  expect(reply.status, reply.text).toBe(201);
  const { revision } = await database.work.client.feed.findFirstOrThrow({ where: { id: feed } });
  // The worker takes the new mapping over by itself; a test waits until it listens again.
  await vi.waitFor(async () => { expect([...Reflect.get(api.app.get(FeedsWorker), 'runners').values()].find((runner: { revision: number; parts: { feed: { id: number } } }) => runner.parts.feed.id === feed)?.revision).toBe(revision); await connected(feed); }, 15_000);
  return reply.body.id;
}
const topicBody = (filter: string, fields: Omit<ReturnType<typeof weld>, 'mapping'> & { mapping: object; clockPolicy?: 'quarantine' | 'server-time' }) => ({ ...fields, filter, mapping: fields.mapping as ReturnType<typeof weld>['mapping'] });
const feedOf = async (id = feedId) => (await engineer().call(listFeeds, {})).body.feeds.find((feed) => feed.id === id);
const connected = async (id: number) => expect((await feedOf(id))?.state).toMatchObject({ connection: 'connected' });
const until = (check: () => Promise<void>) => vi.waitFor(check, { timeout: 15_000, interval: 50 });
const body = (count: number, more: object = {}) => ({ at: now(), body: count, overlap: 0.4 + (count % 7) / 100, thickness: 0.2, ...more });
/** Every reading of a lane, from the journal's minutes and the chunks, as the chunks hold them once the minute is over. */
async function stored(laneId: number, code: 'weld-overlap' | 'weld-thickness' = 'weld-overlap') {
  return database.work.client.$queryRaw<{ minute: Date; part: number; n: number; first: bigint | null; last: bigint | null; readings: string; mean: number }[]>`
    SELECT c.minute, c.part, c.n, c.first_count AS first, c.last_count AS last, c.readings::text AS readings, c.mean FROM body_chunk c JOIN stream s ON s.plant_id = c.plant_id AND s.id = c.stream_id
    WHERE s.lane_id = ${laneId} AND s.characteristic_id = ${plant.characteristics[code]} ORDER BY c.minute, c.part`;
}
const subgroups = (laneId: number) => database.work.client.subgroup.findMany({ where: { stream: { laneId, characteristicId: plant.characteristics['weld-overlap'] } }, orderBy: [{ takenAt: 'asc' }, { sequence: 'asc' }], include: { check: true } });
const waiting = async () => (await engineer().call(listQuarantine, { params: { id: feedId }, query: { state: 'waiting' } })).body.messages;

it('takes every body once, judges the subgroups that the counter makes, and folds the minute into one row', async () => {
  await newTopic('weld/a', weld(plant.laneIds.A));
  const first = now();
  for (let count = 100; count < 115; count += 1) await broker.publish('weld/a', body(count, { at: first + count }));
  await until(async () => expect(await subgroups(plant.laneIds.A)).toHaveLength(2));
  // Bodies 100, 101, 102 and 110, 111, 112: three in a row of every ten.
  const made = await subgroups(plant.laneIds.A);
  expect(made.map(({ readings }) => readings)).toEqual([[100, 101, 102], [110, 111, 112]].map((counts) => counts.map((count) => 0.4 + (count % 7) / 100)));
  expect(made[0]).toMatchObject({ n: 3, limitsId: null, check: { source: 'monitor', machineId: plant.machines.bodyMaker, positions: ['in line'] } });
  expect((await feedOf())?.state).toMatchObject({ messages: 15, readings: 30, subgroups: 4, repeated: 0, refused: 0 });
  expect(await stored(plant.laneIds.A)).toEqual([]);
  ahead += 70_000;
  await until(async () => expect(await stored(plant.laneIds.A)).toHaveLength(1));
  expect((await stored(plant.laneIds.A))[0]).toMatchObject({ n: 15, first: 100n, last: 114n });
  await until(async () => expect(await database.work.client.feedJournal.count()).toBeLessThanOrEqual(1));
});
