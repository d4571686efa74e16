import pg from 'pg';

/**
 * Work that only one process of an installation does at a time: held by a lock of a database connection of its own, so that a
 * process that dies gives it up at once. Needs a direct connection: a pooler in transaction mode keeps no such lock.
 */
export class OnlyOne {
  private client: pg.Client | undefined;

  constructor(private readonly databaseUrl: string, private readonly name: string) {}

  /** True while this process is the one. Asks the database each time: a connection that broke has lost the lock. */
  async held(): Promise<boolean> {
    try {
      const client = this.client ?? (await this.connect());
      const { rows: [row] } = await client.query<{ held: boolean }>(
        'SELECT EXISTS (SELECT 1 FROM pg_locks WHERE locktype = \'advisory\' AND pid = pg_backend_pid() AND granted) OR pg_try_advisory_lock(hashtextextended($1, 0)) AS held', [this.name]);
      return row?.held ?? false;
    } catch {
      await this.release();
      return false;
    }
  }

  async release(): Promise<void> {
    const { client } = this;
    this.client = undefined;
    await client?.end().catch(() => {});
  }

  private async connect(): Promise<pg.Client> {
    const client = new pg.Client({ connectionString: this.databaseUrl, keepAlive: true, connectionTimeoutMillis: 5000, application_name: `seamledger ${this.name}` });
    client.on('error', () => { if (this.client === client) this.client = undefined; });
    await client.connect();
    this.client = client;
    return client;
  }
}
