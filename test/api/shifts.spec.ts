import { afterAll, beforeAll, expect, it } from 'vitest';
import { listShifts, setShifts, type ShiftView } from '#contract/shifts';
import { startApi, type TestApi } from '../db/api.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';
import { makePlant, type TestPlant } from '../factories/plant.js';

let database: TestDatabase;
let api: TestApi;
let plant: TestPlant;
beforeAll(async () => { database = await freshDatabase(); plant = await makePlant(database.work); api = await startApi(database); });
afterAll(async () => { await api.close(); await database.close(); });

const early: ShiftView = { name: 'Early', begins: '06:00', ends: '14:00', days: [1, 2, 3, 4, 5] };
const night: ShiftView = { name: 'Night', begins: '22:00', ends: '06:00', days: [7, 1, 2, 3, 4] };
const put = (shifts: unknown) => api.as('engineer').raw({ method: 'PUT', url: setShifts.path, payload: { shifts } });

it('keeps the shifts of the plant, whole, with a row in the audit trail', async () => {
  expect((await api.as('operator').call(listShifts, {})).body.shifts).toEqual([]);
  expect((await api.as('engineer').call(setShifts, { body: { shifts: [night, early] } })).body.shifts).toEqual([early, { ...night, days: [1, 2, 3, 4, 7] }]);
  expect((await api.as('manager').call(listShifts, {})).body.shifts).toHaveLength(2);
  expect(await database.work.client.auditRow.count({ where: { plantId: plant.plantId, action: 'plant.shifts' } })).toBe(1);
});

it('refuses what cannot be, naming the shift, and leaves what was there', async () => {
  const late = { ...early, name: 'Late', begins: '13:30', ends: '22:00' };
  const refused = async (shifts: unknown) => { const { status, problem } = await put(shifts); return [status, ...(problem.errors ?? []).map(({ field, expected }) => `${field}: ${expected}`)]; };
  expect(await refused([early, late])).toEqual([400, 'shifts.1.begins: a time at which “Early” is not on']);
  expect(await refused([early, { ...early, begins: '15:00', ends: '15:00' }])).toEqual([400, 'shifts.1.name: each name once', 'shifts.1.ends: another time than its beginning']);
  expect((await refused([{ ...early, begins: '25:00' }]))[1]).toMatch(/^shifts\.0\.begins: .*06:00/);
  expect((await refused([{ ...early, days: [] }]))[1]).toMatch(/^shifts\.0\.days/);
  expect((await api.as('operator').call(listShifts, {})).body.shifts).toHaveLength(2);
});
