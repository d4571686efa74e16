import { afterAll, beforeAll, expect, it } from 'vitest';
import type { z } from 'zod';
import { getCheck, getCheckVerdict, type newCheck, recordCheck } from '#contract/inspections';
import { startApi, type TestApi } from '../db/api.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';
import { makePlant, type TestPlant } from '../factories/plant.js';

let database: TestDatabase;
let api: TestApi;
let plant: TestPlant;
beforeAll(async () => {
  database = await freshDatabase(); plant = await makePlant(database.work); api = await startApi(database);
  const { plantId } = plant;
  const common = { plantId, stepKind: 'seamer', gaugeStep: 1, decimals: 0, unit: '1' };
  await database.work.client.characteristic.createMany({ data: [{ ...common, code: 'visual-seam', name: 'Visual seam faults', kind: 'attribute' }, { ...common, code: 'wrinkle', name: 'Wrinkle rating', kind: 'rating', plausibleLow: 0, plausibleHigh: 10 }] });
  const steps = await database.work.client.step.findMany({ where: { plantId }, orderBy: { position: 'asc' } });
  const stretch = (from: number, to: number, shortestSeconds: number, longestSeconds: number) => ({ plantId, lineId: plant.lineId, fromStepId: steps[from]?.id as number, toStepId: steps[to]?.id as number, shortestSeconds, longestSeconds });
  await database.work.client.stretch.createMany({ data: [stretch(0, 1, 60, 300), stretch(1, 2, 30, 900)] });
});
afterAll(async () => { await api.close(); await database.close(); });

const PICKED = '2026-03-01T08:00:00.000Z';
const seamer = () => ({ machineId: plant.machines.seamer, productId: plant.productId, takenAt: PICKED, cans: plant.headIds.map((unitId, index) => ({ number: index + 1, unitId })), positions: ['a', 'b'] });
const log = (body: Omit<z.input<typeof newCheck>, 'machineId' | 'productId' | 'takenAt' | 'cans' | 'positions'>) => api.as('operator').call(recordCheck, { body: { ...seamer(), ...body } });

it('keeps counts, ratings, skips, second readings and the device’s times beside the readings', async () => {
  const { status, body, problem } = await log({
    key: 'with-everything', offline: true, begunAt: '2026-03-01T08:05:00.000Z', finishedAt: '2026-03-01T08:12:00.000Z',
    characteristics: [{ code: 'cover-hook', readings: [1.65, 1.66, 1.64, null] }],
    counts: [{ code: 'visual-seam', inspected: 12, nonconforming: 2 }], ratings: [{ code: 'wrinkle', ratings: [1, null, 3, 2] }],
    skips: [{ can: 1, characteristic: 'cover-hook', position: 1, reason: 'hook torn at the juncture' }], secondReadings: [{ characteristic: 'cover-hook', can: 0, position: 0, value: 1.64 }],
  });
  expect([status, problem.detail]).toEqual([201, undefined]);
  expect(body.subgroups.map(({ characteristic }) => characteristic)).toEqual(['cover-hook', 'cover-hook']);
  expect((await api.as('manager').call(getCheck, { params: { id: body.checkId } })).body).toMatchObject({
    source: 'offline', takenAt: PICKED, begunAt: '2026-03-01T08:05:00.000Z', finishedAt: '2026-03-01T08:12:00.000Z',
    counts: [{ code: 'visual-seam', name: 'Visual seam faults', inspected: 12, nonconforming: 2 }], ratings: [{ code: 'wrinkle', ratings: [1, null, 3, 2] }],
    skips: [{ can: 1, characteristic: 'cover-hook', position: 1, reason: 'hook torn at the juncture' }], secondReadings: [{ characteristic: 'cover-hook', can: 0, position: 0, value: 1.64 }],
    // Welded: picked at 08:00 less the two stretches, 90 s at the shortest and 1200 s at the longest.
    welded: { from: '2026-03-01T07:40:00.000Z', until: '2026-03-01T07:58:30.000Z' },
  });
});

