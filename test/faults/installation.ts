import { createHash, randomBytes } from 'node:crypto';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import pg from 'pg';
import { runningPostgres } from '../../apps/api/src/platform/embedded-postgres.js';
import { freePort } from '../../apps/api/src/platform/free-port.js';
import { Work } from '../../apps/api/src/platform/work.js';
import { makePlant, type TestPlant } from '../factories/plant.js';
import { type ServerProcess, startServer } from '../start/server-process.js';

/** api: the program that answers HTTP. postgres: the database server. both: at once. backend: one process of the database server that works for the API. */
export const faultKinds = ['api', 'postgres', 'backend', 'both'] as const;
export type FaultKind = (typeof faultKinds)[number];

/** The built server with its own PostgreSQL in a folder of its own, on one port over all restarts. */
export class Installation {
  readonly folder = mkdtempSync(path.join(tmpdir(), 'seamledger-faults-'));
  readonly session = randomBytes(32).toString('base64url');
  plant!: TestPlant;
  url = '';
  private port = 0;
  private server: ServerProcess | undefined;

  /** Starts, and puts a plant and an engineer's session (never expiring within a run) in place. */
  async begin(): Promise<void> {
    this.port = await freePort();
    await this.start();
    const work = new Work(await this.databaseUrl(), 2);
    try {
      this.plant = await makePlant(work);
      const { plantId, users } = this.plant;
      await work.client.session.create({ data: { plantId, userId: users.engineer, tokenHash: createHash('sha256').update(this.session).digest('hex'), csrf: 'csrf-of-faults', expiresAt: new Date(Date.now() + 86_400_000) } });
    } finally {
      await work.close();
    }
  }

  async start(): Promise<void> {
    this.server = startServer({ SEED: 'none', SEAMLEDGER_DATA: this.folder, PORT: String(this.port) });
    this.url = this.server.url;
    await this.server.ready;
  }

  async databaseUrl(): Promise<string> {
    const url = await runningPostgres(this.folder);
    if (url === null) throw new Error(`no PostgreSQL runs on ${this.folder}`);
    return url;
  }

  /** Kills, and answers once everything answers again; how the API ended where it did. */
  async suffer(kind: FaultKind): Promise<string> {
    const server = this.server as ServerProcess;
    if (kind === 'backend') return this.killBackend();
    const postmaster = this.postmaster();
    if (kind !== 'api') process.kill(postmaster, 'SIGKILL');
    if (kind !== 'postgres') server.child.kill('SIGKILL');
    // Without its database the API ends by itself, and says so.
    const { code, signal } = await server.ended;
    await this.start();
    return `API ended by ${signal ?? `itself with ${code}`}`;
  }

  async end(): Promise<void> {
    if (this.server && this.server.child.exitCode === null && this.server.child.signalCode === null) {
      this.server.child.kill('SIGTERM');
      await this.server.ended;
    }
    rmSync(this.folder, { recursive: true, force: true });
  }

  words(): string { return this.server?.words() ?? ''; }

  /** The process of the database server of this folder, as it wrote it down itself. */
  private postmaster(): number {
    const pid = Number(readFileSync(path.join(this.folder, 'postgres', 'postmaster.pid'), 'utf8').split('\n')[0]);
    if (!Number.isInteger(pid) || pid <= 1) throw new Error(`postmaster.pid of ${this.folder} names no process`);
    return pid;
  }

  /** PostgreSQL then ends all its processes and recovers by itself; the API has to find it again. */
  private async killBackend(): Promise<string> {
    const client = new pg.Client({ connectionString: await this.databaseUrl() });
    client.on('error', () => {});
    await client.connect();
    const { rows: [row] } = await client.query<{ pid: number }>("SELECT pid FROM pg_stat_activity WHERE backend_type = 'client backend' AND pid <> pg_backend_pid() ORDER BY (state <> 'idle') DESC, random() LIMIT 1");
    if (!row) throw new Error('no process of PostgreSQL works for the API');
    process.kill(row.pid, 'SIGKILL');
    await client.end().catch(() => {});
    for (let wait = 0; wait < 600; wait += 1) {
      const answer = await fetch(`${this.url}/api/health`).catch(() => null);
      if (answer?.status === 200) return 'API went on';
      await new Promise((resolve) => { setTimeout(resolve, 100); });
    }
    throw new Error(`the API did not find PostgreSQL again within a minute: ${this.words().slice(-2000)}`);
  }
}
