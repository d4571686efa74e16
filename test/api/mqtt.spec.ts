import { afterAll, beforeAll, expect, it, vi } from 'vitest';
import { changeFeedTopic, discardQuarantine, listFeeds, listQuarantine, makeFeed, makeFeedTopic, removeFeedTopic, replayQuarantine } from '#contract/monitors';
import { listChecks } from '#contract/inspections';
import { listLineEvents } from '#contract/production';
import { MonitorsWorker } from '../../apps/api/src/flows/monitors.worker.js';
import { insertJournal } from '../../apps/api/src/monitors/body-chunks.store.js';
import { encodeJournal } from '../../apps/api/src/monitors/journal-bytes.js';
import { trimPlantsQuarantine } from '../../apps/api/src/monitors/trim-quarantine.js';
import { verifyRecords } from '../../apps/api/src/flows/verify-records.js';
import { startApi, type TestApi } from '../db/api.js';
import { startBroker, type TestBroker } from '../db/broker.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';
import { startPeerOfFive } from '../db/peer-of-five.js';
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
  api.app.get(MonitorsWorker).start();
});
afterAll(async () => { await api.close(); await broker.close(); await database.close(); });

const engineer = () => api.as('engineer');
const weld = (laneId: number) => ({
  machineId: plant.machines.bodyMaker, productId: plant.productId, lateHours: 72, clockSeconds: 60,
  mapping: { kind: 'readings' as const, time: { pointer: '/at', format: 'milliseconds' as const }, count: '/body', channels: [{ value: '/overlap', characteristicId: plant.characteristics['weld-overlap'], laneId }, { value: '/thickness', characteristicId: plant.characteristics['weld-thickness'], laneId }], subgroup: { size: 3, every: 10 } },
});

async function newFeed(protocol: 4 | 5, url = broker.url): Promise<number> {
  const { body } = await engineer().call(makeFeed, { body: { name: `Broker by ${protocol}`, url, clientId: `seamledger-${protocol}`, protocol } });
  return body.id;
}
async function newTopic(filter: string, fields: Omit<Parameters<typeof topicBody>[1], 'filter'>, feed = feedId): Promise<number> {
  const reply = await engineer().call(makeFeedTopic, { params: { id: feed }, body: topicBody(filter, fields) });
  expect(reply.status, reply.text).toBe(201);
  await takenOver(feed);
  return reply.body.id;
}
/** The worker takes a new mapping over by itself; a test waits until it listens again. */
async function takenOver(feed: number): Promise<void> {
  const { revision } = await database.work.client.feed.findFirstOrThrow({ where: { id: feed } });
  await vi.waitFor(async () => { expect([...Reflect.get(api.app.get(MonitorsWorker), 'runners').values()].find((runner: { revision: number; parts: { feed: { id: number } } }) => runner.parts.feed.id === feed)?.revision).toBe(revision); await connected(feed); }, 60_000);
}
const topicBody = (filter: string, fields: Omit<ReturnType<typeof weld>, 'mapping'> & { mapping: object; clockPolicy?: 'quarantine' | 'server-time' }) => ({ ...fields, filter, mapping: fields.mapping as ReturnType<typeof weld>['mapping'] });
const feedOf = async (id = feedId) => (await engineer().call(listFeeds, {})).body.feeds.find((feed) => feed.id === id);
const connected = async (id: number) => expect((await feedOf(id))?.state).toMatchObject({ connection: 'connected' });
const until = (check: () => Promise<void>) => vi.waitFor(check, { timeout: 60_000, interval: 50 });
const overlap = (count: number) => (40 + (count % 7)) / 100;
const body = (count: number, more: object = {}) => ({ at: now(), body: count, overlap: overlap(count), thickness: 0.2, ...more });
/** Every reading of a lane, from the journal's minutes and the chunks, as the chunks hold them once the minute is over. */
async function stored(laneId: number, code: 'weld-overlap' | 'weld-thickness' = 'weld-overlap') {
  return database.work.client.$queryRaw<{ minute: Date; part: number; n: number; first: bigint | null; last: bigint | null; readings: string; mean: number }[]>`
    SELECT c.minute, c.part, c.n, c.first_count AS first, c.last_count AS last, c.readings::text AS readings, c.mean FROM body_chunk c JOIN stream s ON s.plant_id = c.plant_id AND s.id = c.stream_id
    WHERE s.lane_id = ${laneId} AND s.characteristic_id = ${plant.characteristics[code]} ORDER BY c.minute, c.part`;
}
const subgroups = (laneId: number) => database.work.client.subgroup.findMany({ where: { stream: { laneId, characteristicId: plant.characteristics['weld-overlap'] } }, orderBy: [{ takenAt: 'asc' }, { sequence: 'asc' }], include: { check: true } });
/** All bodies of a test are of one minute. */
async function awayFromTheFull(): Promise<void> {
  if (now() % 60_000 > 45_000) ahead += 20_000;
}
const waiting = async () => (await engineer().call(listQuarantine, { params: { id: feedId }, query: { state: 'waiting' } })).body.messages;

