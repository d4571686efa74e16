import { Notices } from './notices.js';
import { type NewsItem, RESUME_MS, readCursor, readNews, sweepNews, writeCursor } from './news.js';
import type { Work } from './work.js';

/** `hello`: listening from here on. `ask-again`: what was missed is no longer known, so everything may be old. */
export type Told = { cursor: string; news: NewsItem | 'hello' | 'ask-again' };
type Hear = (told: Told) => void;

const [BATCH, MOST_REPLAYED] = [500, 2000];
/** Between looks where notices arrive, as a net below them, and where they do not, as behind a pooler. */
const [CALM_MS, ASKING_MS, SWEEP_MS] = [5000, 500, 600_000];

/**
 * Reads the news of all processes past what it has read, and hands it to the open pages of this one. Rows of transactions
 * that are still open have no fixed place in the order, so everything from the oldest open one on is looked at again, and
 * what was handed on already is left out by its id.
 */
export class NewsFeed {
  private readonly hearers = new Set<{ plantId: number; hear: Hear }>();
  private readonly seen = new Map<bigint, { xid: bigint; at: number }>();
  private readonly notices: Notices;
  private horizon: bigint | null = null;
  private cursor = '';
  private running: Promise<void> | undefined;
  private again = false;
  private started: Promise<void> | undefined;
  private timer: NodeJS.Timeout | undefined;
  private sweeper: NodeJS.Timeout | undefined;
  private stopped = false;

  constructor(private readonly work: Work) {
    this.notices = new Notices(work.databaseUrl, 'news', () => { void this.wake().catch(() => {}); });
  }

  start(): Promise<void> {
    this.started ??= this.begin().catch((error: unknown) => { this.started = undefined; throw error; });
    return this.started;
  }

  /** Hears the news of a plant, from the event `lastEventId` on where that is given. The answer ends it. */
  async join(plantId: number, lastEventId: string | undefined, hear: Hear): Promise<() => void> {
    await this.start();
    // Without notices nothing was read while nobody listened: what lies between is of no use to anybody.
    if (this.hearers.size === 0 && !this.notices.connected) this.horizon = null;
    const hearer = { plantId, hear };
    this.hearers.add(hearer);
    try {
      await this.wake();
      if (lastEventId === undefined || lastEventId === '') hear({ cursor: this.cursor, news: 'hello' });
      else await this.replay(plantId, lastEventId, hear);
    } catch (error) {
      this.hearers.delete(hearer);
      throw error;
    }
    return () => this.hearers.delete(hearer);
  }

  /** The event id for somebody who has heard everything until now. */
  get position(): string {
    return this.cursor;
  }

  async onApplicationShutdown(): Promise<void> {
    this.stopped = true;
    clearTimeout(this.timer);
    clearInterval(this.sweeper);
    await this.notices.stop();
    await this.running?.catch(() => {});
  }

  private async begin(): Promise<void> {
    await this.wake();
    await this.notices.start();
    this.schedule();
    this.sweeper = setInterval(() => { void sweepNews(this.work.read).catch(() => {}); }, SWEEP_MS).unref();
  }

  private schedule(): void {
    if (this.stopped) return;
    this.timer = setTimeout(() => {
      void (this.hearers.size > 0 ? this.wake() : Promise.resolve()).catch(() => {}).finally(() => this.schedule());
    }, this.notices.connected ? CALM_MS : ASKING_MS).unref();
  }

  /** Resolves when everything committed before the call is handed on. */
  private wake(): Promise<void> {
    if (this.running) {
      this.again = true;
      return this.running;
    }
    this.running = this.read().finally(() => { this.running = undefined; });
    return this.running;
  }

  private async read(): Promise<void> {
    do {
      this.again = false;
      const { horizon, at, rows, more } = await readNews(this.work.read, null, this.horizon, [...this.seen.keys()], BATCH);
      if (this.stopped) return;
      const before = this.cursor;
      // Only who has all of the batch stands at the new place.
      if (!more) this.cursor = writeCursor(horizon, at);
      rows.forEach(({ row, xid, ...news }, place) => {
        this.seen.set(row, { xid, at: at.getTime() });
        const cursor = place === rows.length - 1 ? this.cursor : before;
        for (const hearer of this.hearers) if (hearer.plantId === news.plantId) hearer.hear({ cursor, news });
      });
      if (more) this.again = true;
      else this.advance(horizon, at);
    } while (this.again && !this.stopped);
  }

  /** What lies before the horizon is not looked at again; a transaction that never ends is forgotten with its rows. */
  private advance(horizon: bigint, now: Date): void {
    for (const [row, { xid, at }] of this.seen) if (xid < horizon || now.getTime() - at > 2 * RESUME_MS) this.seen.delete(row);
    this.horizon = horizon;
  }

  private async replay(plantId: number, lastEventId: string, hear: Hear): Promise<void> {
    const asked = readCursor(lastEventId);
    const missed = asked ? await readNews(this.work.read, plantId, asked.from, [], MOST_REPLAYED) : null;
    if (!asked || !missed || missed.more || asked.at > missed.at.getTime() + RESUME_MS || missed.at.getTime() - asked.at > RESUME_MS) {
      hear({ cursor: this.cursor, news: 'ask-again' });
      return;
    }
    const end = writeCursor(missed.horizon, missed.at);
    missed.rows.forEach(({ row: _row, xid: _xid, ...news }, place) => { hear({ cursor: place === missed.rows.length - 1 ? end : lastEventId, news }); });
  }
}
