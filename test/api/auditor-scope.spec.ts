import { afterAll, beforeAll, expect, it } from 'vitest';
import { allEndpoints } from '#contract/all-endpoints';
import { type Endpoint, mayUse } from '#contract/endpoint';
import { getIncident, listIncidents } from '#contract/incidents';
import { getCheck, listChecks, newCheck } from '#contract/inspections';
import { createNote } from '#contract/knowledge';
import { getPack, listPacks, verifyPackEndpoint } from '#contract/packs';
import { getPlant } from '#contract/plant';
import { listSignatures } from '#contract/records';
import { getSignal, listSignals } from '#contract/signals';
import { getChart, listStreams } from '#contract/specifications';
import { getSession, listUsers } from '#contract/users';
import { freezePack } from '../../apps/api/src/flows/packs/freeze-pack.js';
import { storePack } from '../../apps/api/src/flows/packs/make-pack.js';
import { recordReadings } from '../../apps/api/src/flows/record-readings.js';
import { startApi, type TestApi } from '../db/api.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';
import { makePlant, type TestPlant } from '../factories/plant.js';

// Customers A and B, and for A a time outside the period of its auditor: markers of both must never reach that auditor.
const A = 'Ashcombe Orchards';
const [B_MARK, OUTSIDE] = ['Bramblewick', 'long-before'];
const FROM = new Date('2026-03-01T00:00:00Z');
const UNTIL = new Date('2026-03-08T00:00:00Z');
const [inside, outside] = [Date.UTC(2026, 2, 2, 8), Date.UTC(2026, 1, 2, 8)];
const now = new Date('2026-03-09T12:00:00Z');

type Side = { product: number; streams: number[]; checks: number[]; signals: number[]; incident: number; limits: number; specification: number; photo: number; note: number; pack: number };
let database: TestDatabase;
let api: TestApi;
let plant: TestPlant;
let [a, b, old] = [undefined as unknown as Side, undefined as unknown as Side, undefined as unknown as Side];

beforeAll(async () => {
  database = await freshDatabase();
  plant = await makePlant(database.work);
  api = await startApi(database, { now: () => now });
  a = await fill(A, 'apple', inside);
  b = await fill(`${B_MARK} Foods`, B_MARK, inside);
  old = await fill(A, OUTSIDE, outside, a);
  for (const [side, customer, mark, start] of [[a, A, 'apple', inside], [b, `${B_MARK} Foods`, B_MARK, inside], [old, A, OUTSIDE, outside]] as const) side.pack = await freeze(customer, mark, start, side.product);
  await database.work.client.auditorScope.update({ where: { plantId_userId: { plantId: plant.plantId, userId: plant.users.auditor } }, data: { customer: A, fromAt: FROM, untilAt: UNTIL } });
  await api.react();
}, 120_000);
afterAll(async () => { await api.close(); await database.close(); });

