import { afterAll, beforeAll, expect, it } from 'vitest';
import { getBodiesCsv, listBodies } from '#contract/every-body';
import { makeBodyMonths, upsertChunks } from '../../apps/api/src/monitors/body-chunks.store.js';
import type { ChunkRow } from '../../apps/api/src/monitors/minute-book.js';
import { startApi, type TestApi } from '../db/api.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';
import { makePlant, type TestPlant } from '../factories/plant.js';

let database: TestDatabase;
let api: TestApi;
let plant: TestPlant;
const at = (time: string) => Date.parse(`2026-03-10T${time}:00Z`);
const ask = (more: object = {}) => ({ query: { machine: plant.machines.bodyMaker, characteristic: plant.characteristics['weld-overlap'], from: '2026-03-10T08:00:00Z', to: '2026-03-10T09:00:00Z', take: 100, ...more } });
const csv = async (more: object = {}) => {
  const { query } = ask(more);
  return api.as('manager').raw({ method: 'GET', url: `${getBodiesCsv.path}?${new URLSearchParams(Object.entries(query).flatMap(([name, value]): [string, string][] => (name === 'take' ? [] : [[name, String(value)]])))}` });
};

beforeAll(async () => {
  database = await freshDatabase();
  plant = await makePlant(database.work);
  api = await startApi(database);
  const stream = async (lane: 'A' | 'B') => (await database.work.client.stream.create({ data: { plantId: plant.plantId, characteristicId: plant.characteristics['weld-overlap'], productId: plant.productId, machineId: plant.machines.bodyMaker, laneId: plant.laneIds[lane], chartKind: 'xbar-r', basis: 'reading', rules: [] } })).id;
  const [a, b] = [await stream('A'), await stream('B')];
  const row = (streamId: number, minute: number, more: Partial<ChunkRow>): ChunkRow => ({ streamId, minute, part: 0, n: 2, mean: 0.42, range: 0.02, sd: 0.01, low: 0.41, high: 0.43, firstCount: null, lastCount: null, offsets: [], readings: [], ...more });
  const minutes = [0, 1, 2, 3, 4].map((minute) => row(a, at(`08:0${minute}`), { firstCount: 100 + minute * 3, lastCount: 102 + minute * 3, readings: [0.41, null, 0.43] }));
  const timed = row(b, at('08:01'), { offsets: [-30_000, 29_999], readings: [0.5, 0.52] });
  await database.work.run(async (tx) => {
    await makeBodyMonths(tx, [new Date(at('08:00'))]);
    await upsertChunks(tx, plant.plantId, [...minutes, timed, row(a, at('09:00'), { firstCount: 999, lastCount: 999, readings: [9] })]);
    // One minute was kept when its month was dropped; one is in both, as after a drop that did not come to pass.
    await tx.$executeRaw`INSERT INTO body_chunk_kept (plant_id, stream_id, minute, part, n, mean, range, sd, low, high, first_count, last_count, offsets, readings, why) SELECT plant_id, stream_id, minute + interval '30 minutes', part, n, mean, range, sd, low, high, first_count, last_count, offsets, readings, 'signal 1' FROM body_chunk WHERE stream_id = ${a} AND minute = ${new Date(at('08:00'))}`;
    await tx.$executeRaw`INSERT INTO body_chunk_kept (plant_id, stream_id, minute, part, n, mean, range, sd, low, high, first_count, last_count, offsets, readings, why) SELECT plant_id, stream_id, minute, part, n, mean, range, sd, low, high, first_count, last_count, offsets, readings, 'signal 1' FROM body_chunk WHERE stream_id = ${a} AND minute = ${new Date(at('08:02'))}`;
  });
});
afterAll(async () => { await api.close(); await database.close(); });

it('gives the readings of a machine and characteristic minute by minute, in pages without a gap or a repeat', async () => {
  const whole = (await api.as('operator').call(listBodies, ask())).body;
  expect(whole).toMatchObject({ machine: 'BM1', characteristic: 'weld-overlap', measure: 'mm', next: null });
  expect(whole.minutes.map(({ minute, lane, first, offsets, readings }) => [minute.slice(11, 16), lane, first, offsets, readings])).toEqual([
    ['08:00', 'A', 100, [], [0.41, null, 0.43]], ['08:01', 'A', 103, [], [0.41, null, 0.43]], ['08:01', 'B', null, [0, 59_999], [0.5, 0.52]], ['08:02', 'A', 106, [], [0.41, null, 0.43]],
    ['08:03', 'A', 109, [], [0.41, null, 0.43]], ['08:04', 'A', 112, [], [0.41, null, 0.43]], ['08:30', 'A', 100, [], [0.41, null, 0.43]],
  ]);
  const paged = [];
  let after: string | undefined;
  for (let page = 0; page < 20; page += 1) {
    const { body } = await api.as('operator').call(listBodies, ask({ take: 2, ...(after === undefined ? {} : { after }) }));
    paged.push(...body.minutes);
    if (body.next === null) break;
    after = body.next;
  }
  expect(paged).toEqual(whole.minutes);
  expect((await api.as('operator').call(listBodies, ask({ lane: plant.laneIds.B }))).body.minutes).toHaveLength(1);
  expect((await api.as('operator').call(listBodies, ask({ characteristic: plant.characteristics['weld-thickness'] }))).body.minutes).toEqual([]);
});

it('gives the same as CSV, one body a line, and nothing to an auditor', async () => {
  const { status, text, headers } = await csv();
  expect([status, headers['content-type']]).toEqual([200, 'text/csv; charset=utf-8']);
  const lines = text.split('\r\n');
  expect(lines[0]).toBe('minute (UTC),milliseconds,body,value,unit of measure,machine,characteristic,product,unit,lane');
  expect(lines.slice(1, 6)).toEqual(['2026-03-10T08:00:00.000Z,,100,0.41,mm,BM1,weld-overlap,T65,,A', '2026-03-10T08:00:00.000Z,,102,0.43,mm,BM1,weld-overlap,T65,,A', '2026-03-10T08:01:00.000Z,,103,0.41,mm,BM1,weld-overlap,T65,,A', '2026-03-10T08:01:00.000Z,,105,0.43,mm,BM1,weld-overlap,T65,,A', '2026-03-10T08:01:00.000Z,0,,0.5,mm,BM1,weld-overlap,T65,,B']);
  expect(lines).toHaveLength(1 + 6 * 2 + 2 + 1);
  expect((await api.as('auditor').call(listBodies, ask())).status).toBe(403);
});

it('says which field of the request is wrong, and what is not there', async () => {
  const wrong = async (more: object) => (await api.as('operator').call(listBodies, ask(more))).problem.errors?.map(({ field, expected }) => `${field}: ${expected}`);
  expect(await wrong({ to: '2026-03-10T08:00:00Z' })).toEqual(['query.to: a moment after the beginning']);
  expect(await wrong({ to: '2026-05-10T08:00:00Z' })).toEqual(['query.to: at most 31 days after the beginning']);
  expect(await wrong({ after: 'page 2' })).toEqual(['query.after: what `next` of the page before said']);
  expect((await api.as('operator').call(listBodies, ask({ machine: 99_999 }))).status).toBe(404);
  expect((await csv({ characteristic: 99_999 })).status).toBe(404);
});
