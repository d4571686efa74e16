import { existsSync, mkdtempSync, readdirSync, readFileSync, renameSync, rmSync, utimesSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, beforeEach, expect, it } from 'vitest';
import writeXlsx from 'write-excel-file/node';
import { getImport, listImports, stopImport } from '#contract/ingest';
import { InboxWorker } from '../../apps/api/src/ingest/inbox.worker.js';
import { startApi, type TestApi } from '../db/api.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';
import { bringFile, previewFile, uploadFile } from '../factories/bring-file.js';
import { makePlant, type TestPlant } from '../factories/plant.js';

let database: TestDatabase;
let api: TestApi;
let plant: TestPlant;
let folder: string;
beforeAll(async () => {
  database = await freshDatabase();
  plant = await makePlant(database.work);
  api = await startApi(database);
  folder = mkdtempSync(path.join(tmpdir(), 'seamledger-inbox-'));
  await inbox().watch(folder);
});
afterAll(async () => { await api.close(); await database.close(); rmSync(folder, { recursive: true }); });
beforeEach(() => { for (const where of ['', 'done', 'waiting']) for (const name of readdirSync(path.join(folder, where), { withFileTypes: true })) if (name.isFile()) rmSync(path.join(folder, where, name.name)); });

const inbox = (of: TestApi = api) => of.app.get(InboxWorker);
const drop = (name: string, content: string | Buffer) => writeFileSync(path.join(folder, name), content);
const names = (where = '') => readdirSync(path.join(folder, where), { withFileTypes: true }).filter((entry) => entry.isFile()).map(({ name }) => name).sort();
const text = (name: string) => readFileSync(path.join(folder, name), 'utf8');
/** Files are taken at the second look at which they have not changed. */
const twoLooks = async (of: TestApi = api) => (await inbox(of).look()) + (await inbox(of).look());
const rows = (day: string, values: readonly string[], header = 'Time,Machine,Product,Can,Position,Weld overlap') => `${header}\n${values.map((value, index) => `2026-03-${day}T08:${String(index).padStart(2, '0')}:00Z,BM1,T65,1,front,${value}`).join('\n')}\n`;
const importOf = async (name: string) => (await api.as('engineer').call(listImports, {})).body.filter(({ fileName }) => fileName === name);
const storedOn = (day: string) => database.work.client.check.count({ where: { plantId: plant.plantId, takenAt: { gte: new Date(`2026-03-${day}T00:00:00Z`), lt: new Date(`2026-03-${day}T23:59:59Z`) } } });

it('sets a file with unknown columns aside, with a text that says how to map it', async () => {
  drop('unknown.csv', rows('01', ['0.41']));
  expect(await inbox().look(), 'it may still be growing').toBe(0);
  expect(await inbox().look()).toBe(1);
  expect([names(), names('done'), names('waiting')]).toEqual([[], [], ['unknown.csv', 'unknown.csv.how.txt']]);
  expect(text('waiting/unknown.csv.how.txt')).toContain('No file with these columns was imported yet: Time, Machine, Product, Can, Position, Weld overlap.');
  expect(await storedOn('01')).toBe(0);
});

it('imports a file by the mapping that a person made, in the name of the folder, and sets the refused rows beside it', async () => {
  const look = (await uploadFile(api, 'by hand.csv', rows('01', ['0.41', '0.42']))).body;
  expect((await previewFile(api, look)).toStore).toBe(2);
  await bringFile(api, look);
  drop('shift.csv', rows('02', ['0.41', '4.2', '0.43', 'n/a']));
  expect(await twoLooks()).toBe(1);
  expect([names(), names('done'), names('waiting')]).toEqual([[], ['shift.csv', 'shift.csv.refused.csv'], []]);
  const [brought] = await importOf('shift.csv');
  expect(brought).toMatchObject({ state: 'done', startedBy: 'Watched folder', stored: 2, refused: 2 });
  const refused = text('done/shift.csv.refused.csv').split('\r\n');
  expect(refused[0]).toBe('\uFEFFrow,reason,Time,Machine,Product,Can,Position,Weld overlap');
  expect(refused[1]).toMatch(/^3,.*implausible.*4\.2/);
  expect(refused[2]).toMatch(/^5,.*a number/);
  const check = await database.work.client.check.findFirst({ where: { importId: brought?.id ?? 0 } });
  expect(check).toMatchObject({ enteredBy: null, feed: 'Watched folder', source: 'import' });
  drop('shift.csv', rows('02', ['0.41', '0.42']));
  expect(await twoLooks()).toBe(1);
  expect(names('done')).toEqual(['shift (2).csv', 'shift.csv', 'shift.csv.refused.csv']);
  expect(await storedOn('02')).toBe(3);
});

