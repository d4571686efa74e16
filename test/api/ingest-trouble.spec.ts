import { afterAll, beforeAll, expect, it } from 'vitest';
import { continueImport, getImport, getRefusedRows, listImports, startImport, stopImport, undoImport } from '#contract/ingest';
import { correctReading, recordCheck } from '#contract/inspections';
import { startApi, type TestApi } from '../db/api.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';
import { bringFile, ended, previewFile, uploadFile } from '../factories/bring-file.js';
import { makePlant, type TestPlant } from '../factories/plant.js';

let database: TestDatabase;
let api: TestApi;
let plant: TestPlant;
beforeAll(async () => {
  database = await freshDatabase();
  plant = await makePlant(database.work);
  api = await startApi(database);
});
afterAll(async () => { await api.close(); await database.close(); });

const HEADER = 'time,machine,product,head,can,point,characteristic,value,unit';
const line = (time: string, value: number | string, { machine = 'SE1', head = 'H1', can = '1', unit = 'mm', characteristic = 'Body hook' } = {}) => `${time},${machine},T65,${head},${can},1,${characteristic},${value},${unit}`;
const days = (from: string, count: number, value = 1.75) => Array.from({ length: count }, (_, index) => line(new Date(Date.parse(`${from}T00:00:00Z`) + index * 600_000).toISOString(), value));
const file = (...lines: string[]) => [HEADER, ...lines].join('\n');
const look = async (content: string | Uint8Array) => { const { status, body } = await uploadFile(api, 'file.csv', content); expect(status, JSON.stringify(body)).toBe(201); return body; };
const checksOf = (importId: number) => database.work.client.check.count({ where: { plantId: plant.plantId, importId, voidedAt: null } });

it('stops at a full disk with one clear line, keeps what it has stored, and goes on without storing anything twice', async () => {
  const brought = await look(file(...days('2024-01-01', 1000)));
  // Stands in for the disk: the database refuses as it does when the volume is full, from a moment inside the file on.
  await database.work.client.$executeRaw`
    CREATE FUNCTION full_disk() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN
      IF NEW.taken_at > '2024-01-04' THEN RAISE EXCEPTION 'could not extend file "base/1/1": No space left on device' USING ERRCODE = '53100'; END IF;
      RETURN NEW; END $$`;
  await database.work.client.$executeRaw`CREATE TRIGGER full_disk BEFORE INSERT ON subgroup FOR EACH ROW EXECUTE FUNCTION full_disk()`;
  const stopped = await bringFile(api, brought);
  expect(stopped, 'the first, small batches of 50, 50, 100 and 200').toMatchObject({ state: 'stopped', stored: 400, done: 400, rows: 1000 });
  expect(stopped.problem).toMatch(/^The disk of the database is full: free some space, then continue\. .*nothing is lost/);
  expect(stopped.problem).not.toContain('\n');
  expect(await checksOf(brought.import.id), 'what the screen says is what is stored').toBe(400);

  await database.work.client.$executeRaw`DROP TRIGGER full_disk ON subgroup`;
  expect((await api.as('technician').call(continueImport, { params: { id: brought.import.id }, body: {} })).status).toBe(202);
  expect(await ended(api, brought.import.id)).toMatchObject({ state: 'done', stored: 1000, problem: null, refused: 0 });
  expect(await checksOf(brought.import.id)).toBe(1000);
  expect((await api.as('technician').call(continueImport, { params: { id: brought.import.id }, body: {} })).problem.code).toBe('wrong-state');
});

it('says so, too, when the full disk refuses even the mark that the import was stopped', async () => {
  const brought = await look(file(...days('2024-02-01', 10)));
  await database.work.client.$executeRaw`
    CREATE FUNCTION no_space() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN RAISE EXCEPTION 'No space left on device' USING ERRCODE = '53100'; END $$`;
  await database.work.client.$executeRaw`CREATE TRIGGER no_space BEFORE INSERT ON subgroup FOR EACH ROW EXECUTE FUNCTION no_space()`;
  await database.work.client.$executeRaw`CREATE TRIGGER no_mark BEFORE UPDATE ON import FOR EACH ROW WHEN (NEW.state = 'stopped') EXECUTE FUNCTION no_space()`;
  expect(await bringFile(api, brought)).toMatchObject({ state: 'stopped', stored: 0, problem: expect.stringContaining('disk of the database is full') });
  expect((await api.as('manager').call(listImports, {})).body.find((row) => row.id === brought.import.id)).toMatchObject({ state: 'stopped' });
  await database.work.client.$executeRaw`DROP TRIGGER no_space ON subgroup`;
  await database.work.client.$executeRaw`DROP TRIGGER no_mark ON import`;
  expect((await api.as('technician').call(continueImport, { params: { id: brought.import.id }, body: {} })).status).toBe(202);
  expect(await ended(api, brought.import.id)).toMatchObject({ state: 'done', stored: 10 });
});