/** Checks that raise a signal, limits, a specification, an incident with photo, signal and note; every text carries the mark. `of`: on the product and stream of another side. */
async function fill(customer: string, mark: string, start: number, of?: Side): Promise<Side> {
  const db = database.work.client;
  const { plantId, users } = plant;
  const product = of?.product ?? (await db.product.create({ data: { plantId, code: `P-${mark}`, name: `Can of ${mark}`, customer, diameter: 65.3, height: 104, bodyPlate: 0.15, endPlate: 0.19, seamProfile: 'mini', overlapFactor: 1 } })).id;
  const characteristicId = plant.characteristics['body-hook'];
  const stream = of?.streams[0] ?? (await db.stream.create({ data: { plantId, productId: product, machineId: plant.machines.seamer, unitId: plant.headIds[0], characteristicId, chartKind: 'i-mr', basis: 'can', rules: ['beyond-limits', 'two-of-three', 'four-of-five', 'eight-in-a-row'] } })).id;
  const limits = (await db.limits.create({ data: { plantId, streamId: stream, kind: 'i-mr', centre: 1.75, sigma: 0.05 / 3, spreadCentre: 0.02, subgroups: 25, readings: 25, baselineFrom: new Date(start - 86_400_000), baselineTo: new Date(start - 3_600_000), effectiveFrom: new Date(start - 3_600_000), authorId: users.engineer, reason: `limits of ${mark}` } })).id;
  const specification = (await db.specification.create({ data: { plantId, productId: product, characteristicId, revision: of ? 2 : 1, lsl: 1.6, target: 1.75, usl: 1.9, effectiveFrom: new Date(start - 86_400_000), authorId: users.engineer, reason: of ? 'revised' : `specification of ${mark}` } })).id;
  const stored = await database.work.run((tx) => recordReadings(tx, { plantId, userId: users.technician, name: 'Test technician' }, [1.75, 1.74, 1.99, ...(of ? [1.75, 1.74, 1.76, 1.75, 1.74, 1.76, 1.75, 1.74, 1.76, 1.75] : []), 1.75, 1.76, 1.75].map((value, index) => newCheck.parse({
    key: `check-of-${mark}-${index}`, machineId: plant.machines.seamer, productId: product, takenAt: new Date(start + index * 1_800_000).toISOString(), inspector: `for ${mark}`, note: `note about ${mark}`,
    cans: [{ number: 1, unitId: plant.headIds[0] }], positions: ['a'], characteristics: [{ code: 'body-hook', readings: [value] }],
  })), { now, source: 'entry' }));
  const signals = (await db.signal.findMany({ where: { plantId, streamId: stream, firedAt: { gte: new Date(start), lt: new Date(start + 86_400_000) } } })).map(({ id }) => id);
  await db.signal.updateMany({ where: { plantId, id: { in: signals } }, data: { cause: `cause in ${mark}` } });
  const at = new Date(start + 7_200_000);
  const incident = (await db.incident.create({ data: { plantId, kind: 'complaint', customer, productId: product, lineId: plant.lineId, canCode: `C-${mark}`, madeAt: new Date(start), receivedAt: at, cansComplained: 3, cansExamined: 3, cansLeaking: 1, leakPlace: 'seam', defect: 'droop', description: `leaks of ${mark}`, loggedBy: users.engineer } })).id;
  const photo = (await db.incidentPhoto.create({ data: { plantId, incidentId: incident, fileName: `${mark}.png`, contentType: 'image/png', bytes: mark.length, sha256: '0'.repeat(64), content: Buffer.from(mark), addedBy: users.engineer } })).id;
  for (const signalId of [...signals, ...(b?.signals ?? [])]) await db.incidentSignal.create({ data: { plantId, incidentId: incident, signalId, linkedBy: users.engineer, reason: mark } });
  await db.lineEvent.create({ data: { plantId, lineId: plant.lineId, kind: 'changeover', at, text: `changeover to ${mark}`, actor: 'Test engineer', machineId: null } });
  const note = await api.as('engineer').call(createNote, { body: { title: `Fix for ${mark}`, symptom: `symptom of ${mark}`, cause: `cause of ${mark}`, fix: `fix of ${mark}`, defect: 'droop', stepKind: 'seamer' } });
  expect(note.status).toBe(201);
  return { pack: 0, product, streams: [stream], checks: stored.checkIds, signals, incident, limits, specification, photo, note: note.body.id };
}

async function freeze(customer: string, mark: string, start: number, product: number): Promise<number> {
  const actor = { plantId: plant.plantId, userId: plant.users.engineer, name: 'Test engineer' };
  const asked = { customer, title: `Evidence of ${mark}`, products: [product], studies: [], from: new Date(start - 3_600_000).toISOString(), to: new Date(start + 86_400_000).toISOString() };
  return (await storePack(database.work, actor, await freezePack(database.work, plant.plantId, asked, { id: actor.userId, name: actor.name }, now), null)) ?? 0;
}

