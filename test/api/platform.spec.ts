import { Validator } from '@seriousme/openapi-schema-validator';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { getHealth, getOpenApi, getVersion } from '#contract/platform';
import { recordCheck } from '#contract/inspections';
import { startApi, type TestApi } from '../db/api.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';
import { makePlant, type TestPlant } from '../factories/plant.js';

let database: TestDatabase;
let api: TestApi;
let plant: TestPlant;
beforeAll(async () => { database = await freshDatabase(); plant = await makePlant(database.work); api = await startApi(database); });
afterAll(async () => { await api.close(); await database.close(); });

it('tells that process, database and migrations are well', async () => {
  const { status, body } = await api.nobody.call(getHealth, {});
  expect(status).toBe(200);
  expect(body).toMatchObject({ status: 'ok', database: 'ok', migrations: { pending: 0 } });
  expect(body.migrations.applied).toBeGreaterThan(0);
  expect((await api.nobody.call(getVersion, {})).body.version).toMatch(/^\d+\.\d+\.\d+$/);
});

it('serves a valid OpenAPI 3.1 document that names every endpoint, and a page of it', async () => {
  const { body } = await api.nobody.call(getOpenApi, {});
  expect(body['openapi']).toBe('3.1.0');
  const verdict = await new Validator().validate(body);
  expect(verdict.errors ?? []).toEqual([]);
  expect(verdict.valid).toBe(true);
  const page = await api.nobody.raw({ method: 'GET', url: '/api/docs' });
  expect(page.headers['content-type']).toContain('text/html');
  expect(page.text).toContain('POST /api/checks');
  // What a programmer of a gauge looks for: how a token is sent, and which addresses take one.
  const tokenWays = Object.entries(body['paths'] as Record<string, Record<string, { security: Record<string, unknown>[]; description: string }>>).flatMap(([path, methods]) => Object.entries(methods).filter(([, { security }]) => security.some((way) => 'token' in way)).map(([method, { description }]) => `${method} ${path} ${/token that may send (\S+):/.exec(description)?.[1]}`));
  expect(tokenWays.sort()).toEqual(['post /api/checks checks', 'post /api/checks/batch checks', 'post /api/counts/readings counts', 'post /api/line-events line-events', 'post /api/production-counts counts']);
  expect(page.text).toMatch(/A token is taken by: .*#recordCheck.*For example/);
  const [, shown = ''] = /-d '(\{[^']+\})'<\/pre>/.exec(page.text.replaceAll('&quot;', '"')) ?? [];
  const example = JSON.parse(shown.replace('BM11', 'BM1').replace('A65', 'T65')) as object;
  expect((await api.as('operator').raw({ method: 'POST', url: '/api/checks', payload: example })).status).toBe(201);
  expect(page.text).not.toContain('9007199254740991');
});

it('answers an unknown address, a wrong method and broken JSON with problem details', async () => {
  expect((await api.nobody.raw({ method: 'GET', url: '/api/nothing' })).problem).toMatchObject({ code: 'not-found', status: 404 });
  const broken = await api.as('operator').raw({ method: 'POST', url: '/api/checks', payload: '{', headers: { 'content-type': 'application/json' } });
  expect(broken.status).toBe(400);
  expect(broken.headers['content-type']).toContain('application/problem+json');
  expect(broken.problem.code).toBe('invalid-input');
});

it('logs a check through the door and names each field that is wrong', async () => {
  const readings = [0.42, 0.41, 0.43, 0.42, 0.42, 0.42, 0.4, 0.41, 0.42, 0.43, 0.42, 0.41, 0.42, 0.42, 0.43];
  const check = { key: 'platform-spec-1', machineId: plant.machines.bodyMaker, productId: plant.productId, takenAt: '2026-03-01T08:00:00Z', cans: [1, 2, 3, 4, 5].map((number) => ({ number })), positions: ['front', 'middle', 'back'], characteristics: [{ code: 'weld-overlap', gaugeId: plant.gaugeId, readings }] };
  const good = await api.as('operator').call(recordCheck, { body: check });
  expect(good.status).toBe(201);
  expect(good.body).toMatchObject({ repeated: false, status: 'not-judged', subgroups: [{ characteristic: 'weld-overlap', n: 5, status: 'not-judged' }] });
  const bad = await api.as('operator').call(recordCheck, { body: { ...check, key: 'platform-spec-2', machineId: 9999, characteristics: [{ code: 'weld-overlap', readings: [1] }] } });
  expect(bad.status).toBe(400);
  expect(bad.problem.errors?.map((error) => error.field)).toEqual(['machineId', 'characteristics.0.readings']);
});