it('leaves no text that says a file waits, once it was moved back and imported', async () => {
  for (const name of ['late.csv', 'other.csv']) drop(name, rows('12', ['0.41'], 'Time,Machine,Product,Can,Position,Weld overlap,Shift').replace(',0.41', ',0.41,early'));
  expect(await twoLooks()).toBe(2);
  expect(names('waiting')).toEqual(['late.csv', 'late.csv.how.txt', 'other.csv', 'other.csv.how.txt']);
  await bringFile(api, (await uploadFile(api, 'by hand.csv', readFileSync(path.join(folder, 'waiting', 'late.csv'), 'utf8'))).body);
  renameSync(path.join(folder, 'waiting', 'late.csv'), path.join(folder, 'late.csv'));
  expect(await twoLooks()).toBe(1);
  expect([names('done'), names('waiting')]).toEqual([['late.csv'], ['other.csv', 'other.csv.how.txt']]);
  drop('other.csv', rows('12', ['0.41']));
  expect(await twoLooks()).toBe(1);
  expect([names('done'), names('waiting')], 'another file of that name still waits').toEqual([['late.csv', 'other.csv'], ['other.csv', 'other.csv.how.txt']]);
});

it('takes an XLSX file, in the folder and by upload, and says of a broken one that it is broken', async () => {
  const line = (minute: number, value: number) => [{ type: Date, value: new Date(Date.UTC(2026, 2, 3, 8, minute, 2)), format: 'yyyy-mm-dd hh:mm:ss' } as const, 'BM1', 'T65', 1, 'front', value];
  const header = ['Time', 'Machine', 'Product', 'Can', 'Position', 'Weld overlap'];
  const sheet = await writeXlsx([header, line(1, 0.41), line(2, 0.42)]).toBuffer();
  const look = (await uploadFile(api, 'book.xlsx', sheet)).body;
  expect(look).toMatchObject({ header, remembered: true, sample: [['2026-03-03 08:01:02', 'BM1', 'T65', '1', 'front', '0.41'], ['2026-03-03 08:02:02', 'BM1', 'T65', '1', 'front', '0.42']] });
  drop('book.xlsx', sheet);
  drop('broken.xlsx', sheet.subarray(0, 900));
  drop('whole.part', sheet);
  expect(await twoLooks()).toBe(2);
  expect([names(), names('done'), names('waiting')]).toEqual([['whole.part'], ['book.xlsx'], ['broken.xlsx', 'broken.xlsx.how.txt']]);
  expect(text('waiting/broken.xlsx.how.txt')).toContain('not a whole XLSX file');
  expect(await storedOn('03')).toBe(2);
  expect((await uploadFile(api, 'broken.xlsx', sheet.subarray(0, 900))).problem.code).toBe('not-readable');
});

it('waits for a file that still grows', async () => {
  drop('growing.csv', rows('04', ['0.41']));
  await inbox().look();
  drop('growing.csv', rows('04', ['0.41', '0.42']));
  utimesSync(path.join(folder, 'growing.csv'), new Date(), new Date(Date.now() + 1000));
  expect(await inbox().look()).toBe(0);
  expect(await inbox().look()).toBe(1);
  expect(await storedOn('04')).toBe(2);
});

it('takes the files after one that cannot be set aside', async () => {
  // The text beside it would have a longer name than file systems allow.
  const stuck = `a${'x'.repeat(246)}.csv`;
  drop(stuck, rows('09', ['0.41'], 'Time,Machine,Product,Can,Position,Another weld overlap'));
  drop('b.csv', rows('09', ['0.41', '0.42']));
  expect(await twoLooks()).toBe(1);
  expect([names(), names('done'), names('waiting')]).toEqual([[stuck], ['b.csv'], []]);
  expect(await storedOn('09')).toBe(2);
});

it('sets a file aside whose import fails each time, and keeps trying one while the database is away', async () => {
  drop('doomed.csv', rows('10', ['0.41', '0.42']));
  // A rule of the database that this file breaks, as a fault of the program would.
  await database.work.client.$executeRaw`ALTER TABLE "check" ADD CONSTRAINT no_tenth CHECK (taken_at < '2026-03-10T00:00:00Z' OR taken_at > '2026-03-11T00:00:00Z') NOT VALID`;
  let looks = 0;
  for (; looks < 12 && existsSync(path.join(folder, 'doomed.csv')); looks += 1) await inbox().look();
  await database.work.client.$executeRaw`ALTER TABLE "check" DROP CONSTRAINT no_tenth`;
  expect(looks, 'one look to settle, three tries').toBe(4);
  expect(names('waiting')).toEqual(['doomed.csv', 'doomed.csv.how.txt']);
  const [failed] = await importOf('doomed.csv');
  expect(failed?.state).toBe('stopped');
  expect(text('waiting/doomed.csv.how.txt')).toContain(`Import ${failed?.id} of it was tried 3 times and stopped each time: Something went wrong on our side`);
  drop('doomed.csv', rows('10', ['0.41', '0.42']));
  expect(await twoLooks()).toBe(1);
  expect(names('done'), 'brought again once the fault is mended, it goes on').toEqual(['doomed.csv']);
  expect(await storedOn('10')).toBe(2);
});

