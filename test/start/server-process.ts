import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';

/** The built server as a process of its own, as `npm start` runs it after the build. */
export type ServerProcess = {
  url: string;
  child: ChildProcess;
  /** Everything it printed so far. */
  words(): string;
  /** Exit code and words, once it has ended. */
  ended: Promise<{ code: number | null; signal: NodeJS.Signals | null; words: string }>;
  ready: Promise<void>;
};

export const scratchFolder = (): string => mkdtempSync(path.join(tmpdir(), 'seamledger-start-'));

export function startServer(env: Record<string, string>): ServerProcess {
  const { DATABASE_URL: _database, SEED: _seed, HOST: _host, PORT: _port, ...inherited } = process.env;
  const child = spawn(process.execPath, ['dist/apps/api/src/main.js'], { env: { ...inherited, NODE_ENV: 'production', ...env }, stdio: ['ignore', 'pipe', 'pipe'] });
  let text = '';
  child.stdout?.on('data', (chunk: Buffer) => { text += chunk.toString(); });
  child.stderr?.on('data', (chunk: Buffer) => { text += chunk.toString(); });
  const ended = new Promise<{ code: number | null; signal: NodeJS.Signals | null; words: string }>((resolve) => child.once('close', (code, signal) => resolve({ code, signal, words: text })));
  const ready = new Promise<void>((resolve, reject) => {
    child.stdout?.on('data', () => { if (/ready on .*\n.+\n/.test(text)) resolve(); });
    void ended.then(({ code, words }) => reject(new Error(`the server ended with ${code}: ${words}`)));
  });
  ready.catch(() => {});
  return { url: `http://127.0.0.1:${env['PORT']}`, child, words: () => text, ended, ready };
}

/** Ends it the kind way and waits. */
export async function stopServer(server: ServerProcess): Promise<{ code: number | null; words: string }> {
  server.child.kill('SIGTERM');
  return server.ended;
}
