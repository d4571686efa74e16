import { type ChildProcess, fork } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { cpus, tmpdir } from 'node:os';
import path from 'node:path';
import { parseArgs } from 'node:util';
import pg from 'pg';
import { makeApp } from '../../apps/api/src/app.js';
import { MonitorsWorker } from '../../apps/api/src/flows/monitors.worker.js';
import { startEmbeddedPostgres } from '../../apps/api/src/platform/embedded-postgres.js';
import { applyMigrations } from '../../apps/api/src/platform/migrate.js';
import { OutboxWorker } from '../../apps/api/src/platform/outbox.worker.js';
import { Work } from '../../apps/api/src/platform/work.js';
import type { Order, Said } from './ingest/monitors.js';
import { makeBenchPlant, mapBenchFeed } from './ingest/plant.js';
import { benchCopy } from './ingest/copy.js';
import { benchImport } from './ingest/import-csv.js';

// `npm run bench:ingest [-- --seconds 10 --readings 100000 --only feed|import]`: every-body readings from the broker to committed chunks and judged subgroups.
// Broker and monitors are a process of their own, PostgreSQL another, the API the third; all on this machine.
const { values: options } = parseArgs({ options: { seconds: { type: 'string', default: '60' }, machines: { type: 'string', default: '48' }, channels: { type: 'string', default: '32' }, every: { type: 'string', default: '650' }, only: { type: 'string', default: '' }, readings: { type: 'string', default: '1000000' } } });
const [seconds, machines, channels, every] = [Number(options.seconds), Number(options.machines), Number(options.channels), Number(options.every)];
const BODIES_A_MINUTE = 650;
const AIM = { rate: 16_000, p99: 2000, bytes: 8, queued: 20_000 };
const TABLES = ['body_chunk', 'subgroup', '"check"', 'signal', 'signal_point', 'feed_quarantine', 'audit_row'];

const say = (name: string, found: string, met: boolean) => console.log(`${met ? 'met    ' : 'NOT MET'}  ${name}: ${found}`);
const quantile = (sorted: readonly number[], share: number) => sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))] ?? 0;

const folder = mkdtempSync(path.join(tmpdir(), 'seamledger-ingest-'));
const postgres = await startEmbeddedPostgres(folder, { durable: true, say: () => {} });
await applyMigrations(postgres.url);
const sql = new pg.Client({ connectionString: postgres.url });
await sql.connect();
console.log(`Node.js ${process.version}, ${cpus().length} x ${cpus()[0]?.model ?? 'unknown processor'}, ${(await sql.query<{ version: string }>("SELECT split_part(version(), ' on ', 1) AS version")).rows[0]?.version}, durable commits`);
try {
  if (options.only !== 'import') await benchFeed();
  if (options.only !== 'import') console.log(await benchCopy(postgres.url));
  if (options.only !== 'feed') for (const row of await benchImport(sql, postgres.url, Number(options.readings))) say(row.name, row.detail, row.ratio <= row.aim);
} finally {
  await sql.end();
  await postgres.stop();
  rmSync(folder, { recursive: true, force: true });
}

