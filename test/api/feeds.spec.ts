import { execFile } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { allEndpoints } from '#contract/all-endpoints';
import { type BatchAnswer, listFeedTokens, makeFeedToken, type NewFeedToken, revokeFeedToken } from '#contract/feeds';
import { type CheckVerdict, getCheck } from '#contract/inspections';
import { listAudit } from '#contract/users';
import { verifyRecords } from '../../apps/api/src/flows/verify-records.js';
import { startApi, type TestApi } from '../db/api.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';
import { makePlant, type TestPlant } from '../factories/plant.js';

let database: TestDatabase;
let api: TestApi;
let plant: TestPlant;
let now = new Date('2026-05-04T08:00:00Z');
beforeAll(async () => { database = await freshDatabase(); plant = await makePlant(database.work); api = await startApi(database, { now: () => now }); });
afterAll(async () => { await api.close(); await database.close(); });

let count = 0;
async function makeToken(more: Partial<NewFeedToken> = {}) {
  count += 1;
  const { status, body } = await api.as('engineer').call(makeFeedToken, { body: { name: `Gauge ${count}`, scopes: ['checks'], expiresAt: '2026-12-31T00:00:00Z', ...more } });
  expect(status, JSON.stringify(body)).toBe(201);
  return body;
}
const by = (token: string, url: string, payload: object) => api.nobody.raw({ method: 'POST', url, payload, headers: { authorization: `Bearer ${token}` } });
const overlapCheck = (key: string, more: object = {}) => ({ key, machine: 'BM1', product: 'T65', takenAt: '2026-05-04T07:30:00Z', cans: [{ number: 1 }, { number: 2 }], positions: ['front', 'back'], characteristics: [{ code: 'weld-overlap', gauge: 'MIC-1', readings: [0.41, 0.42, 0.43, 0.4] }], ...more });

it('lets a token send a check by codes, without a session, and names the token wherever the check shows', async () => {
  const { token, made } = await makeToken({ name: 'Weld gauge' });
  expect(made).toMatchObject({ state: 'active', machines: [], perMinute: 120, lastUsedAt: null, createdBy: 'Test engineer' });
  const { status, body } = await by(token, '/api/checks', overlapCheck('weld-gauge-0001'));
  expect(status, JSON.stringify(body)).toBe(201);
  const { checkId } = body as CheckVerdict;
  const check = (await api.as('manager').call(getCheck, { params: { id: checkId } })).body;
  expect(check).toMatchObject({ enteredBy: `Weld gauge (token ${made.id})`, inspector: `Weld gauge (token ${made.id})`, source: 'feed', machine: { code: 'BM1' } });
  expect(check.characteristics[0]).toMatchObject({ gauge: 'MIC-1 Seam micrometer 1', readings: [0.41, 0.42, 0.43, 0.4] });
  const [entry] = (await api.as('manager').call(listAudit, { query: { subject: `check ${checkId}` } })).body;
  expect(entry).toMatchObject({ actor: `Weld gauge (token ${made.id})`, action: 'readings.recorded' });
  expect((await api.as('engineer').call(listFeedTokens, {})).body.find(({ id }) => id === made.id)?.lastUsedAt).toBe(now.toISOString());
});

it('takes the same check by ids as the same content, and another one under that key not', async () => {
  const { token } = await makeToken();
  const byCode = await by(token, '/api/checks', overlapCheck('one-and-the-same'));
  const { machine: _m, product: _p, ...rest } = overlapCheck('one-and-the-same');
  const byId = await by(token, '/api/checks', { ...rest, machineId: plant.machines.bodyMaker, productId: plant.productId, characteristics: [{ code: 'weld-overlap', gaugeId: plant.gaugeId, readings: [0.41, 0.42, 0.43, 0.4] }] });
  expect(byId.body).toMatchObject({ checkId: (byCode.body as CheckVerdict).checkId, repeated: true });
  const other = await by(token, '/api/checks', overlapCheck('one-and-the-same', { takenAt: '2026-05-04T07:31:00Z' }));
  expect([other.status, other.problem.code]).toEqual([409, 'key-reused']);
});

