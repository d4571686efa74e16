import pg from 'pg';
import { makeFeed, makeFeedTopic } from '#contract/monitors';
import { startBroker, type TestBroker } from '../db/broker.js';
import type { Ask } from './ask.js';
import type { Installation } from './installation.js';

const TOPIC = 'weld/b';
const PACE_MS = 8;
/** A process that was killed keeps its lease for some seconds: the next one waits for it. */
const MOST_LOOKS = 1200;

/** A weld monitor that sends every body, two channels each, to the brokers of both installations; its clock is the server's. */
export class Monitor {
  published = 0;
  private constructor(private readonly ends: readonly { installation: Installation; broker: TestBroker }[]) {}

  static async begin(installations: readonly { installation: Installation; ask: Ask }[]): Promise<Monitor> {
    const ends = [];
    for (const { installation, ask } of installations) {
      const broker = await startBroker();
      ends.push({ installation, broker });
      const { machines, productId, characteristics, laneIds } = installation.plant;
      const { id } = makeFeed.answer.parse(await ask('POST', makeFeed.path, { name: 'Weld monitor', url: broker.url, clientId: 'seamledger', protocol: 4 }));
      await ask('POST', makeFeedTopic.path.replace(':id', String(id)), {
        filter: TOPIC, machineId: machines.bodyMaker2, productId, mapping: {
          kind: 'readings', time: { pointer: '/at', format: 'milliseconds' }, count: '/body', subgroup: { size: 3, every: 10 },
          channels: [{ value: '/overlap', characteristicId: characteristics['weld-overlap'], laneId: laneIds.B }, { value: '/thickness', characteristicId: characteristics['weld-thickness'], laneId: laneIds.B }],
        },
      });
    }
    const monitor = new Monitor(ends);
    // A connection that was made before the topic was mapped says so beside its state: what is published now would not reach it.
    for (const { installation } of ends) await monitor.until(installation, 'the feed is connected', (row) => row?.state === 'connected' && row.detail === '');
    return monitor;
  }

  /** Sends `bodies` more, evenly; goes on while an installation is away, whose broker keeps them. */
  async send(bodies: number): Promise<void> {
    for (let sent = 0; sent < bodies; sent += 1) {
      const body = this.published;
      const level = Math.sin(body * 7.3) + (body > 600 && body % 410 < 90 ? 1.5 : 0) + (Math.floor(body / 10) % 97 === 60 ? 5 : 0);
      const payload = { at: Date.now(), body, overlap: Math.round((0.42 + 0.012 * level) * 1000) / 1000, thickness: Math.round((0.25 + 0.004 * level) * 10_000) / 10_000 };
      for (const { broker } of this.ends) await broker.publish(TOPIC, payload);
      this.published += 1;
      await new Promise((resolve) => { setTimeout(resolve, PACE_MS); });
    }
  }

  /** Waits until every body that was sent is stored in both; answers how many came more than once to each. */
  async stored(): Promise<number[]> {
    const repeated: number[] = [];
    for (const { installation } of this.ends) {
      const row = await this.until(installation, `${2 * this.published} readings are stored`, (state) => state?.readings === 2 * this.published && state.refused === 0);
      repeated.push(row?.repeated ?? 0);
    }
    return repeated;
  }

  /** Waits until the last minute is written as chunks. */
  async folded(): Promise<void> {
    for (const { installation } of this.ends) await this.until(installation, 'the last minute is in chunks', (row) => row?.folded === 2 * this.published);
  }

  async end(): Promise<void> {
    for (const { broker } of this.ends) await broker.close();
  }

  private async until(installation: Installation, what: string, fits: (row: State | undefined) => boolean): Promise<State | undefined> {
    const client = new pg.Client({ connectionString: await installation.databaseUrl() });
    await client.connect();
    try {
      let row: State | undefined;
      for (let look = 0; look < MOST_LOOKS; look += 1) {
        ({ rows: [row] } = await client.query<State>('SELECT state, detail, readings::int, repeated::int, refused::int, (SELECT coalesce(sum(n), 0)::int FROM body_chunk) AS folded FROM feed_state'));
        if (fits(row)) return row;
        await new Promise((resolve) => { setTimeout(resolve, 100); });
      }
      throw new Error(`waited in vain until ${what}: ${JSON.stringify(row)}`);
    } finally {
      await client.end();
    }
  }
}

type State = { state: string; detail: string; readings: number; repeated: number; refused: number; folded: number };