it('takes every body once, judges the subgroups that the counter makes, and folds the minute into one row', async () => {
  await newTopic('weld/a', weld(plant.laneIds.A));
  await awayFromTheFull();
  const first = now();
  for (let count = 100; count < 115; count += 1) await broker.publish('weld/a', body(count, { at: first + count }));
  await until(async () => expect(await subgroups(plant.laneIds.A)).toHaveLength(2));
  // Bodies 100, 101, 102 and 110, 111, 112: three in a row of every ten.
  const made = await subgroups(plant.laneIds.A);
  expect(made.map(({ readings }) => readings)).toEqual([[100, 101, 102], [110, 111, 112]].map((counts) => counts.map(overlap)));
  expect(made[0]).toMatchObject({ n: 3, limitsId: null, check: { source: 'monitor', machineId: plant.machines.bodyMaker, positions: ['in line'] } });
  // The last bodies of the fifteen belong to no subgroup, and may come in a batch of their own.
  await until(async () => expect((await feedOf())?.state).toMatchObject({ messages: 15, readings: 30, subgroups: 4, repeated: 0, refused: 0 }));
  expect(await stored(plant.laneIds.A)).toEqual([]);
  // Nobody made these as a check, so they do not stand among those that people made.
  expect((await engineer().call(listChecks, { query: {} })).body.checks).toEqual([]);
  ahead += 70_000;
  await until(async () => expect(await stored(plant.laneIds.A)).toHaveLength(1));
  expect((await stored(plant.laneIds.A))[0]).toMatchObject({ n: 15, first: 100n, last: 114n });
  await until(async () => expect(await database.work.client.feedJournal.count()).toBeLessThanOrEqual(1));
});

it('stores a body once, however often and in whatever order its message comes', async () => {
  await newTopic('weld/b', weld(plant.laneIds.B));
  await awayFromTheFull();
  const at = now();
  const bodies = [7, 3, 0, 2, 1, 9, 5].map((count) => body(count, { at: at + count * 90 }));
  for (const message of [...bodies, ...bodies]) await broker.publish('weld/b', message);
  await until(async () => expect((await feedOf())?.state).toMatchObject({ repeated: 14 }));
  // Body 2 came before body 1, and the subgroup is in the order of the counter.
  expect((await subgroups(plant.laneIds.B)).map(({ readings }) => readings)).toEqual([[0.4, 0.41, 0.42]]);
  ahead += 70_000;
  await until(async () => expect(await stored(plant.laneIds.B)).toMatchObject([{ n: 7, first: 0n, last: 9n, readings: '{0.4,0.41,0.42,0.43,NULL,0.45,NULL,0.4,NULL,0.42}' }]));
  // The same again, long after its minute was folded, and with it two that had been missing.
  ahead += 15 * 60_000;
  for (const message of [...bodies, body(4, { at: at + 360 }), body(6, { at: at + 540 })]) await broker.publish('weld/b', message);
  await until(async () => expect((await feedOf())?.state).toMatchObject({ repeated: 28, late: 4 }));
  ahead += 60_000;
  await until(async () => expect(await stored(plant.laneIds.B)).toMatchObject([{ n: 9, readings: '{0.4,0.41,0.42,0.43,0.44,0.45,0.46,0.4,NULL,0.42}' }]));
  // A body that is there with another value is not overwritten: a person is to see it.
  await broker.publish('weld/b', body(4, { at: at + 360, overlap: 0.5 }));
  await until(async () => expect((await waiting()).map(({ reason }) => reason)).toEqual(['body 4 is stored already, with 0.44 and not 0.5: what is stored stays']));
  await engineer().call(discardQuarantine, { params: { id: feedId }, body: { ids: (await waiting()).map(({ id }) => id), reason: 'the gauge was being set' } });
  expect(await waiting()).toEqual([]);
});

