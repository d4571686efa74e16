import { afterAll, beforeAll, expect, it } from 'vitest';
import { recordCheck } from '#contract/inspections';
import { listWeldPositions, listWeldWindows, type TestedWindow, type WeldWindowScope, writeWeldWindow } from '#contract/weld-windows';
import { startApi, type TestApi } from '../db/api.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';
import { makePlant, type TestPlant } from '../factories/plant.js';

let database: TestDatabase;
let api: TestApi;
let plant: TestPlant;
let current: number;
const now = new Date('2026-03-02T12:00:00Z');
beforeAll(async () => {
  database = await freshDatabase();
  plant = await makePlant(database.work);
  current = (await database.work.client.characteristic.create({ data: { plantId: plant.plantId, code: 'weld-current', name: 'Welding current', unit: 'A', stepKind: 'body-maker', gaugeStep: 10, decimals: 0, plausibleLow: 500, plausibleHigh: 10_000, chartKind: 'i-mr', basis: 'can' } })).id;
  api = await startApi(database, { now: () => now });
}, 120_000);
afterAll(async () => { await api.close(); await database.close(); });

const tested: TestedWindow = { lower: 3150, upper: 3470, nearEdge: 20, material: 'tin 2.8 g/m², coil 5101', speed: 100, wire: 'profile 3', testedAt: '2026-03-01T06:00:00Z', testedBy: 'A. Welder', evidence: 'ten bodies torn whole at 3150 A, no splash at 3470 A' };
const ofMachine = (productId: number | null = null): WeldWindowScope => ({ place: { kind: 'machine', machineId: plant.machines.bodyMaker }, productId, characteristicId: current });
const ofLine = (): WeldWindowScope => ({ place: { kind: 'line', lineId: plant.lineId }, productId: null, characteristicId: current });
const write = (scope: WeldWindowScope, window: TestedWindow | null, after = 0, effectiveFrom = '2026-03-01T07:00:00Z') => api.as('engineer').call(writeWeldWindow, { body: { scope, window, effectiveFrom, reason: 'window test of the week', after } });

let checks = 0;
async function weld(takenAt: string, amps: number[], machineId = plant.machines.bodyMaker): Promise<number> {
  checks += 1;
  const { status, body } = await api.as('operator').call(recordCheck, { body: { key: `weld-current-${checks}`, machineId, productId: plant.productId, takenAt, cans: amps.map((_, index) => ({ number: index + 1 })), positions: ['display'], characteristics: [{ code: 'weld-current', readings: amps }] } });
  expect(status).toBe(201);
  return body.checkId;
}
const positions = async (query: { check?: number; machine?: number; from?: string; until?: string }) => (await api.as('manager').call(listWeldPositions, { query })).body;

it('says "no tested window" first, then places the current in the narrowest window that held when the cans were picked', async () => {
  const early = await weld('2026-03-01T06:30:00Z', [3200]);
  const check = await weld('2026-03-01T08:00:00Z', [3320, 3200]);
  expect(await positions({ check })).toMatchObject({ more: false, positions: [{ machine: 'BM1', n: 2, lowest: 3200, highest: 3320, tested: null, coilSince: null, characteristic: { code: 'weld-current', unit: 'A', decimals: 0 } }] });

  expect((await write(ofLine(), { ...tested, lower: 3000, upper: 3400 })).body).toMatchObject({ version: 1, line: { code: 'T1' }, machine: null, product: null, author: 'Test engineer', at: now.toISOString() });
  expect((await positions({ check })).positions[0]?.tested).toMatchObject({ window: { line: { code: 'T1' }, machine: null }, lowest: { percent: 50, zone: 'inside', toLower: 200, toUpper: 200 }, highest: { percent: 80, zone: 'inside' } });
  expect((await write(ofMachine(plant.productId), tested)).status).toBe(201);
  const [held] = (await positions({ check })).positions;
  expect(held?.tested).toMatchObject({ window: { machine: { code: 'BM1' }, product: { code: 'T65' }, window: { evidence: tested.evidence } }, lowest: { percent: 15.625, zone: 'near-lower', toLower: 50 }, highest: { percent: 53.125, zone: 'inside' } });
  // Before the window held there was none; another welder has only that of the line.
  expect((await positions({ check: early })).positions[0]?.tested).toBeNull();
  const second = await weld('2026-03-01T08:10:00Z', [3450], plant.machines.bodyMaker2);
  expect((await positions({ check: second })).positions[0]?.tested).toMatchObject({ window: { machine: null, line: { code: 'T1' } }, highest: { percent: 112.5, zone: 'above' } });
});

