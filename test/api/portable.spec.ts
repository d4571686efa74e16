import { createHash } from 'node:crypto';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { parse } from 'csv-parse/sync';
import { strFromU8, unzipSync, zipSync } from 'fflate';
import pg from 'pg';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { getChart, listStreams } from '#contract/specifications';
import { getCapability, listCapabilityChoices } from '#contract/studies';
import { loadDemoPlant } from '../../apps/api/src/flows/load-demo-plant.js';
import { verifyRecords } from '../../apps/api/src/flows/verify-records.js';
import { NEVER_SENT } from '../../apps/api/src/outgoing/never-sent.store.js';
import { announce } from '../../apps/api/src/platform/outbox.js';
import { exportEverything } from '../../apps/api/src/platform/portable/export-everything.js';
import { importEverything } from '../../apps/api/src/platform/portable/import-everything.js';
import { manifest as manifestShape } from '../../apps/api/src/platform/portable/manifest.js';
import { giveNewPasswords } from '../../apps/api/src/users/new-passwords.js';
import { startApi } from '../db/api.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';
import { makePlant } from '../factories/plant.js';

// The demo plant out and in again: the same rows in every table that the database has, the same answers, the same chain.
const NOW = new Date('2026-05-20T13:07:00Z');
const folder = mkdtempSync(path.join(tmpdir(), 'seamledger-portable-'));
const file = path.join(folder, 'everything.zip');
let [source, target]: TestDatabase[] = [];
let zip: Buffer;
let files: Record<string, Uint8Array>;

const bytesOf = async (url: string, plantId: number) => { const pieces: Buffer[] = []; for await (const piece of exportEverything(url, plantId, NOW)) pieces.push(piece); return Buffer.concat(pieces); };
const plantOf = async (database: TestDatabase) => (await database.work.client.plant.findFirstOrThrow()).id;
const from = () => source as TestDatabase;
const into = () => target as TestDatabase;

beforeAll(async () => {
  source = await freshDatabase();
  await loadDemoPlant(source.work, NOW, () => {});
  const plantId = await plantOf(source);
  const incident = await source.work.client.incident.findFirstOrThrow();
  await source.work.client.incidentPhoto.create({ data: { plantId, incidentId: incident.id, fileName: 'seam, "top".png', contentType: 'image/png', bytes: 5, sha256: 'x', content: Buffer.from([0, 255, 34, 44, 10]), addedBy: incident.loggedBy } });
  // A month of every-body readings: a part of a table that an empty installation does not have.
  await source.work.client.$queryRaw`SELECT make_body_month('2026-03-05T00:00:00Z'::timestamptz)`;
  const stream = await source.work.client.stream.findFirstOrThrow();
  await source.work.client.$executeRaw`INSERT INTO body_chunk (plant_id, stream_id, minute, part, n, mean, range, sd, low, high, first_count, last_count, offsets, readings) VALUES (${plantId}, ${stream.id}, '2026-03-05T10:00:00Z', 0, 2, 0.42, 0.02, 0.01, 0.41, 0.43, 7, 8, '{}', '{0.41,NULL,0.43}')`;
  zip = await bytesOf(source.url, plantId);
  writeFileSync(file, zip);
  files = unzipSync(zip);
  target = await freshDatabase();
  await importEverything(target.url, file, () => {});
}, 600_000);
afterAll(async () => { await source?.close(); await target?.close(); rmSync(folder, { recursive: true, force: true }); });

const NOT_THERE = ['_prisma_migrations', 'login_failure', 'outbox_row', 'session'];
async function tablesOf(url: string): Promise<{ name: string; rows: string[] }[]> {
  const client = new pg.Client({ connectionString: url });
  await client.connect();
  const { rows } = await client.query<{ name: string }>("SELECT c.relname AS name FROM pg_class c JOIN pg_namespace s ON s.oid = c.relnamespace WHERE s.nspname = 'public' AND c.relkind IN ('r', 'p') AND NOT c.relispartition ORDER BY 1");
  const tables = [];
  for (const { name } of rows) {
    const content = await client.query<{ row: string }>(name === 'user' ? `SELECT md5((to_jsonb(t) - 'password_hash')::text) AS row FROM "user" t ORDER BY 1` : `SELECT md5(t::text) AS row FROM "${name}" t ORDER BY 1`);
    tables.push({ name, rows: content.rows.map((row) => row.row) });
  }
  await client.end();
  return tables;
}