it('puts what comes hours late in its place of the chart, and judges anew from there', async () => {
  const lane = plant.laneIds.A;
  const before = await subgroups(lane);
  const [stream] = await database.work.client.stream.findMany({ where: { laneId: lane, characteristicId: plant.characteristics['weld-overlap'] } });
  await database.work.client.limits.create({ data: { plantId: plant.plantId, streamId: stream?.id as number, kind: 'xbar-r', centre: 0.42, sigma: 0.01, spreadCentre: 0.017, subgroups: 25, readings: 75, baselineFrom: new Date(0), baselineTo: new Date(1), effectiveFrom: new Date(0), authorId: plant.users.engineer, reason: 'test' } });
  const hour = now() - 3_600_000;
  for (let count = 5000; count < 5003; count += 1) await broker.publish('weld/a', body(count, { at: hour + count, overlap: 0.55 }));
  await until(async () => expect((await subgroups(lane)).length).toBe(before.length + 1));
  const signals = await database.work.client.signal.findMany({ where: { streamId: stream?.id as number } });
  expect(signals.map(({ chart, rule, side, firedAt }) => [chart, rule, side, firedAt.getTime()])).toContainEqual(['mean', 'beyond-limits', 'above', hour + 5002]);
});

it('acknowledges after the commit only: what the database lost is sent again, and stored once', async () => {
  const lane = plant.laneIds.A;
  await awayFromTheFull();
  const at = now();
  // Whatever writes to the journal fails, as when the database goes down between the messages and the commit.
  await database.work.client.$executeRaw`CREATE FUNCTION fail_for_now() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN PERFORM pg_terminate_backend(pg_backend_pid()); RETURN NEW; END $$`;
  await database.work.client.$executeRaw`CREATE TRIGGER fail_for_now BEFORE INSERT ON feed_journal FOR EACH ROW EXECUTE FUNCTION fail_for_now()`;
  const sent = Array.from({ length: 13 }, (_, index) => body(9000 + index, { at: at + index }));
  const known = broker.acknowledged.length;
  for (const message of sent) await broker.publish('weld/a', message);
  await new Promise((resolve) => { setTimeout(resolve, 1500); });
  expect(broker.acknowledged.slice(known)).toEqual([]);
  // The connection is cut as well: the broker sends all of it again, beside what still waits here.
  broker.cut();
  await new Promise((resolve) => { setTimeout(resolve, 500); });
  await database.work.client.$executeRaw`DROP TRIGGER fail_for_now ON feed_journal`;
  await until(async () => expect(new Set(broker.acknowledged.slice(known))).toEqual(new Set(sent.map((message) => JSON.stringify(message)))));
  ahead += 70_000;
  await until(async () => expect((await stored(lane)).filter(({ first }) => first === 9000n)).toMatchObject([{ n: 13, last: 9012n }]));
  expect((await subgroups(lane)).filter(({ takenAt }) => takenAt.getTime() >= at)).toHaveLength(2);
});

it('goes on after a restart where it was: what was committed and not yet folded is known, and what came meanwhile is asked for', async () => {
  const lane = plant.laneIds.B;
  await awayFromTheFull();
  const at = now();
  const readings = (await feedOf())?.state.readings ?? 0;
  for (const count of [20_000, 20_001]) await broker.publish('weld/b', body(count, { at: at + (count - 20_000) * 100 }));
  await until(async () => expect((await feedOf())?.state.readings).toBe(readings + 4));
  expect(await database.work.client.feedJournal.count()).toBeGreaterThan(0);
  await api.app.get(MonitorsWorker).stop();
  expect((await feedOf())?.state.connection).toBe('stopped');
  for (const count of [20_001, 20_002, 20_004]) await broker.publish('weld/b', body(count, { at: at + (count - 20_000) * 100 }));
  const restarted = new MonitorsWorker(database.work, clock);
  restarted.start();
  try {
    // The subgroup began before the stop and is completed after it.
    await until(async () => expect((await subgroups(lane)).at(-1)?.readings).toEqual([20_000, 20_001, 20_002].map(overlap)));
    ahead += 70_000;
    await until(async () => expect((await stored(lane)).at(-1)).toMatchObject({ n: 4, first: 20_000n, last: 20_004n }));
  } finally {
    await restarted.stop();
    api.app.get(MonitorsWorker).start();
    await until(() => connected(feedId));
  }
});

