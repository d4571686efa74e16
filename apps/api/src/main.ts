import { createServer } from 'node:net';
import path from 'node:path';
import pg from 'pg';
import type { NestFastifyApplication } from '@nestjs/platform-fastify';
import { makeApp } from './app.js';
import { MonitorsWorker } from './flows/monitors.worker.js';
import { DEMO_PASSWORD, loadDemoPlant } from './flows/load-demo-plant.js';
import { InboxWorker } from './ingest/inbox.worker.js';
import { OutgoingWorker } from './flows/outgoing/outgoing.worker.js';
import { PastFixes } from './knowledge/past-fixes.js';
import { systemClock } from './platform/clock.js';
import { type Config, isLoopback, readConfig } from './platform/config.js';
import { type EmbeddedPostgres, startEmbeddedPostgres } from './platform/embedded-postgres.js';
import { applyMigrations, pendingMigrations, underStartLock } from './platform/migrate.js';
import { NewsFeed } from './platform/news-feed.js';
import { OutboxWorker } from './platform/outbox.worker.js';
import { StartError } from './platform/start-error.js';
import { Work } from './platform/work.js';
import { refuseDemoPasswords } from './users/demo-accounts.js';
import { findPlant, listDemoAccounts } from './users/users.store.js';

const say = (line: string) => console.log(`seamledger: ${line}`);

/** What runs, in the order in which it must be ended. */
const running: { app?: NestFastifyApplication; work?: Work; postgres?: EmbeddedPostgres } = {};
let ending: Promise<void> | undefined;

async function start(): Promise<void> {
  const config = readConfig(process.env);
  await refuseTakenPort(config);
  const databaseUrl = config.databaseUrl ?? (await embedded(config));
  if (config.databaseUrl) await refuseUnreachable(config.databaseUrl);
  await underStartLock(databaseUrl, async () => {
    const pending = await pendingMigrations(databaseUrl);
    if (pending.length > 0) {
      say(`migrating the database (${pending.length} to apply)`);
      await applyMigrations(databaseUrl);
    }
    running.work = new Work(databaseUrl, 20);
    if (config.seed === 'demo' && (await findPlant(running.work.read)) === null) {
      if (!isLoopback(config.host)) throw new StartError(`the demo plant has accounts with a known password and is only made while listening on loopback, not on HOST=${config.host}: start once without HOST, or with SEED=none`);
      await loadDemoPlant(running.work, systemClock.now(), say);
    }
  });
  const work = running.work as Work;
  await refuseDemoPasswords(work, config.host);
  const app = await makeApp({ work, clock: systemClock, webFolder: path.join(process.cwd(), 'dist', 'web'), log: true, outward: config.outward });
  running.app = app;
  await app.listen(config.port, config.host);
  app.get(OutboxWorker).start();
  await watchInbox(config, app);
  app.get(OutgoingWorker).start();
  void app.get(NewsFeed).start().catch(() => {});
  app.get(MonitorsWorker).start();
  await warmPastFixes(work, app);
  await greet(work, app);
}

async function watchInbox({ inbox }: Config, app: NestFastifyApplication): Promise<void> {
  if (!inbox) return;
  await app.get(InboxWorker).watch(inbox).catch((error: NodeJS.ErrnoException) => { throw new StartError(`SEAMLEDGER_INBOX=${inbox} cannot be written (${error.code ?? error.message}): give a folder that this program may change`); });
  app.get(InboxWorker).start();
  say(`files dropped into ${inbox} are imported`);
}

/** The first search after a start finds its index ready, or at least begun. */
async function warmPastFixes(work: Work, app: NestFastifyApplication): Promise<void> {
  const plant = await findPlant(work.read);
  if (plant) void app.get(PastFixes).indexOf(plant.id).catch(() => {});
}

async function embedded(config: Config): Promise<string> {
  say(`starting PostgreSQL with its data in ${config.dataFolder}`);
  const postgres = await startEmbeddedPostgres(config.dataFolder, { durable: true, say });
  running.postgres = postgres;
  void postgres.died.then((lastWords) => {
    if (ending) return;
    const full = /No space left on device/i.test(lastWords);
    console.error(full
      ? `seamledger: the disk of ${config.dataFolder} is full and PostgreSQL stopped: free some space and start again; everything acknowledged is kept`
      : `seamledger: PostgreSQL ended by itself: ${lastWords.trim().split('\n').filter((line) => /PANIC|FATAL/.test(line)).at(-1) ?? lastWords.trim().split('\n').at(-1) ?? 'no word from it'}; start again, everything acknowledged is kept`);
    void end(1);
  });
  return postgres.url;
}