it('brings every row of every table that the database has', async () => {
  const [before, after] = [await tablesOf(from().url), await tablesOf(into().url)];
  expect(before.length).toBeGreaterThan(40);
  expect(before.find((table) => table.name === 'subgroup')?.rows.length).toBeGreaterThan(1000);
  for (const [index, table] of before.entries()) {
    if (NOT_THERE.includes(table.name)) continue;
    expect([table.name, after[index]?.rows.length]).toEqual([table.name, table.rows.length]);
    expect(after[index]?.rows, table.name).toEqual(table.rows);
  }
  expect(Object.keys(files).filter((name) => name.startsWith('tables/')).sort()).toEqual(before.filter((table) => !NOT_THERE.includes(table.name)).map((table) => `tables/${table.name}.csv`).sort());
}, 120_000);

it('answers the same charts and capability, and the audit trail and seals hold', async () => {
  const [apiBefore, apiAfter] = [await startApi(from()), await startApi(into())];
  const { streams } = (await apiBefore.as('engineer').call(listStreams, { query: {} })).body;
  expect(streams.length).toBeGreaterThan(50);
  expect((await apiAfter.as('engineer').call(listStreams, { query: {} })).body.streams).toEqual(streams);
  for (const stream of streams.filter((_, index) => index % 10 === 0)) {
    const asked = { params: { streamId: stream.id }, query: {} };
    expect((await apiAfter.as('engineer').call(getChart, asked)).body).toEqual((await apiBefore.as('engineer').call(getChart, asked)).body);
  }
  const { choices } = (await apiBefore.as('engineer').call(listCapabilityChoices, {})).body;
  let figures = 0;
  for (const choice of choices.filter((_, index) => index % 8 === 0)) {
    const asked = { query: { product: String(choice.product.id), machine: String(choice.machine.id), characteristic: String(choice.characteristic.id), from: '2026-04-20T00:00:00Z', to: '2026-05-20T00:00:00Z' } };
    const before = await apiBefore.as('engineer').call(getCapability, asked);
    if (before.status === 200 && before.body.streams.some((entry) => entry.figures?.ppk != null)) figures += 1;
    expect(await apiAfter.as('engineer').call(getCapability, asked).then(({ body }) => body)).toEqual(before.body);
  }
  expect(figures).toBeGreaterThan(2);
  const plantId = await plantOf(into());
  const [was, is] = [await verifyRecords(from().work.read, plantId), await verifyRecords(into().work.read, plantId)];
  expect(is).toEqual(was);
  expect([is.auditFaults, is.checkFaults, is.auditRows > 0, is.checks > 1000]).toEqual([[], [], true, true]);
  await apiBefore.close();
  await apiAfter.close();
}, 240_000);

it('says what each column means, in which unit, and states rows and SHA-256 of each file', () => {
  const stated = manifestShape.parse(JSON.parse(strFromU8(files['manifest.json'] as Uint8Array)));
  for (const entry of stated.files) {
    const content = files[entry.name] as Uint8Array;
    expect([entry.name, createHash('sha256').update(content).digest('hex'), content.length, parse(Buffer.from(content)).length - 1]).toEqual([entry.name, entry.sha256, entry.bytes, entry.rows]);
  }
  expect(stated.files.length).toBe(Object.keys(files).length - 1);
  expect(stated.withheld).toEqual(expect.arrayContaining(['user.password_hash']));
  const dictionary: Record<string, string>[] = parse(Buffer.from(files['dictionary.csv'] as Uint8Array), { columns: true });
  for (const [name, content] of Object.entries(files).filter(([name]) => name.startsWith('tables/'))) {
    const table = name.slice('tables/'.length, -'.csv'.length);
    expect(dictionary.filter((row) => row.table === table).map((row) => row.column), table).toEqual((parse(Buffer.from(content), { to: 1 }) as string[][])[0]);
  }
  expect(dictionary.filter((row) => !row.meaning || !row.what_the_table_holds).map((row) => `${row.table}.${row.column}`)).toEqual([]);
  expect(dictionary.find((row) => row.table === 'stretch' && row.column === 'shortest_seconds')).toMatchObject({ unit: 's', type: 'double precision' });
  expect(dictionary.find((row) => row.table === 'line' && row.column === 'clock_minutes')).toMatchObject({ unit: 'min', meaning: 'By how much the clocks of printer, log book and counters may differ, each way.' });
  expect(strFromU8(files['tables/user.csv'] as Uint8Array)).not.toContain('argon2');
});