it('keeps what it cannot take, with the reason, and takes it once the mapping is repaired', async () => {
  const topicId = await newTopic('monitor/2', { ...weld(plant.laneIds.A), machineId: plant.machines.bodyMaker2 });
  const good = body(1, { at: now() });
  const wrong: [unknown, RegExp][] = [
    ['{"at": 1', /not JSON in UTF-8/], [Buffer.from([0xff, 0xfe, 0x00]), /not JSON in UTF-8/], [{ ...good, body: 'one' }, /^\/body: needs a body counter.*"one" is there/], [{ ...good, overlap: 'n/a' }, /^\/overlap: needs a number, or null.*"n\/a" is there/],
    [{ at: good.at, body: 2 }, /^\/overlap: .*nothing is there/], [{ ...good, at: now() + 3_600_000 }, /clock of the device is 3600 s ahead/], [{ ...good, at: now() - 80 * 3_600_000 }, /80\.0 h old: at most 72 h/],
    [{ ...good, overlap: 42 }, /Weld overlap of 42 is outside what the can or the gauge allows \(0\.1 to 1\)/], [[1, 2], /^\/at: needs milliseconds since 1970, nothing/],
  ];
  for (const [payload] of wrong) await broker.publish('monitor/2', payload as object);
  await broker.publish('monitor/2', { when: new Date(now()).toISOString(), no: 31, welds: { overlap: 0.41, thickness: 0.21 } });
  await until(async () => expect(await waiting()).toHaveLength(wrong.length + 1));
  const kept = await waiting();
  for (const [payload, reason] of wrong) expect(kept.some((message) => reason.test(message.reason)), `${String(payload)}: ${kept.map((message) => message.reason).join(' | ')}`).toBe(true);
  // Nothing is blocked by it: a good one passes at once.
  await broker.publish('monitor/2', body(50, { at: now() }));
  const machine = { machineId: plant.machines.bodyMaker2 };
  await until(async () => expect(await database.work.client.stream.count({ where: machine })).toBe(2));

  const repaired = { ...weld(plant.laneIds.A), ...machine, filter: 'monitor/2', mapping: { ...weld(plant.laneIds.A).mapping, time: { pointer: '/when', format: 'iso' as const }, count: '/no', channels: weld(plant.laneIds.A).mapping.channels.map((channel) => ({ ...channel, value: `/welds${channel.value}` })) } };
  expect((await engineer().call(changeFeedTopic, { params: { id: feedId, topicId }, body: repaired })).status).toBe(200);
  const other = kept.find(({ payload }) => payload.includes('welds'));
  await engineer().call(replayQuarantine, { params: { id: feedId }, body: { ids: [other?.id as number] } });
  await until(async () => expect((await engineer().call(listQuarantine, { params: { id: feedId }, query: { state: 'replayed' } })).body.messages.map(({ id }) => id)).toEqual([other?.id]));
  // What is wrong under the new mapping too comes back with the new reason.
  const broken = kept.find(({ payload }) => payload === '[1,2]');
  await engineer().call(replayQuarantine, { params: { id: feedId }, body: { ids: [broken?.id as number] } });
  await until(async () => expect((await waiting()).find(({ id }) => id === broken?.id)?.reason).toMatch(/^\/when: needs a time/));
  await engineer().call(changeFeedTopic, { params: { id: feedId, topicId }, body: { ...repaired, mapping: weld(plant.laneIds.A).mapping } });
  const slipped = kept.find(({ payload }) => payload.includes('"overlap":42'));
  await engineer().call(replayQuarantine, { params: { id: feedId }, body: { ids: [slipped?.id as number], asMeasured: true } });
  await until(async () => expect((await engineer().call(listQuarantine, { params: { id: feedId }, query: { state: 'replayed' } })).body.messages).toHaveLength(2));
});