/** Said before anything is started: the commonest mistake is a second start. */
function refuseTakenPort({ port, host }: Config): Promise<void> {
  return new Promise((resolve, reject) => {
    const probe = createServer();
    probe.once('error', (error: NodeJS.ErrnoException) => reject(new StartError(error.code === 'EADDRINUSE'
      ? `port ${port} on ${host} is taken by another program: stop that one, or give another in PORT`
      : `cannot listen on ${host}:${port} (${error.code}): give another address in HOST or PORT`)));
    probe.listen(port, host, () => probe.close(() => resolve()));
  });
}

async function refuseUnreachable(databaseUrl: string): Promise<void> {
  const { hostname, port } = new URL(databaseUrl);
  const client = new pg.Client({ connectionString: databaseUrl, connectionTimeoutMillis: 10_000 });
  client.on('error', () => {});
  try {
    await client.connect();
  } catch (error) {
    throw new StartError(`the database of DATABASE_URL at ${hostname}:${port || '5432'} cannot be used: ${error instanceof Error && error.message ? error.message : String((error as { code?: unknown }).code)}`);
  }
  try {
    const { rows: [row] } = await client.query<{ version: string }>("SELECT current_setting('server_version_num') AS version");
    if (Number(row?.version) < 150_000) throw new StartError(`the database of DATABASE_URL is PostgreSQL ${Math.floor(Number(row?.version) / 10_000)}: 15 or later is needed`);
  } finally {
    await client.end();
  }
}

async function greet(work: Work, app: NestFastifyApplication): Promise<void> {
  const address = (await app.getUrl()).replace('[::1]', 'localhost');
  const plant = await findPlant(work.read);
  const accounts = plant?.demo ? await demoAccounts(work) : '';
  say(`ready on ${address}`);
  if (!plant) say(`no plant yet: open ${address} and make the first administrator`);
  else if (plant.demo) say(`demo plant "${plant.name}": log in with the password ${DEMO_PASSWORD} as ${accounts || 'nobody: every password was changed'}`);
  else say('log in with your account; an administrator makes accounts under Set-up, People');
}

/** One account of each role that still has the demo password. */
async function demoAccounts(work: Work): Promise<string> {
  const accounts = await listDemoAccounts(work.read);
  return accounts.filter(({ role }, index) => accounts.findIndex((other) => other.role === role) === index).map(({ login, role }) => `${login} (${role})`).join(', ');
}

/** Ends in the order of use: no new requests, then the database connections, then the database itself. */
function end(code: number): Promise<void> {
  ending ??= (async () => {
    process.exitCode = code;
    const patience = setTimeout(() => process.exit(code || 1), 9000);
    patience.unref();
    await running.app?.close().catch(() => {});
    await running.work?.close().catch(() => {});
    await running.postgres?.stop().catch(() => {});
    process.exit(code);
  })();
  return ending;
}

for (const signal of ['SIGINT', 'SIGTERM'] as const) {
  process.on(signal, () => {
    if (!ending) say('stopping');
    void end(0);
  });
}

// `npm start` puts a shell between npm and this process, which a SIGTERM to npm ends without passing it on: when the parent goes, stop too.
if (process.env['npm_lifecycle_event']) {
  const parent = process.ppid;
  setInterval(() => {
    if (process.ppid === parent || ending) return;
    say('the program that started this one is gone: stopping');
    void end(0);
  }, 500).unref();
}

start().catch(async (error: unknown) => {
  // When PostgreSQL dies under a start, its own last words tell more than the broken connection does.
  if (!(error instanceof StartError) && running.postgres) await Promise.race([running.postgres.died, new Promise((resolve) => { setTimeout(resolve, 2000); })]);
  if (ending) return;
  const full = error instanceof Error && /53100|No space left on device|ENOSPC/.test(`${error.message} ${JSON.stringify(error)}`);
  if (error instanceof StartError) console.error(`seamledger: ${error.message}`);
  else if (full) console.error('seamledger: the disk of the database is full: free some space and start again; everything acknowledged is kept');
  else console.error('seamledger: the start failed:', error);
  void end(1);
});