it('finds imports that a stopped server has left running, and continues them', async () => {
  const brought = await look(file(...days('2024-03-01', 20)));
  await database.work.client.import.update({ where: { plantId_id: { plantId: plant.plantId, id: brought.import.id } }, data: { state: 'running', mapping: { layout: brought.layout, mapping: brought.mapping } } });
  const second = await startApi(database);
  try {
    const { body } = await second.as('technician').call(getImport, { params: { id: brought.import.id } });
    expect(body).toMatchObject({ state: 'stopped', problem: expect.stringContaining('restarted: continue') });
    expect((await second.as('technician').call(continueImport, { params: { id: brought.import.id }, body: {} })).status).toBe(202);
    expect(await ended(second, brought.import.id)).toMatchObject({ state: 'done', stored: 20 });
  } finally {
    await second.close();
  }
});

it('is stopped by a person: what is stored stays counted, and continuing stores the rest', async () => {
  const brought = await look(file(...days('2024-04-01', 4000)));
  const params = { id: brought.import.id };
  expect((await api.as('technician').call(startImport, { params, body: { layout: brought.layout, mapping: brought.mapping } })).status).toBe(202);
  for (let wait = 0; wait < 200 && (await api.as('technician').call(getImport, { params })).body.done === 0; wait += 1) await new Promise((resolve) => setTimeout(resolve, 20));
  expect((await api.as('engineer').call(stopImport, { params, body: {} })).body).toMatchObject({ state: 'stopped' });
  const { body: stopped } = await api.as('technician').call(getImport, { params });
  expect([stopped.stoppedBy, stopped.problem]).toEqual(['Test engineer', null]);
  await new Promise((resolve) => setTimeout(resolve, 500));
  expect(await checksOf(params.id), 'no transaction that was under way adds to it').toBe(stopped.stored);
  expect(stopped.stored).toBeLessThan(4000);
  await api.as('technician').call(continueImport, { params, body: {} });
  expect(await ended(api, params.id)).toMatchObject({ state: 'done', stored: 4000 });
});

it('keeps umlauts of a Windows-1252 file in what it stores', async () => {
  const text = 'time;machine;product;head;characteristic;value;Prüfer;Bemerkung\n2024-05-01 08:00;SE1;T65;H1;Body hook;1,75;Möhlenkamp;Rolle für Naht geprüft\n';
  const bytes = Uint8Array.from([...text].map((letter) => letter.charCodeAt(0)));
  const brought = await look(bytes);
  expect(brought.layout).toMatchObject({ encoding: 'windows-1252', decimal: ',' });
  expect(await bringFile(api, brought)).toMatchObject({ state: 'done', stored: 1 });
  expect(await database.work.client.check.findFirst({ where: { plantId: plant.plantId, importId: brought.import.id } })).toMatchObject({ inspector: 'Möhlenkamp', note: 'Rolle für Naht geprüft' });
});

it('remembers the mapping for files with the same columns, but reads each file in its own characters', async () => {
  const header = 'time;machine;product;head;characteristic;result of today;who did it';
  const plain = await look(`${header}\n2024-05-02 08:00;SE1;T65;H1;Body hook;1,75;Brandt\n`);
  expect(plain.remembered).toBe(false);
  const mapping = { ...plain.mapping, columns: plain.mapping.columns.map((column) => (column.column === 'result of today' ? { ...column, field: 'value' as const } : column.column === 'who did it' ? { ...column, field: 'inspector' as const } : column)) };
  expect(await bringFile(api, plain, { mapping, layout: { ...plain.layout, timeZone: 'America/New_York' } })).toMatchObject({ stored: 1 });
  const western = await look(Uint8Array.from([...`${header}\n2024-05-02 09:00;SE1;T65;H1;Body hook;1,76;Müller\n`].map((letter) => letter.charCodeAt(0))));
  expect(western.remembered).toBe(true);
  expect(western.mapping).toEqual(mapping);
  expect(western.layout).toMatchObject({ encoding: 'windows-1252', timeZone: 'America/New_York', decimal: ',' });
  await bringFile(api, western);
  expect(await database.work.client.check.findFirst({ where: { plantId: plant.plantId, importId: western.import.id } })).toMatchObject({ inspector: 'Müller', takenAt: new Date('2024-05-02T13:00:00Z') });
});