it('goes on where the file ended: new rows get new numbers, triggers and references stand again', async () => {
  const db = into().work.client;
  const plantId = await plantOf(into());
  const highest = (await db.line.aggregate({ _max: { id: true } }))._max.id as number;
  expect((await db.line.create({ data: { plantId, code: 'AFTER', name: 'made after the import', position: 99 } })).id).toBe(highest + 1);
  await expect(db.$executeRaw`UPDATE audit_row SET actor = 'nobody'`).rejects.toThrow(/never changed/);
  await expect(db.machine.create({ data: { plantId, stepId: 999_999, code: 'NOWHERE', name: 'no step' } })).rejects.toThrow(/[Ff]oreign key/);
  const keys = (url: string) => { const client = new pg.Client({ connectionString: url }); return client.connect().then(() => client.query("SELECT conrelid::regclass::text AS t, conname, pg_get_constraintdef(oid) AS d, convalidated FROM pg_constraint WHERE connamespace = 'public'::regnamespace ORDER BY 1, 2")).then(({ rows }) => rows).finally(() => client.end()); };
  expect(await keys(into().url)).toEqual(await keys(from().url));
});

it('gives administrators a new password and says so once', async () => {
  const told: string[] = [];
  expect(await giveNewPasswords(into().work, (login) => { told.push(login); return 'a password for the test'; })).toBe(true);
  expect(told.length).toBeGreaterThan(0);
  expect(await into().work.client.user.count({ where: { OR: [{ passwordHash: '' }, { demoPassword: true }] } })).toBe(0);
  expect(await giveNewPasswords(into().work, () => 'never asked')).toBe(false);
}, 60_000);

it('refuses what is not whole, and keeps nothing of it', async () => {
  const empty = await freshDatabase();
  const refused = async (name: string, content: Uint8Array | Buffer) => { const broken = path.join(folder, name); writeFileSync(broken, content); return importEverything(empty.url, broken, () => {}).then(() => 'taken', (error: Error) => error.message); };
  const changed = (name: string, change: (text: string) => string) => zipSync({ ...files, [name]: Buffer.from(change(strFromU8(files[name] as Uint8Array))) }, { level: 1 });
  expect(await refused('cut.zip', zip.subarray(0, zip.length - 100))).toMatch(/no whole ZIP file|was cut off/);
  expect(await refused('text.zip', Buffer.from('not a zip'))).toContain('no whole ZIP file');
  expect(await refused('value.zip', changed('tables/line.csv', (text) => text.replace('Line', 'Lime')))).toContain('tables/line.csv is not what was exported');
  expect(await refused('row.zip', changed('tables/gauge.csv', (text) => text.split('\r\n').slice(0, -2).join('\r\n').concat('\r\n')))).toMatch(/gauge\.csv is not what was exported: needs \d+ rows/);
  expect(await refused('type.zip', changed('tables/line.csv', (text) => text.replace(/\r\n\d+,/, '\r\nseven,')))).toMatch(/tables\/line\.csv, rows 1 to \d+: invalid input syntax for type integer: "seven"/);
  expect(await refused('column.zip', changed('tables/line.csv', (text) => text.replace('plant_id', 'plant')))).toContain('tables/line.csv: needs the columns plant_id, id');
  expect(await refused('newer.zip', changed('manifest.json', (text) => text.replace('0001_spine', '0001_other')))).toContain('migration "0001_other" is on one side only');
  expect(await refused('format.zip', changed('manifest.json', (text) => text.replace('"format": 1', '"format": 7')))).toContain('format 1');
  expect((await tablesOf(empty.url)).filter((table) => table.name !== '_prisma_migrations' && table.rows.length > 0)).toEqual([]);
  await empty.close();
  await expect(importEverything(into().url, file, () => {})).rejects.toThrow('this installation is not empty');
}, 240_000);

