import { readFileSync } from 'node:fs';
import { parse } from 'csv-parse/sync';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { getImport, getRefusedRows, type ImportView, lookAtImport, type Layout, type Mapping, previewImport, startImport, undoImport } from '#contract/ingest';
import { insertDemoMaster } from '../../apps/api/src/flows/demo/demo-master.store.js';
import { seedPlant } from '../../seed/plant.js';
import { startApi, type TestApi } from '../db/api.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';

type FileLook = { import: ImportView; layout: Layout; mapping: Mapping; remembered: boolean; header: string[]; sample: string[][] };
let database: TestDatabase;
let api: TestApi;
let plantId: number;
beforeAll(async () => {
  database = await freshDatabase();
  plantId = (await database.work.run((tx) => insertDemoMaster(tx, seedPlant, 'no password fits', new Date('2023-01-01T00:00:00Z'), new Date('2026-01-01T00:00:00Z')))).plantId;
  api = await startApi(database);
});
afterAll(async () => { await api.close(); await database.close(); });

const example = (name: string) => readFileSync(new URL(`../../seed/examples/${name}`, import.meta.url));

async function upload(name: string, content: Uint8Array | string): Promise<{ status: number; body: FileLook; code: string }> {
  const edge = 'edge-of-the-parts';
  const payload = Buffer.concat([Buffer.from(`--${edge}\r\ncontent-disposition: form-data; name="file"; filename="${name}"\r\ncontent-type: text/csv\r\n\r\n`), Buffer.from(content), Buffer.from(`\r\n--${edge}--\r\n`)]);
  const reply = await api.as('technician').raw({ method: 'POST', url: '/api/imports', payload, headers: { 'content-type': `multipart/form-data; boundary=${edge}` } });
  return { status: reply.status, body: reply.body as FileLook, code: reply.problem.code };
}
async function bring(look: FileLook, change: Partial<{ layout: Layout; mapping: Mapping }> = {}): Promise<ImportView> {
  const asked = { layout: look.layout, mapping: look.mapping, ...change };
  const started = await api.as('technician').call(startImport, { params: { id: look.import.id }, body: asked });
  expect(started.status, JSON.stringify(started.body)).toBe(202);
  for (let wait = 0; wait < 400; wait += 1) {
    const { body } = await api.as('technician').call(getImport, { params: { id: look.import.id } });
    if (body.state !== 'running') return body;
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
  throw new Error('the import did not end in 20 s');
}
const stored = async () => (await database.work.client.$queryRaw<{ n: number }[]>`SELECT coalesce(sum(r), 0)::int AS n FROM (SELECT (SELECT count(x) FROM unnest(readings) AS x) AS r FROM subgroup WHERE plant_id = ${plantId} AND formula IS NULL) AS t`)[0]?.n;

it('understands a long file in Windows-1252 with decimal commas, stores it once, and derives overlap from it', async () => {
  const { status, body: look } = await upload('seam-teardown-long.csv', example('seam-teardown-long.csv'));
  expect(status).toBe(201);
  expect(look.layout).toEqual({ encoding: 'windows-1252', separator: ';', decimal: ',', dateOrder: 'day-month-year', timeZone: 'Europe/Lisbon' });
  expect(look.header).toContain('Prüfer');
  expect(look.mapping.columns.map((column) => column.field)).toEqual(['takenAt', 'machine', 'product', 'unit', 'can', 'position', 'characteristic', 'value', 'unitOfMeasure', 'inspector', 'note']);
  const preview = await api.as('technician').call(previewImport, { params: { id: look.import.id }, body: { layout: look.layout, mapping: look.mapping } });
  expect(preview.body).toMatchObject({ rows: 360, readings: 360, toStore: 360, alreadyStored: 0, refusedRows: 0 });
  expect(await stored(), 'a preview stores nothing').toBe(0);
  expect(await bring(look)).toMatchObject({ state: 'done', stored: 360, refused: 0, hasRefusedRows: false });
  expect(await stored()).toBe(360);
  const derived = await database.work.client.subgroup.count({ where: { plantId, NOT: { formula: null } } });
  expect(derived).toBeGreaterThan(0);

  const again = await upload('the same under another name.csv', example('seam-teardown-long.csv'));
  expect(again.body.remembered).toBe(true);
  expect((await api.as('technician').call(previewImport, { params: { id: again.body.import.id }, body: again.body })).body).toMatchObject({ toStore: 0, alreadyStored: 360, refusedRows: 0 });
  expect(await bring(again.body)).toMatchObject({ state: 'done', stored: 0 });
  expect(await stored()).toBe(360);
});

it('understands a wide file with a column for each characteristic and position', async () => {
  const { body: look } = await upload('weld-wide.csv', example('weld-wide.csv'));
  expect(look.layout).toMatchObject({ encoding: 'utf-8', separator: ',', decimal: '.', dateOrder: 'year-month-day' });
  const readings = look.mapping.columns.filter((column) => column.field === 'reading');
  expect(readings.map((column) => [column.characteristic, column.position])).toEqual([['weld-overlap', 'front'], ['weld-overlap', 'middle'], ['weld-overlap', 'back'], ['weld-thickness', 'front'], ['weld-thickness', 'middle'], ['weld-thickness', 'back']]);
  const before = await stored() ?? 0;
  const done = await bring(look);
  expect(done).toMatchObject({ state: 'done', refused: 0, stored: 280 * 6 - 2 });
  expect(await stored()).toBe(before + 280 * 6 - 2);
  // Half A and half B have streams of their own: the lane is part of what the chart is of.
  const lanes = await database.work.client.stream.findMany({ where: { plantId, machine: { code: 'BM11' }, characteristic: { code: 'weld-overlap' } }, include: { lane: true } });
  expect(lanes.map((stream) => stream.lane?.code).sort()).toEqual(['A', 'B']);
});

it('stores the good rows of a tab file with US dates and gives the bad ones back with a reason each', async () => {
  const { body: look } = await upload('flange-tab.txt', example('flange-tab.txt'));
  expect(look.layout).toMatchObject({ encoding: 'utf-8', separator: '\t', dateOrder: 'month-day-year' });
  expect(look.mapping.columns.filter((column) => column.field === 'reading').map((column) => [column.characteristic, column.position])).toEqual([['flange-width', 'beside weld'], ['flange-width', '90°'], ['flange-width', '180°'], ['flange-width', '270°']]);
  const preview = await api.as('technician').call(previewImport, { params: { id: look.import.id }, body: { layout: look.layout, mapping: look.mapping } });
  expect(preview.body.refusedRows).toBe(3);
  expect(preview.body.reasons.map((entry) => entry.firstRow).sort((a, b) => a - b)).toEqual([41, 78, 121]);
  const done = await bring(look);
  // 168 rows of four: two rows are refused whole, of the third one reading.
  expect(done).toMatchObject({ state: 'done', refused: 3, stored: 166 * 4 - 1, hasRefusedRows: true });
  const file = await api.as('manager').call(getRefusedRows, { params: { id: look.import.id } });
  const lines = parse(file.text, { delimiter: '\t', bom: true }) as string[][];
  expect(lines[0]?.slice(0, 3)).toEqual(['row', 'reason', 'Date/Time']);
  expect(lines.slice(1).map((line) => line.slice(0, 2))).toEqual([
    ['41', 'unknown machine "FL9": the code or name of a machine of this plant expected'], ['78', expect.stringContaining('a number with decimal point expected, not "2.7O"')], ['121', expect.stringContaining('date in the future')],
  ]);
});

it('undoes an import as one act: readings, streams and signals are as before, the values stay readable, and the file can come again', async () => {
  const header = 'time,machine,product,head,can,point,body hook';
  const rows = (from: number, count: number, value: (index: number) => number) => Array.from({ length: count }, (_, index) => `2024-03-${String(1 + Math.floor((from + index) / 20)).padStart(2, '0')}T${String((from + index) % 20).padStart(2, '0')}:00,SM1,A65,H2,1,60°,${value(index).toFixed(2)}`);
  const steady = await upload('steady.csv', [header, ...rows(0, 30, (index) => 1.75 + 0.01 * ((index * 7) % 5 - 2))].join('\n'));
  expect(steady.body.mapping.columns.find((column) => column.field === 'reading')).toMatchObject({ characteristic: 'body-hook' });
  await bring(steady.body);
  const stream = await database.work.client.stream.findFirstOrThrow({ where: { plantId, machine: { code: 'SM1' }, characteristic: { code: 'body-hook' }, unit: { code: 'H2' } } });
  await database.work.client.limits.create({ data: { plantId, streamId: stream.id, kind: 'i-mr', centre: 1.75, sigma: 0.015, spreadCentre: 0.017, subgroups: 30, readings: 30, baselineFrom: new Date('2024-03-01'), baselineTo: new Date('2024-03-02'), effectiveFrom: new Date('2024-03-02T12:00:00Z'), authorId: (await database.work.client.user.findFirstOrThrow({ where: { role: 'engineer' } })).id, reason: 'test' } });
  const before = await stored();
  const shifted = await upload('shifted.csv', [header, ...rows(40, 12, () => 1.85)].join('\n'));
  expect(await bring(shifted.body)).toMatchObject({ state: 'done', stored: 12 });
  const open = () => database.work.client.signal.count({ where: { plantId, streamId: stream.id, NOT: { state: 'closed' } } });
  expect(await open()).toBeGreaterThan(0);
  const undone = await api.as('technician').call(undoImport, { params: { id: shifted.body.import.id }, body: { reason: 'wrong file' } });
  expect(undone).toMatchObject({ status: 200, body: { state: 'undone' } });
  expect(await stored()).toBe(before);
  expect(await open()).toBe(0);
  expect(await database.work.client.subgroupRevision.count({ where: { plantId, streamId: stream.id, reason: { contains: 'wrong file' } } })).toBe(12);
  const twice = await api.as('technician').call(undoImport, { params: { id: shifted.body.import.id }, body: { reason: 'once more' } });
  expect(twice.problem.code).toBe('wrong-state');
  const back = await upload('shifted.csv', [header, ...rows(40, 12, () => 1.85)].join('\n'));
  expect(await bring(back.body)).toMatchObject({ state: 'done', stored: 12 });
  expect(await open()).toBeGreaterThan(0);
});

it('refuses row by row: other unit, implausible value, another value for a stored place, a skipped hour, ragged rows', async () => {
  const header = 'time;machine;product;head;can;point;characteristic;value;unit';
  const row = (time: string, value: string, unit = 'mm', head = 'H3') => `${time};SM1;A65;${head};1;60°;Cover hook;${value};${unit}`;
  const first = await upload('a.csv', [header, row('2024-05-01 08:00', '1,65')].join('\n'));
  await bring(first.body);
  const { body: look } = await upload('b.csv', [header, row('2024-05-01 08:00', '1,66'), row('2024-05-01 09:00', '65', 'mm'), row('2024-05-01 10:00', '0,065', 'in'), row('2024-03-31 01:30', '1,65'), row('2024-05-01 11:00', '1,65', 'mm', 'H77'), 'too;short', row('2024-05-01 12:00', '1,64'), row('2024-05-01 12:00', '1,63')].join('\n'));
  const preview = await api.as('technician').call(previewImport, { params: { id: look.import.id }, body: { layout: look.layout, mapping: look.mapping } });
  const reasonOf = (line: number) => preview.body.sample.find((entry) => entry.row === line);
  expect(reasonOf(2)?.what).toMatch(/differs from what check \d+ holds at this place \(1.65\)/);
  expect(reasonOf(3)?.what).toMatch(/^Cover hook: implausible: .* mm expected, not 65/);
  expect(reasonOf(4)?.what).toContain('Cover hook: unit mismatch: kept in mm, the file says in, and no conversion is stated');
  expect(reasonOf(5)?.what).toContain('they skipped this hour');
  expect(reasonOf(6)?.what).toContain('unknown unit "H77": a unit of machine SM1 expected');
  expect(reasonOf(7)?.what).toContain('9 columns expected as in the header line, 2 found');
  expect(reasonOf(9)?.what).toContain('another value for the place that row 8 has already given');
  expect(preview.body.toStore).toBe(1);
});

it('says what a mapping lacks, takes text only, and never answers 500 to a file', async () => {
  const { body: look } = await upload('c.csv', 'a,b\n1,2\n');
  const lacking = await api.as('technician').call(previewImport, { params: { id: look.import.id }, body: { layout: look.layout, mapping: look.mapping } });
  expect([lacking.status, lacking.problem.code]).toEqual([400, 'invalid-input']);
  expect(lacking.problem.detail).toContain('a column for the machine');
  expect(await upload('picture.csv', Uint8Array.from([0x89, 0x50, 0, 1, 2]))).toMatchObject({ status: 422, code: 'not-readable' });
  expect(await upload('empty.csv', '')).toMatchObject({ status: 422, code: 'not-readable' });
  for (const content of ['"', 'a;b\n"x', ';;;\n;;;', 'a\tb\n\u0007\t"', `${'x,'.repeat(500)}\n`, 'time,value\n2024-02-30 10:00,1\n']) {
    const reply = await upload('odd.csv', content);
    expect(reply.status, JSON.stringify(content)).toBeLessThan(500);
    if (reply.status === 201) expect((await api.as('technician').call(lookAtImport, { params: { id: reply.body.import.id }, body: { layout: { ...reply.body.layout, separator: '\t' } } })).status).toBeLessThan(500);
  }
});
