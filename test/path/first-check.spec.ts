import { afterAll, beforeAll, expect, it } from 'vitest';
import type { AnswerOf, Endpoint, RequestOf } from '#contract/endpoint';
import { decideSpecification, listProposals, setSecondPerson } from '#contract/approvals';
import { recordCheck } from '#contract/inspections';
import { addUsualCharacteristics, createCheckPlan, createLine, createMachine, createProduct, createSpecification, createStep, getPlant } from '#contract/plant';
import { firstRun, getSession, type SessionView } from '#contract/users';
import { startApi, type TestApi } from '../db/api.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';

let database: TestDatabase;
let api: TestApi;
beforeAll(async () => { database = await freshDatabase(); api = await startApi(database); });
afterAll(async () => { await api.close(); await database.close(); });

it('leads from an empty installation to the verdict of a first check through the door alone', async () => {
  expect((await api.nobody.call(getSession, {})).body).toMatchObject({ firstRun: true, plant: null, demoAccounts: [] });
  const owner = { plantName: 'My plant', timeZone: 'Europe/Lisbon', login: 'owner', name: 'The owner', password: 'a password of twelve and more' };
  const nowhere = await api.nobody.call(firstRun, { body: { ...owner, timeZone: 'Mars/Crater' } });
  expect([nowhere.status, nowhere.problem.errors?.[0]?.field]).toEqual([400, 'timeZone']);
  const made = await api.nobody.raw({ method: 'POST', url: firstRun.path, payload: owner });
  expect(made.status).toBe(201);
  expect((await api.nobody.call(firstRun, { body: owner })).problem.code).toBe('first-run-done');
  const headers = { cookie: made.headers['set-cookie']?.split(';')[0] ?? '', 'x-csrf-token': (made.body as SessionView).csrf ?? '' };
  const post = async <E extends Endpoint>(endpoint: E, body: NonNullable<RequestOf<E>['body']>): Promise<AnswerOf<E>> => {
    const reply = await api.nobody.raw({ method: 'POST', url: endpoint.path, payload: body as object, headers });
    expect([reply.status, reply.text.slice(0, 300)]).toEqual([201, expect.any(String)]);
    return endpoint.answer.parse(reply.body) as AnswerOf<E>;
  };

  const { id: lineId } = await post(createLine, { code: 'L1', name: 'Line 1', lanes: [] });
  const { id: stepId } = await post(createStep, { lineId, kind: 'seamer' });
  const { id: machineId } = await post(createMachine, { stepId, code: 'SE1', name: 'Seamer 1', units: ['H1'] });
  const { id: productId } = await post(createProduct, { code: 'R73', name: 'Round 73', customer: 'A customer', diameter: 73.3, height: 110, bodyPlate: 0.16, endPlate: 0.2, seamProfile: 'mini', overlapFactor: 1 });
  expect(await post(addUsualCharacteristics, { codes: ['body-hook', 'cover-hook', 'seam-length', 'seam-overlap'] })).toEqual({ added: 4 });
  const read = async () => getPlant.answer.parse((await api.nobody.raw({ method: 'GET', url: getPlant.path, headers })).body);
  const overlap = (await read()).characteristics.find((entry) => entry.code === 'seam-overlap')?.id ?? 0;
  await post(createSpecification, { productId, characteristicId: overlap, lsl: 1.1, target: null, usl: null, effectiveFrom: '2026-01-01T00:00:00Z', reason: 'what the customer asks' });
  // A plant with one person: the second one is switched off, and the same person approves with the password.
  const [proposed] = listProposals.answer.parse((await api.nobody.raw({ method: 'GET', url: listProposals.path, headers })).body);
  const decide = { url: decideSpecification.path.replace(':id', String(proposed?.id)), payload: { decision: 'approved', contentHash: proposed?.contentHash, password: owner.password } };
  expect((await api.nobody.raw({ method: 'POST', ...decide, headers })).problem.code).toBe('wrong-state');
  expect((await api.nobody.raw({ method: 'PUT', url: setSecondPerson.path, payload: { secondPerson: false, reason: 'one engineer here' }, headers })).status).toBe(200);
  expect((await api.nobody.raw({ method: 'POST', ...decide, headers })).status).toBe(201);
  const { id: planId } = await post(createCheckPlan, { machineId, productId, name: 'Teardown', cans: 1, perUnit: true, perLane: false, positions: ['60°', '180°'], characteristics: ['body-hook', 'cover-hook', 'seam-length'], everyMinutes: 240, intervalSource: '' });
  const unitId = (await read()).lines[0]?.steps[0]?.machines[0]?.units[0]?.id;

  const verdict = await post(recordCheck, {
    key: 'the-first-check', machineId, productId, planId, takenAt: '2026-05-01T08:00:00Z', cans: [{ number: 1, unitId }], positions: ['60°', '180°'], confirmed: false,
    characteristics: [{ code: 'body-hook', readings: [1.8, 1.8] }, { code: 'cover-hook', readings: [1.6, 1.6] }, { code: 'seam-length', readings: [2.9, 2.9] }],
  });
  // Body hook + cover hook + k x end plate - seam length: 1.8 + 1.6 + 0.2 - 2.9 mm. No limits exist, so nothing is judged.
  const derived = verdict.subgroups.find((subgroup) => subgroup.characteristic === 'seam-overlap');
  expect(derived).toMatchObject({ machineUnit: 'H1', status: 'not-judged', outsideSpecification: 2 });
  expect(derived?.mean).toBeCloseTo(0.7, 9);
});