it('does not count a retained message as new, and takes a clock that is ahead by the server’s where the plant says so', async () => {
  const { retained = 0, heardAt } = (await feedOf())?.state ?? {};
  await broker.publish('line/state', { kind: 'jam', no: 'retained' }, { retain: true });
  await newTopic('line/state', { machineId: plant.machines.flanger, productId: plant.productId, lateHours: 24, clockSeconds: 60, clockPolicy: 'server-time', mapping: { kind: 'line-event', time: { pointer: '/at', format: 'iso' }, key: '/no', event: { pointer: '/kind' }, text: { fixed: 'from the flanger’s control' } } });
  await until(async () => expect((await feedOf())?.state.retained).toBeGreaterThan(retained));
  expect((await feedOf())?.state.heardAt, 'a device that is silent is not heard by what the broker kept').toBe(heardAt);
  const jam = { at: new Date(now() + 7_200_000).toISOString(), kind: 'jam', no: 17 };
  for (let time = 0; time < 3; time += 1) await broker.publish('line/state', jam);
  await broker.publish('line/state', { ...jam, no: 18, kind: 'celebration' });
  await until(async () => expect((await waiting()).some(({ reason }) => /^\/kind: needs a kind of line event/.test(reason))).toBe(true));
  const { events } = (await engineer().call(listLineEvents, { query: {} })).body;
  expect(events.map(({ kind, machine, actor }) => [kind, machine, actor])).toEqual([['jam', 'FL1', 'feed Broker by 4']]);
  expect(Math.abs(new Date(events[0]?.at ?? 0).getTime() - now())).toBeLessThan(60_000);
  expect((await feedOf())?.state.serverTimed).toBeGreaterThan(0);
});

it('stores production counts by their span, and refuses one that overlaps another without spoiling the batch', async () => {
  await newTopic('counts/1', { machineId: plant.machines.seamer, productId: plant.productId, lateHours: 24, clockSeconds: 60, mapping: { kind: 'counts', time: { pointer: '/from', format: 'seconds' }, minutes: 1, good: '/good', rejected: '/bad' } });
  const from = Math.floor(now() / 60_000) * 60 - 600;
  await Promise.all([[from, 640], [from + 60, 650], [from + 90, 10], [from + 120, 655], [from, 640]].map(([at, good]) => broker.publish('counts/1', { from: at, good, bad: 1 })));
  await until(async () => expect(await database.work.client.productionCount.count()).toBe(3));
  await until(async () => expect((await waiting()).some(({ reason }) => /does not overlap/.test(reason))).toBe(true));
});

it('says why it cannot connect', async () => {
  const nowhere = (await engineer().call(makeFeed, { body: { name: 'Nowhere', url: 'mqtt://127.0.0.1:1', clientId: 'nowhere', protocol: 4, passwordVariable: 'SEAMLEDGER_MQTT_NOT_SET' } })).body.id;
  await until(async () => expect((await feedOf(nowhere))?.state).toMatchObject({ connection: 'refused', detail: 'environment variable SEAMLEDGER_MQTT_NOT_SET is not set on the server' }));
  const silent = (await engineer().call(makeFeed, { body: { name: 'Silent', url: 'mqtt://127.0.0.1:1', clientId: 'silent', protocol: 4 } })).body.id;
  await until(async () => expect((await feedOf(silent))?.state).toMatchObject({ connection: 'waiting', detail: expect.stringContaining('ECONNREFUSED') }));
});

it('signs in with the user and the password that stand in the environment, and says where the broker wants others', async () => {
  Object.assign(process.env, { SEAMLEDGER_MQTT_TEST_USER: 'line', SEAMLEDGER_MQTT_TEST_RIGHT: 'right', SEAMLEDGER_MQTT_TEST_WRONG: 'wrong' });
  const guarded = await startBroker((user, password) => user === 'line' && password === 'right');
  try {
    const feedWith = async (name: 'RIGHT' | 'WRONG') => (await engineer().call(makeFeed, { body: { name, url: guarded.url, clientId: name, protocol: 4, userVariable: 'SEAMLEDGER_MQTT_TEST_USER', passwordVariable: `SEAMLEDGER_MQTT_TEST_${name}` } })).body.id;
    const [right, wrong] = [await feedWith('RIGHT'), await feedWith('WRONG')];
    await until(() => connected(right));
    await until(async () => expect((await feedOf(wrong))?.state).toMatchObject({ connection: 'waiting', detail: expect.stringMatching(/not authorized/i) }));
  } finally {
    await guarded.close();
  }
});

