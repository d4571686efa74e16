import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { allEndpoints } from '#contract/all-endpoints';
import { chart } from '#contract/workbench/charts';
import { MOST_VALUES } from '#contract/workbench/method';
import { getRun, stopRun } from '#contract/workbench/runs';
import { allExamples } from '../../apps/api/src/workbench/all-examples.js';
import { allMethods } from '../../apps/api/src/workbench/all-methods.js';
import { startApi, type TestApi } from '../db/api.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';
import { makePlant } from '../factories/plant.js';

let database: TestDatabase;
let api: TestApi;
beforeAll(async () => { database = await freshDatabase(); await makePlant(database.work); api = await startApi(database); });
afterAll(async () => { await api.close(); await database.close(); });

const workbench = allEndpoints.filter(({ endpoint }) => endpoint.feature === 'workbench' && endpoint.method === 'POST');
const chartOf = (subgroups: (number | null)[][]) => ({ kind: 'xbar-r' as const, subgroups });

it('has a computation and an example for every method of the contract', () => {
  const paths = workbench.map(({ endpoint }) => endpoint.path).sort();
  expect(allMethods.map(({ endpoint }) => endpoint.path).sort()).toEqual(paths);
  expect([...new Set(allExamples.map(({ endpoint }) => endpoint.path))].sort()).toEqual(paths);
});

it.each(allExamples.map(({ endpoint, body }, i) => ({ name: `${endpoint.path} ${i}`, endpoint, body })))('$name answers its example to anyone, as the contract says', async ({ endpoint, body }) => {
  const reply = await api.nobody.raw({ method: 'POST', url: endpoint.path, payload: body as object });
  expect([reply.status, reply.status === 200 ? '' : reply.text]).toEqual([200, '']);
  // What is undefined is null: neither "NaN" nor a missing key comes through JSON unnoticed by the contract.
  endpoint.answer.parse(reply.body);
});

it('documents every method with what it takes and answers', async () => {
  const { body } = await api.nobody.raw({ method: 'GET', url: '/api/openapi.json' });
  const { paths } = body as { paths: Record<string, { post?: { description: string; requestBody?: unknown } }> };
  for (const { endpoint } of workbench) {
    expect(paths[endpoint.path]?.post?.requestBody, endpoint.path).toBeDefined();
    expect(paths[endpoint.path]?.post?.description.length, endpoint.path).toBeGreaterThan(60);
  }
});

it('names the field and what is expected there', async () => {
  const wrong = await api.nobody.raw({ method: 'POST', url: chart.path, payload: { kind: 'xbar-r', subgroups: [[1, 2], [3, 'four']] } });
  expect(wrong.status).toBe(400);
  expect(wrong.problem.errors?.[0]?.field).toBe('subgroups.1.1');
  const noJson = await api.nobody.raw({ method: 'POST', url: chart.path, payload: '{"kind":', headers: { 'content-type': 'application/json' } });
  expect([noJson.status, noJson.problem.code]).toEqual([400, 'invalid-input']);
  const empty = await api.nobody.raw({ method: 'POST', url: chart.path, headers: { 'content-type': 'application/json' } });
  expect([empty.status, empty.problem.code]).toEqual([400, 'invalid-input']);
});

it('says in a sentence why a method cannot be computed', async () => {
  const { status, problem } = await api.nobody.raw({ method: 'POST', url: chart.path, payload: chartOf([[1, 1], [1, 1]]) });
  expect([status, problem.code]).toEqual([422, 'cannot-compute']);
  expect(problem.detail).toMatch(/variation/);
});

it('refuses more than a million numbers, and bodies without bound', async () => {
  const many = await api.nobody.raw({ method: 'POST', url: chart.path, payload: `{"kind":"xbar-r","subgroups":[${new Array(MOST_VALUES / 2 + 1).fill('[1,2]').join(',')}]}`, headers: { 'content-type': 'application/json' } });
  expect([many.status, many.problem.code]).toEqual([413, 'too-large']);
  expect(many.problem.detail).toContain('1000002 given');
  const huge = await api.nobody.raw({ method: 'POST', url: chart.path, payload: ' '.repeat(33 * 2 ** 20), headers: { 'content-type': 'application/json' } });
  expect(huge.status).toBe(413);
  const elsewhere = await api.nobody.raw({ method: 'POST', url: '/api/session', payload: ' '.repeat(5 * 2 ** 20), headers: { 'content-type': 'application/json' } });
  expect(elsewhere.status).toBe(413);
});

/** A permutation test of a million draws over many values: long enough to be asked about and stopped. */
const [first, second] = [0, 1].map((shift) => Array.from({ length: 20_000 }, (_, i) => (Math.sin(i * 12.9898 + shift) * 43758.5453) % 1));
const long = { first, second, draws: 1_000_000 };

it('tells how far a long computation is, and stops it when asked', async () => {
  const run = randomUUID();
  const waiting = api.nobody.raw({ method: 'POST', url: `/api/workbench/compare-two?run=${run}`, payload: long });
  const share = await until(async () => {
    const { status, body } = await api.nobody.call(getRun, { params: { run } });
    return status === 200 && body.share > 0 ? body : null;
  });
  expect(share.state).toBe('running');
  const again = await api.nobody.raw({ method: 'POST', url: `${chart.path}?run=${run}`, payload: chartOf([[1, 2], [2, 3]]) });
  expect([again.status, again.problem.code]).toEqual([409, 'already-there']);
  // The event loop answers while the thread computes.
  expect((await api.nobody.raw({ method: 'GET', url: '/api/version' })).status).toBe(200);
  expect((await api.nobody.call(stopRun, { params: { run } })).status).toBe(204);
  const { status, problem } = await waiting;
  expect([status, problem.code]).toEqual([409, 'stopped']);
  expect((await api.nobody.call(getRun, { params: { run } })).status).toBe(404);
});

it('takes a few computations at a time from one address', async () => {
  const runs = Array.from({ length: 5 }, () => randomUUID());
  const replies = runs.map((run) => api.nobody.raw({ method: 'POST', url: `/api/workbench/compare-two?run=${run}`, payload: long }));
  const refused = await Promise.race(replies);
  expect([refused.status, refused.problem.code]).toEqual([503, 'busy']);
  for (const run of runs) await api.nobody.call(stopRun, { params: { run } });
  expect((await Promise.all(replies)).map(({ problem }) => problem.code).sort()).toEqual(['busy', 'stopped', 'stopped', 'stopped', 'stopped']);
});

async function until<T>(ask: () => Promise<T | null>): Promise<T> {
  for (let turn = 0; turn < 400; turn += 1) {
    const answer = await ask();
    if (answer !== null) return answer;
    await new Promise((resolve) => setTimeout(resolve, 25));
  }
  throw new Error('it never came about');
}
