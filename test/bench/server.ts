import { spawn } from 'node:child_process';
import { createHash, randomBytes } from 'node:crypto';
import { mkdtempSync, rmSync } from 'node:fs';
import { Agent, request } from 'node:http';
import { tmpdir } from 'node:os';
import path from 'node:path';
import pg from 'pg';
import { startEmbeddedPostgres } from '../../apps/api/src/platform/embedded-postgres.js';
import { freePort } from '../../apps/api/src/platform/free-port.js';

export type BenchServer = {
  sql: pg.Client;
  /** One request over a kept-alive loopback connection, signed in as the bench engineer; the body as text. */
  call(method: 'GET' | 'POST', url: string, body?: string): Promise<{ status: number; text: string }>;
  plantId: number;
  userId: number;
  /** Address, and the session's cookie, for a browser. */
  url: string;
  session: string;
  close(): Promise<void>;
};

/** A durable PostgreSQL in a folder of its own and the real server as a process of its own on it, with an empty plant. */
export async function startBenchServer(): Promise<BenchServer> {
  const folder = mkdtempSync(path.join(tmpdir(), 'seamledger-bench-'));
  const postgres = await startEmbeddedPostgres(folder, { durable: true, say: () => {} });
  const port = await freePort();
  const server = spawn(process.execPath, ['dist/apps/api/src/main.js'], { env: { ...process.env, DATABASE_URL: postgres.url, PORT: String(port), SEED: 'none', NODE_ENV: 'production' }, stdio: ['ignore', 'pipe', 'inherit'] });
  await new Promise<void>((resolve, reject) => {
    server.once('exit', (code) => reject(new Error(`the server ended with ${code}`)));
    server.stdout?.on('data', (chunk: Buffer) => { if (chunk.toString().includes('ready on')) resolve(); });
  });
  const sql = new pg.Client({ connectionString: postgres.url });
  await sql.connect();
  const plantId = (await sql.query<{ id: number }>("INSERT INTO plant (name, time_zone) VALUES ('Bench plant', 'UTC') RETURNING id")).rows[0]?.id as number;
  const userId = (await sql.query<{ id: number }>('INSERT INTO "user" (plant_id, login, name, role, password_hash) VALUES ($1, \'bench\', \'Bench engineer\', \'engineer\', \'none\') RETURNING id', [plantId])).rows[0]?.id as number;
  const token = randomBytes(32).toString('base64url');
  await sql.query("INSERT INTO session (plant_id, token_hash, user_id, csrf, expires_at) VALUES ($1, $2, $3, 'bench-csrf', now() + interval '1 hour')", [plantId, createHash('sha256').update(token).digest('hex'), userId]);
  const agent = new Agent({ keepAlive: true, maxSockets: 1 });
  return {
    sql, plantId, userId, url: `http://127.0.0.1:${port}`, session: token,
    call: (method, url, body) => new Promise((resolve, reject) => {
      const sent = request({ host: '127.0.0.1', port, method, path: url, agent, headers: { cookie: `seamledger_session=${token}`, 'x-csrf-token': 'bench-csrf', ...(body === undefined ? {} : { 'content-type': 'application/json', 'content-length': Buffer.byteLength(body) }) } }, (response) => {
        const parts: Buffer[] = [];
        response.on('data', (part: Buffer) => parts.push(part));
        response.on('end', () => resolve({ status: response.statusCode ?? 0, text: Buffer.concat(parts).toString('utf8') }));
      });
      sent.once('error', reject);
      sent.end(body);
    }),
    async close() {
      agent.destroy();
      await sql.end();
      server.removeAllListeners('exit');
      const gone = new Promise((resolve) => server.once('exit', resolve));
      server.kill('SIGTERM');
      await gone;
      await postgres.stop();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}