it('speaks MQTT 5 too: asks for a session that outlives a restart, and acknowledges after the commit', async () => {
  const peer = await startPeerOfFive();
  try {
    const five = await newFeed(5, peer.url);
    await newTopic('five/+', { ...weld(plant.laneIds.B), machineId: plant.machines.bodyMaker2 }, five);
    expect(peer.connects.at(-1)).toMatchObject({ protocolVersion: 5, clean: false, clientId: 'seamledger-5', properties: { sessionExpiryInterval: 604_800, receiveMaximum: 2000 } });
    peer.send('five/x', JSON.stringify(body(1, { at: now() })), 77);
    peer.send('five/x', 'no JSON', 78);
    await until(async () => expect((await feedOf(five))?.state).toMatchObject({ messages: 2, readings: 2, refused: 1 }));
    await until(async () => expect(peer.acknowledged).toEqual([77, 78]));
  } finally {
    await peer.close();
  }
});

it('lets one process at a time run a feed, and refuses mappings that would feed a stream twice', async () => {
  const second = new MonitorsWorker(database.work, clock);
  second.start();
  await new Promise((resolve) => { setTimeout(resolve, 1000); });
  expect((Reflect.get(second, 'runners') as Map<string, unknown>).size).toBe(0);
  await second.stop();
  const twice = await engineer().call(makeFeedTopic, { params: { id: feedId }, body: topicBody('weld/#', weld(plant.laneIds.A)) });
  expect([twice.status, twice.problem.errors?.map(({ field }) => field)]).toEqual([400, ['mapping.channels.0.characteristicId', 'mapping.channels.1.characteristicId', 'filter']]);
  const secret = await engineer().call(makeFeed, { body: { name: 'Spy', url: 'mqtt://127.0.0.1:1', clientId: 'spy', protocol: 4, passwordVariable: 'DATABASE_URL' } });
  expect([secret.status, secret.problem.errors?.[0]?.field]).toEqual([400, 'passwordVariable']);
});

it('leaves records that are as they were written: every check of a monitor is sealed as it stands', async () => {
  const checks = await database.work.client.check.count({ where: { source: 'monitor' } });
  expect(checks).toBeGreaterThan(3);
  const { auditFaults, checkFaults, checks: looked } = await verifyRecords(database.work.read, plant.plantId);
  expect({ auditFaults, checkFaults, looked }).toEqual({ auditFaults: [], checkFaults: [], looked: checks });
});

it('leaves a subgroup that was judged without one of its bodies as it is when that body comes late, also after a restart', { timeout: 180_000 }, async () => {
  const lane = plant.laneIds.A;
  await awayFromTheFull();
  const first = now();
  const bring = (count: number, at = first + (count % 1000)) => broker.publish('weld/a', body(count, { at }));
  for (const count of [700_000, 700_002, 700_003, 700_010]) await bring(count);
  ahead += 70_000;
  await bring(700_020, now());
  // Read by text: the client's arrays know no missing reading.
  const texts = () => database.work.client.$queryRaw<{ readings: string }[]>`SELECT g.readings::text AS readings FROM subgroup g JOIN stream s ON s.plant_id = g.plant_id AND s.id = g.stream_id WHERE s.lane_id = ${lane} AND s.characteristic_id = ${plant.characteristics['weld-overlap']} AND g.taken_at >= ${new Date(first)} ORDER BY g.taken_at`;
  const lacking = `{${overlap(700_000)},NULL,${overlap(700_002)}}`;
  await until(async () => expect((await texts()).map(({ readings }) => readings)).toContain(lacking));
  expect(await database.work.client.feedJudgedGroup.count({ where: { number: 70_000n } })).toBe(2);
  // In the next minute by its own clock, where nothing of its subgroup is stored.
  await bring(700_001, first + 61_000);
  await api.app.get(MonitorsWorker).stop();
  api.app.get(MonitorsWorker).start();
  await until(() => connected(feedId));
  await bring(700_001, first + 121_000);
  ahead += 200_000;
  await bring(700_100, now());
  await until(async () => expect((await stored(lane)).some(({ first: from }) => Number(from) === 700_001)).toBe(true));
  expect((await texts()).map(({ readings }) => readings)).not.toContain(`{NULL,${overlap(700_001)},NULL}`);
  expect((await texts()).filter(({ readings }) => readings === lacking)).toHaveLength(1);
});