const idsOf = (side: Side) => [...new Set([side.product, ...side.streams, ...side.checks, ...side.signals, side.incident, side.limits, side.specification, side.photo, side.note, side.pack].filter((id) => id > 0))];
const shapeOf = (part: unknown): string[] => Object.keys((part as { shape?: object } | undefined)?.shape ?? {});
const KINDS = ['check', 'limits', 'specification', 'incident', 'hold', 'study', 'pack'];

/** Every GET route with one id at all places of an id, over all of time, with the mark where a text is searched for. */
function requestsWith(endpoint: Endpoint, ids: readonly number[], mark: string): string[] {
  const queryKeys = shapeOf(endpoint.query);
  const urls = ids.flatMap((id) => (queryKeys.includes('kind') ? KINDS : ['']).map((kind) => {
    const path = endpoint.path.replace(/:[A-Za-z]+/g, String(id));
    const query = queryKeys.flatMap((key): [string, string][] => {
      if (key === 'kind') return [[key, kind]];
      if (['from', 'baselineFrom'].includes(key)) return [[key, '2026-01-01T00:00:00Z']];
      if (['to', 'until'].includes(key)) return [[key, '2026-04-01T00:00:00Z']];
      if (key === 'takenAt') return [[key, new Date(inside).toISOString()]];
      if (key === 'sequence') return [[key, '1']];
      if (['q', 'text', 'words', 'customer', 'code'].includes(key)) return [[key, mark]];
      if (key === 'subject') return [[key, `check ${id}`]];
      return ['product', 'machine', 'characteristic', 'stream', 'productId', 'lineId', 'recordId', 'streamId'].includes(key) ? [[key, key === 'machine' ? String(plant.machines.seamer) : key === 'characteristic' ? String(plant.characteristics['body-hook']) : String(id)]] : [];
    });
    return `${path}?${new URLSearchParams(query)}`;
  }));
  return [...new Set([...urls, endpoint.path.replace(/:[A-Za-z]+/g, String(ids[0]))])];
}

async function answersWith(role: 'auditor' | 'engineer', marks: readonly string[], ids: readonly number[]): Promise<{ url: string; text: string }[]> {
  const found: { url: string; text: string }[] = [];
  for (const { endpoint } of allEndpoints) {
    if (endpoint.method !== 'GET' || endpoint.answerType === 'text/event-stream' || (endpoint.access === 'public' && endpoint.feature === 'workbench')) continue;
    for (const url of requestsWith(endpoint, ids, marks[0] as string)) {
      const { status, text } = await api.as(role).raw({ method: 'GET', url });
      expect(status, `${url} as ${role}: ${text.slice(0, 200)}`).toBeLessThan(500);
      // What was asked for comes back in refusals: only answers count.
      if (status < 300 && marks.some((mark) => text.includes(mark))) found.push({ url, text: text.slice(0, 300) });
    }
  }
  return found;
}

it('gives the auditor of A nothing of B, by any route and any id, while an engineer finds B in many', { timeout: 240_000 }, async () => {
  expect(b.signals.length).toBeGreaterThan(0);
  const ids = idsOf(b);
  expect(new Set((await answersWith('engineer', [B_MARK], ids)).map(({ url }) => url.split(/[?\d]/)[0])).size).toBeGreaterThan(10);
  expect(await answersWith('auditor', [B_MARK], ids)).toEqual([]);
});

it('gives nothing of A from outside the period', { timeout: 240_000 }, async () => {
  expect(old.signals.length).toBeGreaterThan(0);
  const ids = idsOf(old).filter((id) => !idsOf(a).includes(id) || [...old.checks, ...old.signals, old.incident].includes(id));
  expect((await answersWith('engineer', [OUTSIDE], ids)).length).toBeGreaterThan(5);
  // Their own pack tells which limits and specifications stood before its period, and why: nothing else of that time.
  const ofTheirPack = `/api/packs/${a.pack}/pack.json`;
  expect((await answersWith('auditor', [OUTSIDE], [...ids, a.product, ...a.streams])).filter(({ url }) => !url.startsWith(ofTheirPack))).toEqual([]);
  const { content } = JSON.parse((await api.as('auditor').raw({ method: 'GET', url: ofTheirPack })).text);
  for (const subject of content.inputs.subjects) { subject.revisions = []; for (const stream of subject.streams) stream.limits = []; }
  expect(JSON.stringify(content)).not.toContain(OUTSIDE);
});