it('does not count tries while the disk of the database is full against a file that fails once afterwards', async () => {
  const fail = (code: string) => database.work.client.$executeRawUnsafe(`CREATE OR REPLACE FUNCTION refuse_eleventh() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN IF NEW.taken_at::date = '2026-03-11' THEN RAISE EXCEPTION 'as a test wants it' USING ERRCODE = '${code}'; END IF; RETURN NEW; END $$`);
  await fail('53100');
  await database.work.client.$executeRaw`CREATE TRIGGER refuse_eleventh BEFORE INSERT ON "check" FOR EACH ROW EXECUTE FUNCTION refuse_eleventh()`;
  drop('unlucky.csv', rows('11', ['0.41', '0.42']));
  for (let looks = 0; looks < 3; looks += 1) await inbox().look();
  const problemOf = async () => (await importOf('unlucky.csv'))[0]?.problem ?? '';
  expect(await problemOf()).toMatch(/^The disk of the database is full/);
  await fail('P0001');
  await inbox().look();
  expect(await problemOf()).toMatch(/^Something went wrong on our side/);
  expect([names(), names('waiting')]).toEqual([['unlucky.csv'], []]);
  await database.work.client.$executeRaw`DROP TRIGGER refuse_eleventh ON "check"`;
  for (let looks = 0; looks < 4 && names().length > 0; looks += 1) await inbox().look();
  expect(names('done')).toEqual(['unlucky.csv']);
  expect(await storedOn('11')).toBe(2);
});

it('continues after a crash between storing and moving, and stores nothing twice', async () => {
  const content = rows('05', ['0.41', '0.42', '0.43']);
  drop('crash.csv', content);
  expect(await twoLooks()).toBe(1);
  const [first] = await importOf('crash.csv');
  // As a killed process leaves it: the readings are stored, the import still says "running", the file was not moved.
  await database.work.client.import.updateMany({ where: { id: first?.id ?? 0 }, data: { state: 'running', finishedAt: null, done: 1 } });
  rmSync(path.join(folder, 'done', 'crash.csv'));
  drop('crash.csv', content);
  expect(await twoLooks()).toBe(1);
  expect(names('done')).toEqual(['crash.csv']);
  expect(await importOf('crash.csv')).toHaveLength(1);
  expect((await api.as('engineer').call(getImport, { params: { id: first?.id ?? 0 } })).body.state).toBe('done');
  expect(await storedOn('05')).toBe(3);
});

it('lets one process take a file while another watches the same folder, and the other one after its end', async () => {
  const other = await startApi(database);
  await inbox(other).watch(folder);
  drop('contended.csv', rows('06', ['0.41', '0.42']));
  const counts = await Promise.all([twoLooks(), twoLooks(other)]);
  expect(counts).toEqual([1, 0]);
  expect(await importOf('contended.csv')).toHaveLength(1);
  await inbox().onApplicationShutdown();
  drop('after.csv', rows('07', ['0.41']));
  for (let wait = 0; wait < 100 && existsSync(path.join(folder, 'after.csv')); wait += 1) await inbox(other).look();
  expect(names('done')).toContain('after.csv');
  await other.close();
});

it('sets aside the file of an import that a person stopped, and does not go on by itself', async () => {
  const other = await startApi(database);
  await inbox(other).watch(folder);
  const content = rows('08', ['0.41', '4.1']);
  drop('stopped.csv', content);
  for (let wait = 0; wait < 100 && existsSync(path.join(folder, 'stopped.csv')); wait += 1) await inbox(other).look();
  const [brought] = await importOf('stopped.csv');
  // As it is when the person was faster than the last row.
  await database.work.client.import.updateMany({ where: { id: brought?.id ?? 0 }, data: { state: 'running' } });
  expect((await other.as('engineer').call(stopImport, { params: { id: brought?.id ?? 0 }, body: {} })).body).toMatchObject({ state: 'stopped', stoppedBy: 'Test engineer', hasRefusedRows: true });
  drop('stopped.csv', content);
  expect(await twoLooks(other)).toBe(1);
  expect(names('waiting')).toEqual(['stopped.csv', 'stopped.csv.how.txt']);
  expect(text('waiting/stopped.csv.how.txt')).toContain(`Test engineer stopped import ${brought?.id} of it`);
  expect((await importOf('stopped.csv')).map(({ state }) => state)).toEqual(['stopped']);
  await other.close();
});
