import pg from 'pg';

const [FIRST_PAUSE_MS, LONGEST_PAUSE_MS] = [250, 15_000];

/**
 * Hears NOTIFY of one channel on a connection of its own, and comes back when that is lost. Notices sent meanwhile are
 * gone, so `hear` is called after each new connection too: it must ask what changed, not be told. Behind a pooler in
 * transaction mode there is no LISTEN: `connected` stays false, and callers ask the database each time.
 */
export class Notices {
  private client: pg.Client | undefined;
  private timer: NodeJS.Timeout | undefined;
  private first: Promise<void> | undefined;
  private pause = FIRST_PAUSE_MS;
  private stopped = false;
  connected = false;

  constructor(private readonly databaseUrl: string, private readonly channel: string, private readonly hear: () => void) {}

  /** Resolves after the first attempt, whether it succeeded or not. */
  start(): Promise<void> {
    this.first ??= /[?&]pgbouncer=true/.test(this.databaseUrl) ? Promise.resolve() : this.connect();
    return this.first;
  }

  async stop(): Promise<void> {
    this.stopped = true;
    this.connected = false;
    clearTimeout(this.timer);
    const { client } = this;
    this.client = undefined;
    await client?.end().catch(() => {});
  }

  private async connect(): Promise<void> {
    if (this.stopped) return;
    const client = new pg.Client({ connectionString: this.databaseUrl, keepAlive: true, connectionTimeoutMillis: 5000, application_name: 'seamledger notices' });
    client.on('error', () => this.lost(client));
    client.on('end', () => this.lost(client));
    client.on('notification', () => this.hear());
    this.client = client;
    try {
      await client.connect();
      await client.query(`LISTEN ${client.escapeIdentifier(this.channel)}`);
      if (this.client !== client) return;
      this.connected = true;
      this.pause = FIRST_PAUSE_MS;
      this.hear();
    } catch {
      this.lost(client);
    }
  }

  private lost(client: pg.Client): void {
    if (this.client !== client) return;
    this.client = undefined;
    this.connected = false;
    void client.end().catch(() => {});
    if (this.stopped) return;
    this.timer = setTimeout(() => void this.connect(), this.pause).unref();
    this.pause = Math.min(LONGEST_PAUSE_MS, this.pause * 2);
  }
}