it('gives no news and takes no wish: the event stream and every route that the contract does not open are refused', async () => {
  for (const { name, endpoint } of allEndpoints.filter(({ endpoint }) => !mayUse(endpoint, 'auditor'))) {
    const { status } = await api.as('auditor').raw({ method: endpoint.method, url: endpoint.path.replace(/:[A-Za-z]+/g, '1'), ...(endpoint.method === 'GET' ? {} : { payload: {} }) });
    expect(status, name).toBe(403);
  }
});

it('gives what is theirs: the product, its chart in the period, checks, signals and the incident without notes of others', async () => {
  const auditor = api.as('auditor');
  expect((await auditor.call(getSession, {})).body.scope).toEqual({ customer: A, from: FROM.toISOString(), until: UNTIL.toISOString() });
  expect((await auditor.call(getPlant, {})).body.products.map(({ customer }) => customer)).toEqual([A]);
  const { streams } = (await auditor.call(listStreams, { query: {} })).body;
  expect(streams.map(({ id }) => id)).toEqual(a.streams);
  const chart = (await auditor.call(getChart, { params: { streamId: a.streams[0] as number }, query: {} })).body;
  expect(chart.points.takenAt).toHaveLength(6);
  expect(chart.older).toBe(false);
  // The first moving range would be the distance to a point of before the period.
  expect(chart.points.spread[0]).toBeNull();
  expect(chart.points.spread[1]).toBeCloseTo(0.01, 9);
  expect(chart.limits.map(({ id }) => id)).toEqual([a.limits]);
  expect((await auditor.call(listChecks, { query: {} })).body.checks.map(({ id }) => id).sort()).toEqual([...a.checks].sort());
  expect((await auditor.call(getCheck, { params: { id: a.checks[0] as number } })).status).toBe(200);
  expect((await auditor.call(listSignals, { query: { state: 'all' } })).body.signals.map(({ id }) => id).sort()).toEqual([...a.signals].sort());
  expect((await auditor.call(getSignal, { params: { id: a.signals[0] as number } })).body).toMatchObject({ events: [], notes: [], incidents: [{ id: a.incident }] });
  expect((await auditor.call(listIncidents, { query: {} })).body).toMatchObject({ total: 1, customers: [A] });
  const incident = (await auditor.call(getIncident, { params: { id: a.incident } })).body;
  expect(incident).toMatchObject({ id: a.incident, notes: [], eventList: [], verifications: [] });
  expect(incident.signalList.map(({ id }) => id).sort()).toEqual([...a.signals].sort());
});

it('gives the packs of their customer within their period: opens, downloads and verifies them, and no other', async () => {
  const auditor = api.as('auditor');
  const { packs, jobs } = (await auditor.call(listPacks, {})).body;
  expect([packs.map(({ id }) => id), jobs]).toEqual([[a.pack], []]);
  expect((await auditor.call(getPack, { params: { id: a.pack } })).body).toMatchObject({ customer: A, title: 'Evidence of apple' });
  expect((await auditor.call(verifyPackEndpoint, { params: { id: a.pack } })).body).toMatchObject({ equal: true, serious: 0, corrected: 0 });
  expect((await auditor.call(listSignatures, { query: { kind: 'pack', recordId: a.pack } })).body.signatures).toEqual([]);
  for (const kind of ['json', 'pdf', 'xlsx']) {
    const url = (id: number) => `/api/packs/${id}/pack.${kind}`;
    expect((await auditor.raw({ method: 'GET', url: url(a.pack) })).status, kind).toBe(200);
    for (const other of [b.pack, old.pack]) expect((await auditor.raw({ method: 'GET', url: url(other) })).problem, `${kind} of ${other}`).toMatchObject({ status: 404, code: 'not-found' });
  }
  // The line made cans for others, too: the changeover to theirs is in the pack, without their name.
  const { content } = JSON.parse((await auditor.raw({ method: 'GET', url: `/api/packs/${a.pack}/pack.json` })).text);
  expect(content.inputs.events.map(({ kind }: { kind: string }) => kind)).toContain('changeover');
  expect(JSON.stringify(content)).not.toContain(B_MARK);
});

