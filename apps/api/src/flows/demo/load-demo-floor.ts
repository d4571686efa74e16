import { seedMonitor, simulateCounter, simulateMonitor } from '../../../../../seed/monitor.js';
import { defaultSeed } from '../../../../../seed/simulate.js';
import type { SimulatedPlant } from '../../../../../seed/simulated.js';
import { endLease, type Lease, takeLease } from '../../monitors/feed-state.store.js';
import { findFeed, insertFeed, insertTopic, listTopics } from '../../monitors/monitors.store.js';
import { recordCounterReadings } from '../../production/record-counter-readings.js';
import { setCounter } from '../../production/set-counter.js';
import type { Tx, Work } from '../../platform/work.js';
import { newOwner } from '../feed-runner.js';
import { FeedRun } from '../feed-run.js';
import { foldMinutes } from '../fold-minutes.js';
import { freezeLimits } from '../freeze-limits.js';
import { takeMessages } from '../take-messages.js';
import { findDemoStream, insertDemoMonitored, insertDemoTokens } from './demo-floor.store.js';
import { type DemoIds, need } from './demo-master.store.js';

const HOUR = 3_600_000;
/** By then every minute is over and folded. */
const AFTERWARDS_MS = 70_000;

/**
 * The floor's own sources: two hours of a weld monitor by the path that its messages take, a running counter, and tokens
 * that are over. The feed is switched off: its broker is invented, and the demo must not look for it.
 */
export async function loadDemoFloor(work: Work, tx: Tx, ids: DemoIds, simulated: SimulatedPlant, engineer: { id: number; name: string }): Promise<void> {
  const endsAt = new Date(simulated.endsAt);
  await insertDemoTokens(tx, ids, engineer, need(ids.machines, 'SM1'), endsAt);
  const actor = { plantId: ids.plantId, userId: engineer.id, name: engineer.name };
  const counterMachine = need(ids.machines, seedMonitor.counterMachineCode);
  await setCounter(tx, actor, counterMachine, { rollsOverAt: 1_000_000, mostPerMinute: 400 }, endsAt);
  await recordCounterReadings(tx, actor, simulateCounter(simulated.counts, simulated.endsAt - 4 * HOUR).map(({ at, good }) => ({ machineId: counterMachine, at: new Date(at).toISOString(), good, rejected: null })), endsAt);
  await loadMonitor(work.within(tx), tx, ids, simulated, actor);
}

async function loadMonitor(work: Work, tx: Tx, ids: DemoIds, { counts, endsAt }: SimulatedPlant, actor: { plantId: number; userId: number; name: string }): Promise<void> {
  const { plantId, userId } = actor;
  const characteristicId = await insertDemoMonitored(tx, plantId);
  const feedId = await insertFeed(tx, plantId, { ...seedMonitor.feed, userVariable: null, passwordVariable: null, enabled: false }, userId, new Date(endsAt - seedMonitor.hours * HOUR));
  await insertTopic(tx, plantId, feedId, {
    filter: seedMonitor.filter, machineId: need(ids.machines, seedMonitor.machineCode), productId: need(ids.products, seedMonitor.productCode), lateHours: 72, clockSeconds: 300, clockPolicy: 'quarantine',
    mapping: { kind: 'readings', each: '/bodies', time: { pointer: '/at', format: 'milliseconds' }, count: '/body', product: null, channels: [{ value: '/force', characteristicId, laneId: null, unitId: null, factor: 1 }], subgroup: { ...seedMonitor.subgroup } },
  });
  const lease: Lease = { plantId, feedId, owner: newOwner() };
  const feed = await findFeed(tx, plantId, feedId);
  if (!feed || !(await takeLease(tx, lease))) throw new Error('the feed of the demo plant was just made, and nobody else can run it');
  let now = new Date(endsAt);
  const run = new FeedRun({ ...feed, plantId, id: feedId, madeBy: userId }, lease, await listTopics(tx, plantId, feedId), () => now);
  const messages = simulateMonitor(defaultSeed, counts, endsAt - seedMonitor.hours * HOUR).map((message) => ({ topic: seedMonitor.filter, payload: new TextEncoder().encode(JSON.stringify(message)), retained: false, receivedAt: message.at }));
  const half = Math.ceil(messages.length / 2);
  const take = async (part: typeof messages) => {
    for (const message of part) {
      now = new Date(message.receivedAt);
      await takeMessages(tx, run, [message], now);
    }
  };
  await take(messages.slice(0, half));
  const streamId = await findDemoStream(tx, plantId, characteristicId);
  const [from, to] = [messages[0]?.receivedAt ?? endsAt, messages[half - 1]?.receivedAt ?? endsAt];
  if (streamId !== null) await freezeLimits(tx, actor, streamId, { from: new Date(from - HOUR).toISOString(), to: new Date(to).toISOString(), excluded: [], effectiveFrom: new Date(to + 1).toISOString(), reason: 'The first hour after the monitor was set: steady, no known cause in it.' }, new Date(to));
  await take(messages.slice(half));
  now = new Date(endsAt + AFTERWARDS_MS);
  for (let slices = 0; slices < 1000 && (await foldMinutes(work, run, now)); slices += 1) { /* Some 150 minutes at a time. */ }
  await endLease(tx, lease);
}