it('names the field of each code that means nothing here', async () => {
  const { token } = await makeToken();
  const unknown = await by(token, '/api/checks', overlapCheck('unknown-codes', { machine: 'BM9', product: '__proto__', cans: [{ number: 1, unit: 'H1' }, { number: 2 }] }));
  expect([unknown.status, unknown.problem.errors?.map(({ field }) => field)]).toEqual([400, ['machine', 'product', 'cans.0.unit']]);
  expect(unknown.problem.errors?.[0]?.expected).toBe('the code of a machine of this plant, not "BM9"');
  const both = await by(token, '/api/checks', overlapCheck('both-given', { machineId: plant.machines.bodyMaker }));
  expect(both.problem.errors).toEqual([{ field: 'machine', expected: 'either the code (machine) or the id (machineId), not both' }]);
  const neither = await by(token, '/api/checks', overlapCheck('none-given', { machine: undefined }));
  expect(neither.problem.errors).toEqual([{ field: 'machineId', expected: 'the id, or the code as "machine"' }]);
});

it('refuses a token that is unknown, expired or revoked, and one without the scope or for another machine', async () => {
  const codeOf = async (token: string, url: string, payload: object) => { const { status, problem } = await by(token, url, payload); return [status, problem.code]; };
  expect(await codeOf('feed_guessed', '/api/checks', overlapCheck('guessed-token'))).toEqual([401, 'token-refused']);
  const short = await makeToken({ expiresAt: '2026-05-04T09:00:00Z' });
  const revoked = await makeToken();
  const flanger = await makeToken({ machineIds: [plant.machines.flanger], scopes: ['checks', 'counts', 'line-events'] });
  expect(await codeOf(flanger.token, '/api/checks', overlapCheck('other-machine'))).toEqual([403, 'not-allowed']);
  expect(await codeOf(flanger.token, '/api/production-counts', { counts: [{ machineId: plant.machines.seamer, at: '2026-05-04T07:00:00Z', minutes: 1, good: 600 }] })).toEqual([403, 'not-allowed']);
  expect(await codeOf(flanger.token, '/api/line-events', { lineId: plant.lineId, kind: 'stop', at: '2026-05-04T07:00:00Z', text: 'whole line' })).toEqual([403, 'not-allowed']);
  expect((await by(flanger.token, '/api/line-events', { lineId: plant.lineId, machineId: plant.machines.flanger, kind: 'stop', at: '2026-05-04T07:00:00Z', text: 'jammed' })).body).toMatchObject({ actor: expect.stringContaining(`token ${flanger.made.id}`) });
  expect((await by(flanger.token, '/api/production-counts', { counts: [{ machineId: plant.machines.flanger, at: '2026-05-04T07:00:00Z', minutes: 1, good: 600 }] })).body).toEqual({ stored: 1, changed: 0, same: 0 });
  expect((await by(flanger.token, '/api/counts/readings', { readings: [{ machineId: plant.machines.flanger, at: '2026-05-04T07:00:00Z', good: 600 }] })).body).toMatchObject({ stored: 1, refused: [] });
  expect(await codeOf(flanger.token, '/api/counts/readings', { readings: [{ machineId: plant.machines.seamer, at: '2026-05-04T07:00:00Z', good: 600 }] })).toEqual([403, 'not-allowed']);
  expect(await codeOf(revoked.token, '/api/production-counts', { counts: [] })).toEqual([403, 'not-allowed']);
  const gone = await api.as('administrator').call(revokeFeedToken, { params: { id: revoked.made.id }, body: { reason: 'the gauge was sold' } });
  expect(gone.body).toMatchObject({ state: 'revoked', revokedBy: 'Test administrator', revokeReason: 'the gauge was sold' });
  expect((await api.as('engineer').call(revokeFeedToken, { params: { id: revoked.made.id }, body: { reason: 'again' } })).status).toBe(409);
  expect(await codeOf(revoked.token, '/api/checks', overlapCheck('revoked-token'))).toEqual([401, 'token-refused']);
  const before = now;
  now = new Date('2026-05-04T09:00:00Z');
  expect(await codeOf(short.token, '/api/checks', overlapCheck('expired-token'))).toEqual([401, 'token-refused']);
  now = before;
});