it('names the coil that came after the test', async () => {
  await database.work.client.lineEvent.create({ data: { plantId: plant.plantId, lineId: plant.lineId, machineId: plant.machines.bodyMaker, kind: 'coil-change', at: new Date('2026-03-01T09:00:00Z'), text: 'Blanks of coil 5102', actor: 'lund' } });
  await database.work.client.lineEvent.create({ data: { plantId: plant.plantId, lineId: plant.lineId, machineId: plant.machines.seamer, kind: 'coil-change', at: new Date('2026-03-01T09:05:00Z'), text: 'New end lot', actor: 'lund' } });
  const before = await weld('2026-03-01T08:55:00Z', [3300]);
  const after = await weld('2026-03-01T09:10:00Z', [3300]);
  expect((await positions({ check: before })).positions[0]?.coilSince).toBeNull();
  expect((await positions({ check: after })).positions[0]?.coilSince).toEqual({ at: '2026-03-01T09:00:00.000Z', text: 'Blanks of coil 5102' });
});

it('lists a span of a machine with the setting before it and the next one after it', async () => {
  for (const [hour, amps] of [[1, 3310], [2, 3320], [3, 3330], [4, 3340]] as const) await weld(`2026-03-02T0${hour}:00:00Z`, [amps]);
  const { positions: found } = await positions({ machine: plant.machines.bodyMaker, from: '2026-03-02T01:30:00Z', until: '2026-03-02T03:00:00Z' });
  expect(found.map(({ when, lowest }) => [when, lowest])).toEqual([['before', 3310], ['in', 3320], ['in', 3330], ['after', 3340]]);
  const refused = await api.as('manager').call(listWeldPositions, { query: { machine: plant.machines.bodyMaker } });
  expect(refused.problem.code).toBe('invalid-input');
  expect((await api.as('manager').call(listWeldPositions, { query: { check: 99_999 } })).problem.code).toBe('not-found');
});

it('keeps every version, and a window that was taken back leaves the wider one', async () => {
  const check = await weld('2026-03-02T10:00:00Z', [3200]);
  expect((await write(ofMachine(plant.productId), { ...tested, lower: 3230 }, 1, '2026-03-02T09:00:00Z')).body).toMatchObject({ version: 2 });
  expect((await positions({ check })).positions[0]?.tested?.lowest).toMatchObject({ zone: 'below', toLower: -30 });
  expect((await write(ofMachine(plant.productId), tested, 1)).problem.code).toBe('changed-meanwhile');
  expect((await write(ofMachine(plant.productId), null, 2, '2026-03-02T09:30:00Z')).body).toMatchObject({ version: 3, window: null });
  expect((await positions({ check })).positions[0]?.tested).toMatchObject({ window: { machine: null }, lowest: { percent: 50 } });
  expect((await write(ofMachine(plant.productId), null, 3)).problem.errors).toEqual([{ field: 'window', expected: expect.stringContaining('none to take back') }]);
  const { windows } = (await api.as('technician').call(listWeldWindows, {})).body;
  expect(windows.map(({ machine, version, window }) => [machine?.code ?? 'line', version, window?.lower ?? null])).toEqual([['line', 1, 3000], ['BM1', 3, null], ['BM1', 2, 3230], ['BM1', 1, 3150]]);
  await expect(database.work.client.$executeRaw`UPDATE weld_window SET lower = 1`).rejects.toThrow(/never changed/);
});

it('names the field of a window that cannot be', async () => {
  const fields = async (scope: WeldWindowScope, window: Partial<TestedWindow>, effectiveFrom?: string) => (await write(scope, { ...tested, ...window }, 0, effectiveFrom)).problem.errors?.map(({ field }) => field);
  expect(await fields(ofMachine(), { lower: 3470 })).toEqual(['window.upper']);
  expect(await fields(ofMachine(), { lower: 100, upper: 20_000 })).toEqual(['window.lower', 'window.upper']);
  expect(await fields(ofMachine(), { testedAt: '2026-03-03T00:00:00Z' }, '2026-03-04T00:00:00Z')).toEqual(['window.testedAt']);
  expect(await fields(ofMachine(), {}, '2026-02-01T00:00:00Z')).toEqual(['effectiveFrom']);
  expect(await fields({ ...ofMachine(), place: { kind: 'machine', machineId: plant.machines.seamer } }, {})).toEqual(['scope.place.machineId']);
  expect(await fields({ ...ofMachine(), characteristicId: plant.characteristics['seam-thickness'] }, {})).toContain('scope.characteristicId');
  expect((await write({ ...ofMachine(), productId: 99_999 }, tested)).problem.code).toBe('not-found');
  expect((await api.as('technician').call(writeWeldWindow, { body: { scope: ofMachine(), window: tested, effectiveFrom: '2026-03-01T07:00:00Z', reason: 'because', after: 0 } })).problem.code).toBe('not-allowed');
});