it('takes refused rows back when they were put right, with the mapping that it knows', async () => {
  const brought = await look(file(line('2024-05-03 08:00', 1.75), line('2024-05-03 09:00', 17.5), line('2024-05-03 10:00', 'x'), line('2024-05-03 11:00', 1.75, { machine: 'SE9' })));
  expect(await bringFile(api, brought)).toMatchObject({ stored: 1, refused: 3 });
  const { text } = await api.as('manager').call(getRefusedRows, { params: { id: brought.import.id } });
  expect(text).toContain('Body hook: implausible: 0.8 to 3 mm expected, not 17.5 (1.75 would be possible: did the decimal slip?)');
  const right = await look(text.replace(',17.5,', ',1.75,').replace(',x,', ',1.74,'));
  expect([right.remembered, right.mapping.columns.slice(0, 3).map((column) => column.field)]).toEqual([true, ['ignore', 'ignore', 'takenAt']]);
  expect(await bringFile(api, right)).toMatchObject({ stored: 2, refused: 1 });
});

it('keeps several checks of one machine and moment apart by their number', async () => {
  const numbered = (number: string, value: number) => `2024-05-04 08:00,SE1,T65,H1,${number},Body hook,${value}`;
  const head = 'time,machine,product,head,check no,characteristic,value';
  const brought = await look([head, numbered('7', 1.75), numbered('8', 1.76)].join('\n'));
  expect(brought.mapping.columns[4]).toEqual({ column: 'check no', field: 'check' });
  expect(await bringFile(api, brought)).toMatchObject({ stored: 2, refused: 0 });
  expect(await checksOf(brought.import.id)).toBe(2);
  const again = await previewFile(api, await look([head, numbered('8', 1.76), numbered('7', 1.7), numbered('9', 1.76)].join('\n')));
  expect(again).toMatchObject({ alreadyStored: 1, toStore: 1, refusedRows: 1 });
  expect(again.of(3)?.what).toMatch(/^differs from what check \d+ holds at this place \(1\.75\)/);
});

it('stores an unknown unit of measure only with a stated conversion', async () => {
  const brought = await look(file(line('2024-05-05 08:00', 0.0689, { unit: 'in' })));
  expect((await previewFile(api, brought)).of(2)).toMatchObject({ verdict: 'refused', what: 'Body hook: unit mismatch: kept in mm, the file says in, and no conversion is stated' });
  expect(await bringFile(api, brought, { mapping: { ...brought.mapping, conversions: [{ from: 'inch', to: 'mm', factor: 25.4 }] } })).toMatchObject({ stored: 1 });
  const stored = await database.work.client.$queryRaw<{ mean: number }[]>`SELECT g.mean FROM subgroup g JOIN "check" c ON c.plant_id = g.plant_id AND c.id = g.check_id WHERE c.plant_id = ${plant.plantId} AND c.import_id = ${brought.import.id}`;
  expect(stored[0]?.mean).toBeCloseTo(1.75006, 10);
});

it('does not choose between two machines of one name', async () => {
  const second = await database.work.client.machine.findFirstOrThrow({ where: { plantId: plant.plantId, code: 'BM2' } });
  await database.work.client.machine.update({ where: { plantId_id: { plantId: plant.plantId, id: second.id } }, data: { name: 'Body maker 1' } });
  const brought = await look(file(line('2024-05-06 08:00', 0.42, { machine: 'Body maker 1', head: '', characteristic: 'Weld overlap' }), line('2024-05-06 08:00', 0.42, { machine: 'BM1', head: '', characteristic: 'Weld overlap' })));
  const preview = await previewFile(api, brought);
  expect(preview.of(2)?.what).toBe('machine: several are called "Body maker 1": the code of one expected');
  expect(preview.of(3)?.verdict).toBe('store');
});

it('knows readings that were entered by hand, and does not bring back one that a correction took out', async () => {
  const takenAt = '2024-05-07T08:00:00Z';
  const check = await api.as('technician').call(recordCheck, { body: { key: 'by-hand-2024-05-07', machineId: plant.machines.seamer, productId: plant.productId, takenAt, cans: [{ number: 1, unitId: plant.headIds[0] }, { number: 2, unitId: plant.headIds[0] }], positions: ['1'], characteristics: [{ code: 'body-hook', readings: [1.75, 1.76] }], confirmed: false } });
  const content = file(line(takenAt, 1.75), line(takenAt, 1.76, { can: '2' }));
  expect(await previewFile(api, await look(content))).toMatchObject({ alreadyStored: 2, toStore: 0, refusedRows: 0 });
  const corrected = await api.as('engineer').call(correctReading, { params: { id: check.body.checkId }, body: { characteristic: 'body-hook', can: 1, position: 0, value: null, was: 1.76, reason: 'the can was damaged at the stripping', confirmed: false } });
  expect(corrected.status, JSON.stringify(corrected.body)).toBe(201);
  const preview = await previewFile(api, await look(content));
  expect(preview).toMatchObject({ alreadyStored: 1, toStore: 0, refusedRows: 1 });
  expect(preview.of(3)?.what).toMatch(/^was taken out of check \d+ by a correction/);
});