it('answers 429 with Retry-After over the limit of a minute, and lets the token in again after it', async () => {
  const { token } = await makeToken({ perMinute: 2 });
  const send = (key: string) => by(token, '/api/checks', overlapCheck(key, { takenAt: '2026-05-04T07:45:00Z' }));
  expect([(await send('limit-no-1')).status, (await send('limit-no-2')).status]).toEqual([201, 201]);
  now = new Date(now.getTime() + 20_000);
  const third = await send('limit-no-3');
  expect([third.status, third.problem.code, third.headers['retry-after']]).toEqual([429, 'too-many-requests', '40']);
  now = new Date(now.getTime() + 40_000);
  expect((await send('limit-no-3')).status).toBe(201);
});

it('takes a token only where the contract says so, whatever its scopes', async () => {
  const { token } = await makeToken({ scopes: ['checks', 'counts', 'line-events'], perMinute: 6000 });
  const taking = allEndpoints.filter(({ endpoint }) => endpoint.feed).map(({ name, endpoint }) => `${name}: ${endpoint.feed}`).sort();
  expect(taking).toEqual(['recordCheck: checks', 'recordChecks: checks', 'recordCounterReadings: counts', 'recordLineEvent: line-events', 'recordProductionCounts: counts']);
  for (const { name, endpoint } of allEndpoints.filter(({ endpoint }) => endpoint.access !== 'public')) {
    const url = endpoint.path.replace(/:[A-Za-z]+/g, '999999');
    const { status, problem } = await api.nobody.raw({ method: endpoint.method, url, ...(endpoint.method === 'GET' ? {} : { payload: {} }), headers: { authorization: `Bearer ${token}` } });
    if (endpoint.feed) expect([status, problem.code], name).toEqual([400, 'invalid-input']);
    else expect([status, problem.code], name).toEqual([403, 'not-allowed']);
  }
});

it('makes no token that is no use: expired, without scope, for a machine of nobody, or called like another', async () => {
  const attempt = async (body: Partial<NewFeedToken>) => { const { status, problem } = await api.as('engineer').call(makeFeedToken, { body: { name: 'Attempt', scopes: ['checks'], expiresAt: '2026-12-31T00:00:00Z', ...body } }); return [status, problem.errors?.map(({ field }) => field)]; };
  expect(await attempt({ expiresAt: '2026-05-04T00:00:00Z' })).toEqual([400, ['expiresAt']]);
  expect(await attempt({ scopes: [] })).toEqual([400, ['scopes']]);
  expect(await attempt({ machineIds: [plant.machines.seamer, 999_999] })).toEqual([400, ['machineIds.1']]);
  const { made } = await makeToken({ name: 'Named once' });
  expect(await attempt({ name: 'Named once' })).toEqual([409, ['name']]);
  await api.as('engineer').call(revokeFeedToken, { params: { id: made.id }, body: { reason: 'name wanted again' } });
  expect((await makeToken({ name: 'Named once' })).made.id).not.toBe(made.id);
  const stored = await database.work.client.feedToken.findMany();
  expect(stored.every(({ tokenHash }) => /^[0-9a-f]{64}$/.test(tokenHash))).toBe(true);
});

