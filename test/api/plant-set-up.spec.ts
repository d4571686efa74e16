import { readFileSync, writeFileSync } from 'node:fs';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { z } from 'zod';
import { listProposals } from '#contract/approvals';
import { getPlant } from '#contract/plant';
import { getPlantSetUp, getPlantSetUpSchema, importPlantSetUp, type PlantSetUp, plantSetUpSchema, previewPlantSetUp } from '#contract/plant-set-up';
import { loadDemoPlant } from '../../apps/api/src/flows/load-demo-plant.js';
import { startApi, type TestApi } from '../db/api.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';
import { makePlant } from '../factories/plant.js';

// The demo plant's set-up as a file, into a plant that has only its people: the same set-up again.
const SCHEMA = new URL('../../libs/contract/plant-set-up.schema.json', import.meta.url);
const NOW = new Date('2026-05-20T13:07:00Z');
let [source, target, other]: TestDatabase[] = [];
let [from, into, factory]: TestApi[] = [];
let file: PlantSetUp;
const reason = 'as the sister plant';
beforeAll(async () => {
  [source, target, other] = [await freshDatabase(), await freshDatabase(), await freshDatabase()];
  await loadDemoPlant(source.work, NOW, () => {});
  const plant = await target.work.client.plant.create({ data: { name: 'A new plant', timeZone: 'Europe/Lisbon' } });
  for (const role of ['engineer', 'manager', 'technician'] as const) await target.work.client.user.create({ data: { plantId: plant.id, login: role, name: role, role, passwordHash: 'none' } });
  await makePlant(other.work);
  [from, into, factory] = [await startApi(source, { now: () => NOW }), await startApi(target, { now: () => NOW }), await startApi(other, { now: () => NOW })];
  file = (await from.as('engineer').call(getPlantSetUp, {})).body;
}, 600_000);
afterAll(async () => { for (const api of [from, into, factory]) await api?.close(); for (const database of [source, target, other]) await database?.close(); });
const has = <Value>(value: Value | undefined): Value => { if (value === undefined) throw new Error('not set up'); return value; };

it('says what an import would make, stores nothing of it, and then makes just that', async () => {
  expect([file.lines.length, file.products.length > 1, file.characteristics.length > 5, file.checkPlans.length > 2, file.specifications.length > 5, file.shifts.length > 0, file.synonyms.length > 0, file.canCodes.length > 0]).toEqual([3, true, true, true, true, true, true, true]);
  const preview = await has(into).as('engineer').call(previewPlantSetUp, { body: { setUp: file, reason } });
  expect([preview.status, preview.problem?.errors]).toEqual([200, undefined]);
  expect(preview.body.changes.length).toBeGreaterThan(60);
  const db = has(target).work.client;
  expect([await db.line.count(), await db.product.count(), await db.specification.count(), await db.auditRow.count()]).toEqual([0, 0, 0, 0]);
  const made = await has(into).as('engineer').call(importPlantSetUp, { body: { setUp: file, reason } });
  expect(made.body).toEqual(preview.body);
  const again = (await has(into).as('engineer').call(getPlantSetUp, {})).body;
  expect({ ...again, specifications: [], plant: file.plant }).toEqual({ ...file, specifications: [] });
  expect(again.specifications, 'an import approves nothing').toEqual([]);
  expect((await has(into).as('manager').call(listProposals, {})).body).toHaveLength(file.specifications.length);
  expect(await db.auditRow.count({ where: { action: 'set-up.imported' } })).toBe(1);
}, 240_000);

it('finds nothing to do the second time', async () => {
  const { body } = await has(into).as('engineer').call(importPlantSetUp, { body: { setUp: file, reason } });
  expect(body.changes).toEqual([]);
  expect(Object.values(body.same).reduce((sum, count) => sum + count, 0)).toBeGreaterThan(60);
}, 120_000);

