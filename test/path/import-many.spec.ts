import { afterAll, beforeAll, expect, it } from 'vitest';
import { getImport, type ImportView, type Layout, type Mapping, previewImport, startImport, undoImport } from '#contract/ingest';
import { insertDemoMaster } from '../../apps/api/src/flows/demo/demo-master.store.js';
import { seedPlant } from '../../seed/plant.js';
import { startApi, type TestApi } from '../db/api.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';

// One reading a row: 13,334 teardowns of five characteristics at three points, 200,010 readings on eight heads.
const CHECKS = 13_334;
const READINGS = CHECKS * 15;
/** A bound against hanging, not a measure of speed. */
const MOST_POLLS = 1500;
const POINTS = ['60°', '180°', '300°'];
const MEASURES = [['Body hook', 1.75], ['Cover hook', 1.7], ['Seam length', 2.6], ['Seam thickness', 1], ['Countersink', 2.7]] as const;
let database: TestDatabase;
let api: TestApi;
beforeAll(async () => {
  database = await freshDatabase();
  await database.work.run((tx) => insertDemoMaster(tx, seedPlant, 'no password fits', new Date('2023-01-01T00:00:00Z'), new Date('2026-01-01T00:00:00Z')));
  api = await startApi(database);
});
afterAll(async () => { await api.close(); await database.close(); });

const technician = () => api.as('technician');

function bigFile(): string {
  const lines = ['time;machine;product;head;can;point;characteristic;value;unit'];
  for (let check = 0; check < CHECKS; check += 1) {
    const at = new Date(Date.UTC(2023, 0, 2) + check * 40 * 60_000).toISOString();
    for (const [place, [name, centre]] of MEASURES.entries()) for (const [turn, point] of POINTS.entries()) lines.push(`${at};SM1;A65;H${1 + (check % 8)};1;${point};${name};${(centre + 0.05 * Math.sin(check * 7.3 + place * 1.7 + turn)).toFixed(3)};mm`);
  }
  return lines.join('\n');
}

async function upload(content: string): Promise<{ import: ImportView; layout: Layout; mapping: Mapping }> {
  const edge = 'edge-of-the-parts';
  const reply = await technician().raw({ method: 'POST', url: '/api/imports', headers: { 'content-type': `multipart/form-data; boundary=${edge}` }, payload: Buffer.from(`--${edge}\r\ncontent-disposition: form-data; name="file"; filename="many.csv"\r\ncontent-type: text/csv\r\n\r\n${content}\r\n--${edge}--\r\n`) });
  expect(reply.status).toBe(201);
  return reply.body as { import: ImportView; layout: Layout; mapping: Mapping };
}

it('imports 200,000 readings with visible progress, nothing twice, and takes them back as one act', { timeout: 400_000 }, async () => {
  const look = await upload(bigFile());
  const asked = { params: { id: look.import.id }, body: { layout: look.layout, mapping: look.mapping } };
  expect((await technician().call(previewImport, asked)).body).toMatchObject({ rows: READINGS, toStore: READINGS, checks: CHECKS, refusedRows: 0 });
  let polls = 0;
  expect((await technician().call(startImport, asked)).status).toBe(202);
  const seen = new Set<number>();
  let view: ImportView;
  do {
    await new Promise((resolve) => setTimeout(resolve, 200));
    view = (await technician().call(getImport, { params: { id: look.import.id } })).body;
    seen.add(view.done);
    polls += 1;
  } while (view.state === 'running' && polls < MOST_POLLS);
  expect(view, view.problem ?? '').toMatchObject({ state: 'done', stored: READINGS, done: CHECKS, rows: CHECKS, refused: 0 });
  expect(seen.size, 'progress is seen on the way').toBeGreaterThan(3);

  const again = await upload(bigFile());
  expect((await technician().call(previewImport, { params: { id: again.import.id }, body: asked.body })).body).toMatchObject({ toStore: 0, alreadyStored: READINGS, refusedRows: 0 });

  expect((await technician().call(undoImport, { params: { id: look.import.id }, body: { reason: 'another plant' } })).body).toMatchObject({ state: 'undone' });
  expect(await database.work.client.subgroup.count()).toBe(0);
});