it('stores the good checks of a batch, knows the repeated ones, and says of each refused one which field and why', async () => {
  const { token, made } = await makeToken({ machineIds: [plant.machines.bodyMaker] });
  const at = (minute: number) => ({ takenAt: `2026-05-04T06:${String(minute).padStart(2, '0')}:00Z` });
  const first = await by(token, '/api/checks/batch', { checks: [overlapCheck('batch-one', at(1))] });
  expect(first.body).toMatchObject({ stored: 1, repeated: 0, refused: 0 });
  const checks = [
    overlapCheck('batch-one', at(1)), overlapCheck('batch-two', at(2)), overlapCheck('batch-implausible', { ...at(3), characteristics: [{ code: 'weld-overlap', readings: [0.4, 4.2, 0.4, 0.4] }] }), 'no check at all',
    overlapCheck('batch-two', at(9)), overlapCheck('batch-flanger', { ...at(4), machine: 'FL1' }), overlapCheck('batch-short', { ...at(5), characteristics: [{ code: 'weld-overlap', readings: [0.4] }] }), overlapCheck('batch-last', at(6)),
  ];
  const { status, body } = await by(token, '/api/checks/batch', { checks });
  expect(status).toBe(200);
  const { results, ...counts } = body as BatchAnswer;
  expect(counts).toEqual({ stored: 2, repeated: 1, refused: 5 });
  expect(results.map(({ row, outcome, problem }) => [row, outcome, problem?.code, problem?.errors?.map((entry) => `${entry.row} ${entry.field}`)])).toEqual([
    [1, 'repeated', undefined, undefined], [2, 'stored', undefined, undefined], [3, 'refused', 'implausible-reading', ['3 characteristics.0.readings.1']], [4, 'refused', 'invalid-input', ['4 body']],
    [5, 'refused', 'key-reused', undefined], [6, 'refused', 'not-allowed', ['6 machine']], [7, 'refused', 'invalid-input', ['7 characteristics.0.readings']], [8, 'stored', undefined, undefined],
  ]);
  const stored = await database.work.client.check.findMany({ where: { key: { startsWith: 'batch-' } }, orderBy: { key: 'asc' } });
  expect(stored.map(({ key, feed, enteredBy }) => [key, feed, enteredBy])).toEqual(['batch-last', 'batch-one', 'batch-two'].map((key) => [key, `${made.name} (token ${made.id})`, null]));
  const person = await api.as('technician').raw({ method: 'POST', url: '/api/checks/batch', payload: { checks: [overlapCheck('batch-person', at(7))] } });
  expect(person.body).toMatchObject({ stored: 1 });
  expect(await database.work.client.check.findFirst({ where: { key: 'batch-person' } })).toMatchObject({ enteredBy: plant.users.technician, feed: null, source: 'entry' });
  for (const checks of [[], {}, Array.from({ length: 501 }, () => 1)]) expect((await by(token, '/api/checks/batch', { checks })).problem.errors?.[0]?.field).toBe('checks');
});

it('stores a line event that a feed sends twice once', async () => {
  const { token } = await makeToken({ scopes: ['line-events'] });
  const event = { lineId: plant.lineId, machineId: plant.machines.seamer, kind: 'jam', at: '2026-05-04T06:30:00Z', text: 'can jammed in the infeed' };
  const ids = await Promise.all([1, 2, 3].map(async () => ((await by(token, '/api/line-events', event)).body as { id: number }).id));
  expect(new Set(ids).size).toBe(1);
  expect(await database.work.client.lineEvent.count({ where: { text: event.text } })).toBe(1);
});

it('takes counts, counter readings and line events by code, and names the row of a code that means nothing', async () => {
  const { token } = await makeToken({ scopes: ['counts', 'line-events'] });
  const at = '2026-05-04T05:00:00Z';
  const refusals = async (url: string, payload: object) => { const { status, problem } = await by(token, url, payload); return [status, ...(problem.errors ?? []).map(({ field, row, expected }) => `${row ?? ''} ${field}: ${expected}`)]; };
  expect(await refusals('/api/production-counts', { counts: [{ machine: 'BM1', at, minutes: 1, good: 1 }, { machine: 'BM9', at, minutes: 1, good: 1 }] })).toEqual([400, '2 counts.1.machine: the code of a machine of this plant, not "BM9"']);
  expect(await refusals('/api/counts/readings', { readings: [{ machine: 'BM9', at, good: 1 }] })).toEqual([400, '1 readings.0.machine: the code of a machine of this plant, not "BM9"']);
  expect(await refusals('/api/production-counts', { counts: [{ at, minutes: 1, good: 1 }] })).toEqual([400, ' counts.0.machineId: the id, or the code as "machine"']);
  const event = { kind: 'stop', at, text: 'by code' };
  expect(await refusals('/api/line-events', { ...event, machine: 'BM9' })).toEqual([400, ' machine: the code of a machine of this plant, not "BM9"']);
  expect(await refusals('/api/line-events', { ...event, line: 'L9' })).toEqual([400, ' line: the code of a line of this plant, not "L9"']);
  expect(await refusals('/api/line-events', event)).toEqual([400, ' lineId: the id, or the code as "line"']);
  expect(await refusals('/api/line-events', { ...event, machineId: 999_999 })).toEqual([400, ' machineId: a machine of this plant']);
  const wholeLine = (await by(token, '/api/line-events', { ...event, line: 'T1' })).body as { id: number };
  expect(wholeLine).toMatchObject({ lineId: plant.lineId, machineId: null });
  expect((await by(token, '/api/line-events', { ...event, lineId: plant.lineId })).body).toMatchObject({ id: wholeLine.id });
  const one = await makeToken({ machineIds: [plant.machines.flanger], scopes: ['counts', 'line-events'] });
  expect((await by(one.token, '/api/line-events', { ...event, machine: 'BM1' })).problem.code).toBe('not-allowed');
  expect((await by(one.token, '/api/production-counts', { counts: [{ machine: 'BM1', at, minutes: 1, good: 1 }] })).problem.code).toBe('not-allowed');
});