it('changes what differs, shows the field before and after, and removes nothing', async () => {
  const [product, plan] = [has(file.products[0]), has(file.checkPlans[0])];
  const part: PlantSetUp = { ...file, lines: [], characteristics: [], gauges: [], specifications: [], reactionPlans: [], shifts: [], synonyms: [], canCodes: [], products: [{ ...product, height: product.height + 1 }], checkPlans: [{ ...plan, everyMinutes: 17 }] };
  const { body } = await has(into).as('engineer').call(importPlantSetUp, { body: { setUp: part, reason } });
  expect(body.changes).toEqual([
    { section: 'products', row: 0, name: product.code, act: 'change', fields: [{ field: 'height', before: String(product.height), after: String(product.height + 1) }] },
    { section: 'checkPlans', row: 0, name: `${plan.machine} ${plan.product} ${plan.name}`, act: 'change', fields: [{ field: 'everyMinutes', before: plan.everyMinutes === null ? null : String(plan.everyMinutes), after: '17' }] },
  ]);
  const tree = (await has(into).as('engineer').call(getPlant, {})).body;
  expect([tree.lines.length, tree.products.length, tree.checkPlans.length]).toEqual([file.lines.length, file.products.length, file.checkPlans.length]);
  expect(await has(target).work.client.checkPlanRevision.count({ where: { reason } })).toBeGreaterThan(0);
}, 120_000);

it('names the field by its path in the file, and keeps nothing of a refused file', async () => {
  const send = async (setUp: unknown, by: 'engineer' | 'technician' = 'engineer') => { const reply = await has(factory).as(by).raw({ method: 'POST', url: importPlantSetUp.path, payload: { setUp, reason } }); return [reply.status, reply.problem.errors?.map((error) => error.field) ?? reply.problem.code]; };
  const none = { format: 1, plant: file.plant };
  const [product, characteristic, plan] = [has(file.products[0]), has(file.characteristics[0]), has(file.checkPlans[0])];
  const lines = await has(other).work.client.line.count();
  expect(await send({ ...none, format: 2 })).toEqual([400, ['setUp.format']]);
  expect(await send({ ...none, products: [product, { ...product, code: 'X', height: -1 }] })).toEqual([400, ['setUp.products.1.height']]);
  expect(await send({ ...none, specifications: [{ product: 'T65', characteristic: 'nothing', lsl: 1, target: null, usl: 2, effectiveFrom: '2026-01-01T00:00:00Z' }] })).toEqual([400, ['setUp.specifications.0.characteristic']]);
  expect(await send({ ...none, specifications: [{ product: 'T65', characteristic: 'body-hook', lsl: 3, target: null, usl: 2, effectiveFrom: '2026-01-01T00:00:00Z' }] })).toEqual([400, ['setUp.specifications.0.usl']]);
  expect(await send({ ...none, lines: [{ code: 'NEW', name: 'New', steps: [{ kind: 'seamer', machines: [{ code: 'BM1', name: 'Body maker' }] }] }] })).toEqual([400, ['setUp.lines.0.steps.0.machines.0.code']]);
  expect(await send({ ...none, lines: [{ code: 'NEW', name: 'New', steps: [{ kind: 'oven', machines: [] }] }] })).toEqual([400, ['setUp.lines.0.steps.0.kind']]);
  expect(await send({ ...none, lines: [{ code: 'NEW', name: 'New', steps: [{ kind: 'seamer', machines: [] }], stretches: [{ fromStep: 1, toStep: 2, shortestSeconds: 1, longestSeconds: 2 }] }] })).toEqual([400, ['setUp.lines.0.stretches.0.toStep']]);
  expect(await send({ ...none, characteristics: [{ ...characteristic, code: 'body-hook', unit: 'inch' }] })).toEqual([400, ['setUp.characteristics.0.unit']]);
  expect(await send({ ...none, checkPlans: [{ ...plan, machine: 'BM1', product: 'T65', characteristics: ['unheard-of'] }] })).toEqual([400, ['setUp.checkPlans.0.characteristics.0']]);
  expect(await send(none, 'technician')).toEqual([403, 'not-allowed']);
  expect(await has(other).work.client.line.count()).toBe(lines);
}, 120_000);

it('publishes the JSON Schema that a file is taken by, and the one in the repository is the same', async () => {
  const served = (await has(from).as('manager').call(getPlantSetUpSchema, {})).body;
  const text = `${JSON.stringify(plantSetUpSchema(), null, 2)}\n`;
  if (process.env.WRITE_SCHEMA) writeFileSync(SCHEMA, text);
  expect(readFileSync(SCHEMA, 'utf8'), 'run this file with WRITE_SCHEMA=1').toBe(text);
  expect(served).toEqual(JSON.parse(text));
  const bySchema = z.fromJSONSchema(served as Parameters<typeof z.fromJSONSchema>[0]);
  expect(bySchema.safeParse(file).error?.issues ?? []).toEqual([]);
  expect(bySchema.safeParse({ ...file, products: [{ code: 'X' }] }).success).toBe(false);
});