it('judges no subgroup a second time of which the journal still holds the end when the feed is started again', { timeout: 120_000 }, async () => {
  const lane = plant.laneIds.A;
  await awayFromTheFull();
  const at = now();
  for (const count of [800_000, 800_001, 800_002]) await broker.publish('weld/a', body(count, { at: at + (count - 800_000) * 100 }));
  const whole = `{${[800_000, 800_001, 800_002].map(overlap).join()}}`;
  const judged = () => database.work.client.$queryRaw<{ streamId: number; readings: string }[]>`SELECT g.stream_id AS "streamId", g.readings::text AS readings FROM subgroup g JOIN stream s ON s.plant_id = g.plant_id AND s.id = g.stream_id WHERE s.lane_id = ${lane} AND s.characteristic_id = ${plant.characteristics['weld-overlap']} AND g.taken_at BETWEEN ${new Date(at)} AND ${new Date(at + 200)}`;
  await until(async () => expect((await judged()).map(({ readings }) => readings)).toEqual([whole]));
  ahead += 70_000;
  await until(async () => expect(await stored(lane)).toContainEqual(expect.objectContaining({ n: 3, first: 800_000n })));
  await until(async () => expect(await database.work.client.feedJournal.count({ where: { feedId } })).toBeLessThan(2));
  await api.app.get(MonitorsWorker).stop();
  // As a row of the journal that reached into the next minute, and outlived the one with the first body.
  const streamId = (await judged())[0]?.streamId as number;
  await database.work.run((tx) => insertJournal(tx, plant.plantId, feedId, encodeJournal([800_001, 800_002].map((count) => ({ streamId, at: at + (count - 800_000) * 100, count, value: overlap(count), forming: false })))));
  api.app.get(MonitorsWorker).start();
  await until(() => connected(feedId));
  await broker.publish('weld/a', body(800_010, { at: now() }));
  ahead += 70_000;
  await until(async () => expect(await stored(lane)).toContainEqual(expect.objectContaining({ first: 800_010n })));
  await until(async () => expect(await database.work.client.feedJournal.count({ where: { feedId } })).toBeLessThan(2));
  expect((await judged()).map(({ readings }) => readings)).toEqual([whole]);
});

it('judges no subgroup by the clock a second time either', { timeout: 120_000 }, async () => {
  const topicId = (await feedOf())?.topics.find(({ filter }) => filter === 'monitor/2')?.id as number;
  const { mapping, ...fields } = { ...weld(plant.laneIds.A), machineId: plant.machines.bodyMaker2, filter: 'monitor/2' };
  expect((await engineer().call(changeFeedTopic, { params: { id: feedId, topicId }, body: { ...fields, mapping: { ...mapping, count: null, subgroup: { size: 3, every: 60 } } } })).status).toBe(200);
  await takenOver(feedId);
  await awayFromTheFull();
  const at = now();
  for (const step of [0, 1, 2]) await broker.publish('monitor/2', { at: at + step * 100, overlap: overlap(step), thickness: 0.2 });
  const whole = `{${[0, 1, 2].map(overlap).join()}}`;
  const judged = () => database.work.client.$queryRaw<{ streamId: number; readings: string }[]>`SELECT g.stream_id AS "streamId", g.readings::text AS readings FROM subgroup g JOIN stream s ON s.plant_id = g.plant_id AND s.id = g.stream_id WHERE s.machine_id = ${plant.machines.bodyMaker2} AND s.characteristic_id = ${plant.characteristics['weld-overlap']} AND s.lane_id = ${plant.laneIds.A} AND g.taken_at BETWEEN ${new Date(at)} AND ${new Date(at + 200)}`;
  await until(async () => expect((await judged()).map(({ readings }) => readings)).toEqual([whole]));
  const streamId = (await judged())[0]?.streamId as number;
  const folded = (from: number) => database.work.client.$queryRaw<{ n: number }[]>`SELECT n FROM body_chunk WHERE stream_id = ${streamId} AND minute = ${new Date(Math.floor(from / 60_000) * 60_000)}`;
  ahead += 70_000;
  await until(async () => expect(await folded(at)).toEqual([{ n: 3 }]));
  await until(async () => expect(await database.work.client.feedJournal.count({ where: { feedId } })).toBeLessThan(2));
  await api.app.get(MonitorsWorker).stop();
  await database.work.run((tx) => insertJournal(tx, plant.plantId, feedId, encodeJournal([1, 2].map((step) => ({ streamId, at: at + step * 100, count: null, value: overlap(step), forming: false })))));
  api.app.get(MonitorsWorker).start();
  await until(() => connected(feedId));
  const later = now();
  await broker.publish('monitor/2', { at: later, overlap: overlap(3), thickness: 0.2 });
  ahead += 70_000;
  await until(async () => expect(await folded(later)).toEqual([{ n: 1 }]));
  await until(async () => expect(await database.work.client.feedJournal.count({ where: { feedId } })).toBeLessThan(2));
  expect((await judged()).map(({ readings }) => readings)).toEqual([whole]);
});