it('takes what the page for gauges shows: the curl lines, and the Node.js example, run as it stands', async () => {
  const here = (name: string) => new URL(`../../${name}`, import.meta.url);
  const inTestPlant = (text: string) => text.replaceAll('BM11', 'BM1').replaceAll('A65', 'T65');
  const { token } = await makeToken({ scopes: ['checks', 'counts', 'line-events'] });
  const shown = [...readFileSync(here('apps/api/feeds.md'), 'utf8').matchAll(/curl -sS http:\/\/127\.0\.0\.1:4310(\S+) \\[^']*'Content-Type: application\/json' \\\s+-d '([^']+)'/g)];
  const answers = await Promise.all(shown.map(async ([, url = '', body = '']) => [url, await by(token, url, JSON.parse(inTestPlant(body)) as object)] as const));
  expect(answers.map(([url, { status, body }]) => [url, status, body])).toEqual([
    ['/api/checks', 201, expect.objectContaining({ status: 'not-judged' })], ['/api/production-counts', 200, { stored: 1, changed: 0, same: 0 }],
    ['/api/counts/readings', 200, expect.objectContaining({ stored: 2, refused: [], spans: { stored: 1, changed: 0, removed: 0 } })], ['/api/line-events', 201, expect.objectContaining({ machine: 'BM1', kind: 'wire-change' })],
  ]);

  const program = here('seed/examples/send-checks.mjs');
  expect(readFileSync(program, 'utf8').trim().split('\n').length).toBeLessThanOrEqual(30);
  await api.app.listen(0, '127.0.0.1');
  const folder = mkdtempSync(path.join(tmpdir(), 'seamledger-gauge-'));
  const run = async (checks: unknown) => {
    writeFileSync(path.join(folder, 'checks.json'), JSON.stringify(checks));
    return promisify(execFile)(process.execPath, [fileURLToPath(program), path.join(folder, 'checks.json')], { env: { ...process.env, SEAMLEDGER_URL: await api.app.getUrl(), SEAMLEDGER_TOKEN: token } })
      .then(({ stdout }) => ({ code: 0, stdout }), ({ code, stdout }: { code: number; stdout: string }) => ({ code, stdout }));
  };
  const checks = JSON.parse(inTestPlant(readFileSync(here('seed/examples/gauge-checks.json'), 'utf8'))) as object[];
  expect(await run(checks)).toEqual({ code: 0, stdout: '2 stored, 0 known before, 0 refused\n' });
  const again = await run([...checks, { ...checks[0], key: 'of an unknown machine', machine: 'BM77' }]);
  expect([again.code, again.stdout.split('\n')[0]]).toEqual([1, '0 stored, 2 known before, 1 refused']);
  expect(again.stdout).toContain('machine: the code of a machine of this plant, not "BM77"');
  rmSync(folder, { recursive: true });
});

it('seals what tokens sent like everything else: the verification of the records finds nothing amiss, and a changed sender', async () => {
  expect((await verifyRecords(database.work.read, plant.plantId)).checkFaults).toEqual([]);
  const [one] = await database.work.client.check.findMany({ where: { plantId: plant.plantId, NOT: { feed: null } }, select: { id: true, feed: true }, take: 1 });
  await database.work.client.check.updateMany({ where: { id: one?.id ?? 0 }, data: { feed: 'somebody else' } });
  expect((await verifyRecords(database.work.read, plant.plantId)).checkFaults).toEqual([{ checkId: one?.id, kind: 'changed' }]);
});