it('asks which number is the month where the file does not say it', async () => {
  const open = await look(`${HEADER.replace('time', 'picked')}\n${line('02/06/2024 08:00', 1.75)}\n`);
  expect(open.undecided).toEqual(['dateOrder']);
  const preview = await previewFile(api, open, { layout: { ...open.layout, dateOrder: 'day-month-year' } });
  expect(preview.toStore).toBe(1);
});

it('shows refusals that are found after the whole file was read', async () => {
  const content = file(...days('2024-06-01', 150), line('2024-06-01T00:00:00Z', 1.7));
  const preview = await previewFile(api, await look(content));
  expect(preview.of(152)).toMatchObject({ verdict: 'refused', what: 'another value for the place that row 2 has already given', cells: expect.arrayContaining(['1.7']) });
});

it('refuses a zone that is none, more than a check may hold, files beyond 64 MB, and people who may only read', async () => {
  const brought = await look(file(line('2024-05-08 08:00', 1.75)));
  const zone = await api.as('technician').call(startImport, { params: { id: brought.import.id }, body: { layout: { ...brought.layout, timeZone: 'Europe/Nowhere' }, mapping: brought.mapping } });
  expect([zone.status, zone.problem.errors?.[0]]).toEqual([400, { field: 'layout.timeZone', expected: expect.stringContaining('a time zone such as Europe/Lisbon') }]);
  const lacking = await api.as('technician').call(startImport, { params: { id: brought.import.id }, body: { layout: brought.layout, mapping: { ...brought.mapping, columns: brought.mapping.columns.filter((column) => column.field !== 'value') } } });
  expect([lacking.status, lacking.problem.detail]).toEqual([400, expect.stringContaining('a column for the value')]);
  expect((await api.as('technician').call(getImport, { params: { id: brought.import.id } })).body.state, 'it can still be started').toBe('new');

  const many = await previewFile(api, await look(file(...Array.from({ length: 201 }, (_, can) => line('2024-05-08 09:00', 1.75, { can: String(can + 1) })))));
  expect(many).toMatchObject({ toStore: 0, refusedRows: 201 });
  expect(many.of(2)?.what).toContain('at most 200 cans');

  expect(await uploadFile(api, 'large.csv', new Uint8Array(64 * 1024 * 1024 + 1).fill(65))).toMatchObject({ status: 413, problem: { code: 'too-large' } });
  for (const role of ['operator', 'auditor', 'manager'] as const) expect((await uploadFile(api, 'file.csv', file(), role)).status, role).toBe(403);
});

it('undoes an import of which a person has corrected a reading since, and keeps both values readable', async () => {
  const brought = await look(file(line('2024-07-01 08:00', 1.75), line('2024-07-01 09:00', 1.76)));
  await bringFile(api, brought);
  const check = await database.work.client.check.findFirstOrThrow({ where: { plantId: plant.plantId, importId: brought.import.id }, orderBy: { takenAt: 'asc' } });
  expect((await api.as('engineer').call(correctReading, { params: { id: check.id }, body: { characteristic: 'body-hook', can: 0, position: 0, value: 1.74, was: 1.75, reason: 'misread', confirmed: false } })).status).toBe(201);
  expect((await api.as('technician').call(undoImport, { params: { id: brought.import.id }, body: { reason: 'wrong file' } })).body).toMatchObject({ state: 'undone' });
  expect(await checksOf(brought.import.id)).toBe(0);
  const kept = await database.work.client.$queryRaw<{ readings: number[] }[]>`SELECT to_jsonb(readings) AS readings FROM subgroup_revision WHERE plant_id = ${plant.plantId} AND check_id = ${check.id} ORDER BY revision`;
  expect(kept.map((row) => row.readings[0])).toEqual([1.75, 1.74]);
  const audit = await database.work.client.auditRow.findMany({ where: { plantId: plant.plantId, action: 'import.undone', subject: `import ${brought.import.id}` } });
  expect(audit).toHaveLength(1);
});