async function benchFeed(): Promise<void> {
  const plant = await makeBenchPlant(sql, machines, channels);
  const monitors = fork(new URL('./ingest/monitors.js', import.meta.url), { execArgv: [] });
  const port = await heard(monitors, (said) => ('port' in said ? said.port : null));
  await mapBenchFeed(sql, plant, `mqtt://127.0.0.1:${port}`, every);
  // The clock can be put ahead: at the end the last minute is over at once, and folded.
  let ahead = 0;
  const clock = { now: () => new Date(Date.now() + ahead) };
  const work = new Work(postgres.url, 20);
  const app = await makeApp({ work, clock });
  const worker = app.get(MonitorsWorker);
  const latencies: number[] = [];
  let [mostQueued, readings] = [0, 0];
  worker.committed = ({ messages, at, queued }) => {
    mostQueued = Math.max(mostQueued, queued);
    for (const { payload } of messages) latencies.push(at - Number(/"at":(\d+)/.exec(Buffer.from(payload.buffer, payload.byteOffset, 40).toString('latin1'))?.[1]));
    readings += messages.length * channels;
  };
  app.get(OutboxWorker).start();
  worker.start();
  await until(async () => (await state()).state === 'connected');

  // A first minute's share makes the streams; limits then let every later subgroup be judged.
  const order: Order = { machines, channels, bodiesAMinute: BODIES_A_MINUTE, seconds: 2 };
  const warm = await ordered(monitors, order);
  await until(async () => (await state()).messages >= warm.sent);
  await sql.query("INSERT INTO limits (plant_id, stream_id, kind, centre, sigma, spread_centre, subgroups, readings, baseline_from, baseline_to, effective_from, author_id, reason) SELECT plant_id, id, 'xbar-r', 0.4 + (characteristic_id - $2) / 100.0, 0.006, 0.014, 25, 125, '2025-01-01', '2025-01-02', '2025-01-01', $3, 'bench' FROM stream WHERE plant_id = $1", [plant.plantId, plant.characteristicIds[0], plant.userId]);
  await sql.query('VACUUM ANALYZE');
  const before = { size: await size(), journal: await journal(), subgroups: (await state()).subgroups };
  latencies.length = 0;
  [mostQueued, readings] = [0, 0];
  const used = process.cpuUsage();
  const began = performance.now();
  const { sent, behind } = await ordered(monitors, { ...order, seconds });
  await until(async () => readings >= sent * channels, 120_000);
  const took = (performance.now() - began) / 1000;
  const cpu = process.cpuUsage(used);
  const sorted = [...latencies].sort((one, other) => one - other);
  const journalBytes = await journal();
  ahead = 70_000;
  await until(async () => Number((await sql.query("SELECT count(*) FROM feed_journal WHERE length(entries) > 28 * 20000")).rows[0]?.count) === 0 && (await sum()) === (sent + warm.sent) * channels, 120_000);
  const grown = (await size()) - before.size;
  const all = (sent + warm.sent) * channels;
  const after = await state();
  const judged = Number((await sql.query<{ count: string }>('SELECT count(*) FROM subgroup WHERE limits_id IS NOT NULL')).rows[0]?.count);
  console.log(`${machines} machines x ${channels} channels x ${BODIES_A_MINUTE} bodies a minute, ${seconds} s; the publisher was at most ${behind} bodies behind; the API used ${((cpu.user + cpu.system) / 1e6 / took * 100).toFixed(0)} % of one core`);
  say('readings a second, from broker to commit', `${Math.round(sent * channels / took)} (aim ${AIM.rate}; published for ${seconds} s, all committed after ${took.toFixed(1)} s)`, sent * channels / took >= AIM.rate * 0.99);
  say('nothing lost, nothing twice', `${sent + warm.sent} messages sent, ${after.messages} taken, ${await sum()} of ${all} readings in chunks, ${after.repeated} repeated, ${after.refused} refused`, after.messages === sent + warm.sent && (await sum()) === all && after.refused === 0);
  say('message to commit, ms', `p50 ${quantile(sorted, 0.5)}, p95 ${quantile(sorted, 0.95)}, p99 ${quantile(sorted, 0.99)}, most ${sorted.at(-1)} (aim p99 ${AIM.p99})`, quantile(sorted, 0.99) <= AIM.p99);
  say('messages that waited, most', `${mostQueued} (bound ${AIM.queued})`, mostQueued <= AIM.queued);
  say('subgroups judged as they came', `${after.subgroups - before.subgroups} (${judged} by limits in all)`, judged > 0);
  say('bytes on disk a reading, with indexes, subgroups, checks and audit', `${(grown / all).toFixed(2)} (aim ${AIM.bytes}); chunks alone ${((await chunks()) / all).toFixed(2)}; the journal, which is used again, held ${(journalBytes / 1e6).toFixed(0)} MB at the end`, grown / all <= AIM.bytes);
  monitors.send({ stop: true });
  await app.close();
  await work.close();
}

async function state(): Promise<{ state: string; messages: number; subgroups: number; repeated: number; refused: number }> {
  const { rows: [row] } = await sql.query<Record<string, string>>('SELECT state, messages, subgroups, repeated, refused FROM feed_state');
  return { state: row?.['state'] ?? '', messages: Number(row?.['messages']), subgroups: Number(row?.['subgroups']), repeated: Number(row?.['repeated']), refused: Number(row?.['refused']) };
}
async function number(query: string): Promise<number> { return Number((await sql.query<{ value: string }>(query)).rows[0]?.value ?? 0); }
function sum() { return number('SELECT sum(n) AS value FROM body_chunk'); }
function chunks() { return number("SELECT sum(pg_total_relation_size(inhrelid)) AS value FROM pg_inherits WHERE inhparent = 'body_chunk'::regclass"); }
function journal() { return number("SELECT pg_total_relation_size('feed_journal') AS value"); }
async function size() { return (await chunks()) + await number(`SELECT ${TABLES.slice(1).map((table) => `pg_total_relation_size('${table}')`).join(' + ')} AS value`); }

function heard<Answer>(child: ChildProcess, pick: (said: Said) => Answer | null): Promise<Answer> {
  return new Promise((resolve) => {
    const hear = (said: Said) => {
      const answer = pick(said);
      if (answer === null) return;
      child.off('message', hear);
      resolve(answer);
    };
    child.on('message', hear);
  });
}
function ordered(child: ChildProcess, order: Order): Promise<{ sent: number; behind: number }> {
  const answer = heard(child, (said) => ('sent' in said ? said : null));
  child.send(order);
  return answer;
}
async function until(holds: () => Promise<boolean>, patience = 30_000): Promise<void> {
  const end = performance.now() + patience;
  while (!(await holds())) {
    if (performance.now() > end) throw new Error(`waited ${patience / 1000} s in vain for: ${holds}`);
    await new Promise((resolve) => { setTimeout(resolve, 100); });
  }
}