it('answers the id of another customer like one that does not exist', async () => {
  for (const [url, missing] of [[`/api/checks/${b.checks[0]}`, '/api/checks/987654'], [`/api/incidents/${b.incident}`, '/api/incidents/987654'], [`/api/signals/${b.signals[0]}`, '/api/signals/987654'], [`/api/charts/${b.streams[0]}`, '/api/charts/987654'], [`/api/packs/${b.pack}`, '/api/packs/987654']] as const) {
    const [theirs, none] = [await api.as('auditor').raw({ method: 'GET', url }), await api.as('auditor').raw({ method: 'GET', url: missing })];
    const words = (problem: { detail?: string; status: number; code: string }) => [problem.status, problem.code, problem.detail?.replace(/\d+/g, '#')];
    expect(words(theirs.problem)).toEqual(words(none.problem));
    expect(theirs.status).toBe(404);
  }
});

it('shows an auditor without a scope only their own account, and ends an account that has expired', async () => {
  const scopes = database.work.client.auditorScope;
  const where = { plantId_userId: { plantId: plant.plantId, userId: plant.users.auditor } };
  await scopes.delete({ where });
  for (const { name, endpoint } of allEndpoints.filter(({ endpoint }) => endpoint.access !== 'public' && endpoint.method === 'GET' && mayUse(endpoint, 'auditor'))) {
    const { status } = await api.as('auditor').raw({ method: 'GET', url: endpoint.path.replace(/:[A-Za-z]+/g, '1') });
    expect(status, name).toBe(endpoint.auditor === 'own' ? 200 : 403);
  }
  await scopes.create({ data: { plantId: plant.plantId, userId: plant.users.auditor, customer: A, fromAt: FROM, untilAt: UNTIL, expiresAt: new Date(now.getTime() - 1) } });
  expect((await api.as('auditor').call(getPlant, {})).status).toBe(401);
  await scopes.update({ where, data: { expiresAt: new Date('2100-01-01T00:00:00Z') } });
  expect((await api.as('auditor').call(getPlant, {})).status).toBe(200);
});

it('lets an administrator set the scope of an auditor, of a customer that exists, and of nobody else', async () => {
  const administrator = api.as('administrator');
  const scope = { customer: A, from: FROM.toISOString(), until: UNTIL.toISOString(), expiresAt: '2026-04-01T00:00:00.000Z' };
  const made = await administrator.raw({ method: 'POST', url: '/api/users', payload: { login: 'guest', name: 'Guest auditor', role: 'auditor', password: 'a long enough one', scope } });
  expect(made).toMatchObject({ status: 201, body: { scope } });
  const wrong = async (payload: object) => (await administrator.raw({ method: 'POST', url: '/api/users', payload: { login: 'other', name: 'Other', role: 'auditor', password: 'a long enough one', ...payload } })).problem.errors?.map(({ field }) => field);
  expect(await wrong({ scope: { ...scope, customer: 'Nobody' } })).toEqual(['scope.customer']);
  expect(await wrong({ scope: { ...scope, until: scope.from } })).toEqual(['scope.until']);
  expect(await wrong({ role: 'engineer', scope })).toEqual(['scope']);
  expect((await administrator.call(listUsers, {})).body.some(({ login }) => login === 'other')).toBe(false);
  const id = (made.body as { id: number }).id;
  const changed = await administrator.raw({ method: 'PUT', url: `/api/users/${id}`, payload: { name: 'Guest auditor', role: 'engineer', disabled: false } });
  expect(changed).toMatchObject({ status: 200, body: { scope: null } });
});