it('lets the other feeds run while the definition of one cannot be read, says so, and runs it when it is mended', { timeout: 120_000 }, async () => {
  const made = await engineer().call(makeFeed, { body: { name: 'A second broker', url: broker.url, clientId: 'seamledger-second', protocol: 4 } });
  expect(made.status, made.text).toBe(201);
  const other = made.body.id;
  const topicId = await newTopic('broken/topic', { ...weld(plant.laneIds.A), machineId: plant.machines.flanger, mapping: { kind: 'line-event', key: '/id', event: { fixed: 'stop' }, text: { fixed: 'stopped' } } }, other);
  await database.work.client.feedTopic.updateMany({ where: { id: topicId }, data: { mapping: { kind: 'of another version' } } });
  await database.work.client.feed.updateMany({ where: { id: other }, data: { revision: { increment: 1 } } });
  await until(async () => expect((await feedOf(other))?.state).toMatchObject({ connection: 'refused', detail: expect.stringContaining('the definition of topic broken/topic cannot be read: mapping') }));
  expect((await feedOf(other))?.unreadable).toMatchObject([{ id: topicId, filter: 'broken/topic' }]);
  const before = (await feedOf())?.state.messages ?? 0;
  // The first feed is taken up anew beside it, and goes on.
  await database.work.client.feed.updateMany({ where: { id: feedId }, data: { revision: { increment: 1 } } });
  await until(async () => { await broker.publish('nobody/maps/this', { at: now() }); await connected(feedId); });
  await broker.publish('weld/a', body(990_001));
  await until(async () => expect((await feedOf())?.state.messages ?? 0).toBeGreaterThan(before));
  expect((await engineer().call(removeFeedTopic, { params: { id: other, topicId } })).status).toBe(200);
  await until(async () => connected(other));
});

it('bounds the quarantine by number and age, the decided and the oldest first, and counts what went undecided', async () => {
  await database.work.client.feedQuarantine.deleteMany({});
  const made = (age: number, state: string, index: number) => ({ plantId: plant.plantId, feedId, topic: 'x', payload: Buffer.from(`${index}`), sha256: `${index}`, firstAt: new Date(now() - age * 86_400_000), lastAt: new Date(now() - age * 86_400_000), reason: 'r', state });
  await database.work.client.feedQuarantine.createMany({ data: [made(1, 'waiting', 1), made(2, 'waiting', 2), made(3, 'replay-asked', 3), made(4, 'waiting', 4), made(0, 'discarded', 5), made(95, 'waiting', 6)] });
  const dropped = async () => (await feedOf())?.state.dropped ?? -1;
  const before = await dropped();
  await trimPlantsQuarantine(database.work, plant.plantId, clock.now(), { messages: 3, days: 90 });
  expect((await database.work.client.feedQuarantine.findMany({ orderBy: { id: 'asc' } })).map(({ sha256 }) => sha256)).toEqual(['1', '2', '3']);
  expect(await dropped()).toBe(before + 2);
  const [told] = await database.work.client.auditRow.findMany({ where: { action: 'quarantine.trimmed' }, orderBy: { id: 'desc' }, take: 1 });
  expect(told?.after).toMatchObject({ gone: 3, undecided: 2, most: { messages: 3, days: 90 } });
  expect(await trimPlantsQuarantine(database.work, plant.plantId, clock.now(), { messages: 3, days: 90 })).toBe(0);
  await database.work.client.feedQuarantine.deleteMany({});
});