it('sends nothing again that was on its way: neither messages of the outbox, nor webhooks, mails and notices that waited', async () => {
  const [before, after] = [await freshDatabase(), await freshDatabase()];
  const { plantId, users } = await makePlant(before.work);
  const db = before.work.client;
  const at = new Date('2026-05-20T10:00:00Z');
  await before.work.run((tx) => announce(tx, plantId, [{ kind: 'webhook.deliver', payload: { deliveryId: 1 } }, { kind: 'stream.changed', payload: { streamId: 1 } }]));
  const webhook = await db.webhook.create({ data: { plantId, name: 'board', url: 'https://board.invalid/in', secret: 'of-the-source', kinds: ['signal.raised'], madeBy: users.administrator, madeAt: at } });
  const delivery = (eventKey: string, state: string) => db.webhookDelivery.create({ data: { plantId, webhookId: webhook.id, eventKey, kind: 'signal.raised', body: '{}', state, madeAt: at } });
  await delivery('one', 'waiting');
  await delivery('two', 'delivered');
  const mail = (state: string) => db.mail.create({ data: { plantId, userId: users.engineer, address: 'engineer@plant.invalid', subject: 'Signals', body: 'three', state, madeAt: at } });
  await mail('waiting');
  const sent = await mail('sent');
  for (const [eventKey, mailId] of [['three', null], ['four', sent.id]] as const) await db.notice.create({ data: { plantId, userId: users.engineer, eventKey, topic: 'stream 1', text: 'a signal', path: '/signals/1', at, mailId } });

  const content = await bytesOf(before.url, plantId);
  const stated = manifestShape.parse(JSON.parse(strFromU8(unzipSync(content)['manifest.json'] as Uint8Array)));
  expect([stated.leftOut, Object.keys(unzipSync(content)).includes('tables/outbox_row.csv')]).toEqual([[{ table: 'outbox_row', rows: 2 }], false]);
  const waited = path.join(folder, 'waited.zip');
  writeFileSync(waited, content);
  await importEverything(after.url, waited, () => {}, NEVER_SENT);
  const here = after.work.client;
  expect(await here.outboxRow.count()).toBe(0);
  expect((await here.webhookDelivery.findMany({ orderBy: { eventKey: 'asc' } })).map(({ eventKey, state }) => [eventKey, state])).toEqual([['one', 'failed'], ['two', 'delivered']]);
  expect((await here.mail.findMany({ orderBy: { id: 'asc' } })).map(({ state }) => state)).toEqual(['dropped', 'sent']);
  expect((await here.notice.findMany()).map(({ eventKey }) => eventKey)).toEqual(['four']);
  await before.close();
  await after.close();
}, 60_000);

it('leaves another plant of the same database out', async () => {
  const both = await freshDatabase();
  await makePlant(both.work);
  const second = await makePlant(both.work);
  const one = unzipSync(await bytesOf(both.url, second.plantId));
  for (const [name, content] of Object.entries(one).filter(([name]) => name.startsWith('tables/') && name !== 'tables/plant.csv')) {
    expect((parse(Buffer.from(content), { columns: true }) as Record<string, string>[]).filter((row) => row.plant_id !== String(second.plantId)), name).toEqual([]);
  }
  expect((parse(Buffer.from(one['tables/plant.csv'] as Uint8Array), { columns: true }) as { id: string }[]).map((row) => row.id)).toEqual([String(second.plantId)]);
  expect(parse(Buffer.from(one['tables/line.csv'] as Uint8Array), { columns: true })).toHaveLength(1);
  const api = await startApi(both);
  const reply = await api.as('administrator').raw({ method: 'GET', url: '/api/export' });
  expect([reply.status, reply.headers['content-type']]).toEqual([200, 'application/zip']);
  expect(await both.work.client.auditRow.count({ where: { action: 'everything.exported' } })).toBe(1);
  await api.close();
  await both.close();
}, 60_000);
