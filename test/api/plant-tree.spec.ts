import { afterAll, beforeAll, expect, it } from 'vitest';
import { getPlant } from '#contract/plant';
import { startApi, type TestApi } from '../db/api.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';
import { makePlant, type TestPlant } from '../factories/plant.js';

let database: TestDatabase;
let api: TestApi;
let plant: TestPlant;
beforeAll(async () => { database = await freshDatabase(); plant = await makePlant(database.work); api = await startApi(database); });
afterAll(async () => { await api.close(); await database.close(); });

it('shows the whole plant in the order of the process, with the specification in force and not the one of tomorrow', async () => {
  const tomorrow = new Date(Date.now() + 86_400_000);
  await database.work.client.specification.create({ data: { plantId: plant.plantId, productId: plant.productId, characteristicId: plant.characteristics['body-hook'], revision: 2, lsl: 1.65, usl: 1.85, effectiveFrom: tomorrow, authorId: plant.users.engineer, reason: 'narrower' } });
  const { status, body } = await api.as('manager').call(getPlant, {});
  expect(status).toBe(200);
  expect(body.lines[0]?.steps.map((step) => [step.kind, step.machines.map((machine) => machine.code)])).toEqual([['body-maker', ['BM1', 'BM2']], ['flanger', ['FL1']], ['seamer', ['SE1']]]);
  expect(body.lines[0]?.steps[2]?.machines[0]?.units.map((unit) => unit.code)).toEqual(['H1', 'H2']);
  expect(body.lines[0]?.lanes.map((lane) => lane.code)).toEqual(['A', 'B']);
  expect(body.specifications.find((entry) => entry.characteristicId === plant.characteristics['body-hook'])).toMatchObject({ revision: 1, lsl: 1.6, usl: 1.9 });
  expect(body.checkPlans).toMatchObject([{ name: 'Weld', cans: 5, everyMinutes: 30 }]);
  expect((await api.nobody.call(getPlant, {})).status).toBe(401);
});
