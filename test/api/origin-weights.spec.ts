import { afterAll, beforeAll, expect, it } from 'vitest';
import { logIncident } from '#contract/incidents';
import { listOriginWeights, type OriginWeightsVersion, writeOriginWeights } from '#contract/origin-weights';
import { refOf } from '#contract/trace-places';
import { getKeptTrace, keepTrace, traceIncident, type TraceOrigin } from '#contract/traces';
import { startApi, type TestApi } from '../db/api.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';
import { makePlant, type TestPlant } from '../factories/plant.js';

const NOW = new Date('2026-03-10T12:00:00Z');
let database: TestDatabase;
let api: TestApi;
let plant: TestPlant;
let incident: number;
beforeAll(async () => {
  database = await freshDatabase();
  plant = await makePlant(database.work);
  api = await startApi(database, { now: () => NOW });
  incident = (await api.as('engineer').call(logIncident, { body: {
    kind: 'complaint', customer: 'Test customer', productId: plant.productId, lineId: plant.lineId, canCode: '', madeAt: '2026-03-08T10:00:00Z', madeUntil: null, codedAtStepId: null, laneId: null, unitId: null, receivedAt: NOW.toISOString(),
    cansComplained: 5, cansExamined: 5, cansLeaking: 2, leakPlace: 'flange', defect: 'flange-crack', description: 'Cracked flanges.', containment: '', dueAt: null,
  } })).body.id;
}, 120_000);
afterAll(async () => { await api.close(); await database.close(); });

type Origins = OriginWeightsVersion['origins'];
const write = (origins: Origins, after = 0, defect = 'flange-crack') => api.as('engineer').call(writeOriginWeights, { body: { defect, origins, reason: 'causes of the last thirty incidents', after } });
const ranked = async () => (await api.as('manager').call(traceIncident, { params: { id: incident }, query: {} })).body;
/** Share of the flanger in the ranking, over all of its places. */
const flanger = (origins: { stepKind: string; share: number }[]) => origins.filter(({ stepKind }) => stepKind === 'flanger').reduce((sum, { share }) => sum + share, 0);

it('ranks by the plant’s weights, says by which version, and keeps that with the ranking', async () => {
  const trade = await ranked();
  expect(trade.weights).toBeNull();
  const { status, body } = await write([{ step: 'flanger', units: 'unit', weight: 0.9 }, { step: 'body-maker', units: 'lane', weight: 0.1 }]);
  expect([status, body.version, body.author]).toEqual([201, 1, 'Test engineer']);
  const own = await ranked();
  expect(own.weights).toMatchObject({ version: 1, author: 'Test engineer', reason: 'causes of the last thirty incidents', at: NOW.toISOString() });
  expect(flanger(own.origins)).toBeGreaterThan(flanger(trade.origins) + 0.2);
  const kept = (await api.as('engineer').call(keepTrace, { params: { id: incident }, body: { chosen: { ...refOf(own.origins[0] as TraceOrigin), place: 0, share: own.origins[0]?.share ?? 0 }, comment: 'Looking at the spindles' } })).body.id;

  expect((await write([{ step: 'body-maker', units: 'lane', weight: 1 }], 1)).body.version).toBe(2);
  expect(flanger((await ranked()).origins)).toBeLessThan(flanger(own.origins));
  const { trace } = (await api.as('manager').call(getKeptTrace, { params: { id: kept } })).body;
  expect(trace.weights).toMatchObject({ version: 1 });
  expect(flanger(trace.origins)).toBeCloseTo(flanger(own.origins), 9);

  // Taken back: the trade's shares hold again, and every version stays.
  expect((await write([], 2)).body).toMatchObject({ version: 3, origins: [] });
  const back = await ranked();
  expect([back.weights, back.origins]).toEqual([null, trade.origins]);
  expect((await api.as('operator').call(listOriginWeights, {})).body.versions.map(({ version, origins }) => [version, origins.length])).toEqual([[3, 0], [2, 1], [1, 2]]);
  await expect(database.work.client.$executeRaw`UPDATE origin_weights SET origins = '[]'`).rejects.toThrow(/never changed/);
});

it('names what is wrong with weights', async () => {
  const fields = async (origins: Origins) => (await write(origins, 0, 'splash')).problem.errors?.map(({ field }) => field);
  expect(await fields([{ step: 'body-maker', units: 'lane', weight: 0.5 }])).toEqual(['origins']);
  expect(await fields([{ step: 'body-maker', units: 'lane', weight: -1 }, { step: 'slitter', units: 'lane', weight: 1 }])).toEqual(['origins.0']);
  expect(await fields([])).toEqual(['origins']);
  expect((await write([{ step: 'slitter', units: 'lane', weight: 1 }], 0, 'no-such-defect')).problem.code).toBe('not-found');
  expect((await write([{ step: 'slitter', units: 'lane', weight: 1 }], 7)).problem.code).toBe('changed-meanwhile');
  expect((await api.as('technician').call(writeOriginWeights, { body: { defect: 'splash', origins: [], reason: 'because', after: 0 } })).problem.code).toBe('not-allowed');
});