it('stores a check of counts alone, judges nothing of it and answers the same when it is sent again', async () => {
  const counts = [{ code: 'visual-seam', inspected: 2, nonconforming: 0 }];
  const first = await log({ key: 'counts-alone', characteristics: [], counts });
  expect([first.status, first.body.status, first.body.subgroups]).toEqual([201, 'not-judged', []]);
  const again = await log({ key: 'counts-alone', characteristics: [], counts });
  expect(again.body).toEqual({ ...first.body, repeated: true });
  expect((await api.as('manager').call(getCheckVerdict, { params: { id: first.body.checkId } })).body.checkId).toBe(first.body.checkId);
  expect((await log({ key: 'counts-alone', characteristics: [], counts: [{ code: 'visual-seam', inspected: 2, nonconforming: 1 }] })).problem.code).toBe('key-reused');
});

it('keeps the content hash of a check without extras, so that a repeat from before is still known as one', async () => {
  const { body } = await log({ key: 'plain-check', characteristics: [{ code: 'cover-hook', readings: [1.65, 1.66, 1.64, 1.63] }] });
  const view = (await api.as('manager').call(getCheck, { params: { id: body.checkId } })).body;
  expect(view).toMatchObject({ source: 'entry', begunAt: null, finishedAt: null, counts: [], ratings: [], skips: [], secondReadings: [] });
  const row = await database.work.client.check.findFirstOrThrow({ where: { plantId: plant.plantId, id: body.checkId } });
  const content = { machineId: plant.machines.seamer, productId: plant.productId, takenAt: PICKED, cans: seamer().cans, positions: ['a', 'b'], characteristics: [{ code: 'cover-hook', readings: [1.65, 1.66, 1.64, 1.63] }] };
  const { createHash } = await import('node:crypto');
  expect(row.contentHash).toBe(createHash('sha256').update(JSON.stringify(content)).digest('hex'));
});

it.each([
  ['counts.0.nonconforming', { characteristics: [], counts: [{ code: 'visual-seam', inspected: 2, nonconforming: 3 }] }],
  ['counts.0.code', { characteristics: [], counts: [{ code: 'cover-hook', inspected: 2, nonconforming: 1 }] }],
  ['ratings.0.ratings.3', { characteristics: [], ratings: [{ code: 'wrinkle', ratings: [0, 1, 2, 11] }] }],
  ['ratings.0.ratings', { characteristics: [], ratings: [{ code: 'wrinkle', ratings: [0, 1] }] }],
  ['skips.0.can', { characteristics: [{ code: 'cover-hook', readings: [1.6, 1.6, 1.6, 1.6] }], skips: [{ can: 2, reason: 'dropped' }] }],
  ['skips.0', { characteristics: [{ code: 'cover-hook', readings: [1.6, 1.6, 1.6, 1.6] }], skips: [{ position: 1, reason: 'dropped' }] }],
  ['secondReadings.0.characteristic', { characteristics: [{ code: 'cover-hook', readings: [1.6, 1.6, 1.6, 1.6] }], secondReadings: [{ characteristic: 'body-hook', can: 0, position: 0, value: 1.7 }] }],
  ['finishedAt', { characteristics: [{ code: 'cover-hook', readings: [1.6, 1.6, 1.6, 1.6] }], begunAt: '2026-03-01T08:10:00Z', finishedAt: '2026-03-01T08:09:00Z' }],
  ['characteristics', { characteristics: [], skips: [{ can: 0, reason: 'dropped' }] }],
])('refuses what does not add up and names it: %s', async (field, extras) => {
  const before = await database.work.client.check.count();
  const { status, problem } = await log({ key: `refused ${field}`, ...extras });
  expect([status, problem.errors?.map((error) => error.field)]).toEqual([400, [field]]);
  expect(await database.work.client.check.count()).toBe(before);
});
