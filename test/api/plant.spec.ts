import { afterAll, beforeAll, expect, it } from 'vitest';
import {
  addUsualCharacteristics, changeCharacteristic, changeCheckPlan, changeGauge, changeLine, changeMachine, changeProduct, changeStep, createCharacteristic, createCheckPlan, createGauge,
  createLine, createMachine, createProduct, createSpecification, createStep, getPlant, listSpecifications, listUsualCharacteristics,
} from '#contract/plant';
import { listAudit } from '#contract/users';
import { startApi, type TestApi } from '../db/api.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';
import { makePlant, type TestPlant } from '../factories/plant.js';

let database: TestDatabase;
let api: TestApi;
let plant: TestPlant;
beforeAll(async () => { database = await freshDatabase(); plant = await makePlant(database.work); api = await startApi(database); });
afterAll(async () => { await api.close(); await database.close(); });

const engineer = () => api.as('engineer');
const fieldsOf = (reply: { status: number; problem: { code: string; errors?: { field: string }[] | undefined } }) => [reply.status, reply.problem.code, reply.problem.errors?.map((error) => error.field)];
const trailOf = async (subject: string) => (await api.as('manager').call(listAudit, { query: { subject } })).body;
const tree = async () => (await engineer().call(getPlant, {})).body;
const can = { name: 'Round can 73', customer: 'Invented foods', diameter: 73.3, height: 110, bodyPlate: 0.16, endPlate: 0.2, seamProfile: 'mini', overlapFactor: 1.1 };
const plan = { name: 'Teardown', cans: 1, perUnit: true, perLane: false, positions: ['60°', '180°', '300°'], characteristics: ['body-hook', 'cover-hook'], everyMinutes: 240, intervalSource: 'our own' };

it('builds a line whose steps stand in the order of the process, whatever the order of entry', async () => {
  const line = await engineer().call(createLine, { body: { code: 'N1', name: 'New line', lanes: [{ code: 'U', name: 'upper' }] } });
  expect(line.status).toBe(201);
  const lineId = line.body.id;
  for (const kind of ['seamer', 'body-maker', 'flanger']) expect((await engineer().call(createStep, { body: { lineId, kind } })).status).toBe(201);
  const kinds = async () => (await tree()).lines.find((entry) => entry.id === lineId)?.steps.map((step) => [step.position, step.kind]);
  expect(await kinds()).toEqual([[1, 'body-maker'], [2, 'flanger'], [3, 'seamer']]);
  expect(fieldsOf(await engineer().call(createStep, { body: { lineId, kind: 'magic' } }))).toEqual([400, 'invalid-input', ['kind']]);
  const flanger = (await tree()).lines.find((entry) => entry.id === lineId)?.steps[1]?.id ?? 0;
  expect((await engineer().call(changeStep, { params: { id: flanger }, body: { kind: 'tester' } })).status).toBe(200);
  expect(await kinds()).toEqual([[1, 'body-maker'], [2, 'seamer'], [3, 'tester']]);
  expect((await trailOf(`step ${flanger}`))[0]).toMatchObject({ action: 'step.changed', actor: 'Test engineer', before: { kind: 'flanger' }, after: { kind: 'tester' } });
  const changed = await engineer().call(changeLine, { params: { id: lineId }, body: { name: 'Renamed', addLanes: [{ code: 'L', name: 'lower' }] } });
  expect(changed.status).toBe(200);
  const shown = (await tree()).lines.find((entry) => entry.id === lineId);
  expect([shown?.name, shown?.position, shown?.lanes.map((lane) => [lane.position, lane.code])]).toEqual(['Renamed', 2, [[1, 'U'], [2, 'L']]]);
  expect(fieldsOf(await engineer().call(changeLine, { params: { id: lineId }, body: { name: 'Renamed', addLanes: [{ code: 'U', name: 'again' }] } }))).toEqual([409, 'already-there', ['addLanes']]);
  expect(fieldsOf(await engineer().call(createLine, { body: { code: 'N1', name: 'Same code' } }))).toEqual([409, 'already-there', ['code']]);
  expect(fieldsOf(await engineer().call(createLine, { body: { code: 'N2', name: 'Two halves', lanes: [{ code: 'A', name: 'a' }, { code: 'A', name: 'a' }] } }))).toEqual([400, 'invalid-input', ['lanes']]);
  expect((await tree()).lines.map((entry) => entry.code), 'a refused line leaves nothing behind').toEqual(['T1', 'N1']);
});

it('keeps the kind of a step that has machines, and retires a machine without losing it', async () => {
  const step = (await tree()).lines[0]?.steps.find((entry) => entry.kind === 'seamer')?.id ?? 0;
  expect((await engineer().call(changeStep, { params: { id: step }, body: { kind: 'tester' } })).problem.code).toBe('wrong-state');
  const made = await engineer().call(createMachine, { body: { stepId: step, code: 'SE2', name: 'Seamer 2', units: ['H1', 'H2'] } });
  expect(made.status).toBe(201);
  expect(fieldsOf(await engineer().call(createMachine, { body: { stepId: step, code: 'SE1', name: 'Again', units: [] } }))).toEqual([409, 'already-there', ['code']]);
  expect(fieldsOf(await engineer().call(createMachine, { body: { stepId: step, code: 'SE9', name: 'Twice', units: ['H1', 'H1'] } }))).toEqual([409, 'already-there', ['units']]);
  expect((await engineer().call(createMachine, { body: { stepId: 999_999, code: 'SE9', name: 'Nowhere', units: [] } })).status).toBe(404);
  const machine = async () => (await tree()).lines[0]?.steps.flatMap((entry) => entry.machines).find((entry) => entry.id === made.body.id);
  await engineer().call(changeMachine, { params: { id: made.body.id }, body: { name: 'Seamer two', retired: true, addUnits: ['H3'] } });
  expect(await machine()).toMatchObject({ name: 'Seamer two', retired: true, units: [{ code: 'H1', position: 1 }, { code: 'H2', position: 2 }, { code: 'H3', position: 3 }] });
  await engineer().call(changeMachine, { params: { id: made.body.id }, body: { name: 'Seamer two', retired: false, addUnits: [] } });
  expect((await machine())?.retired).toBe(false);
  expect((await trailOf(`machine ${made.body.id}`)).map((row) => row.action)).toEqual(['machine.changed', 'machine.changed', 'machine.made']);
});

it('takes products, and refuses lengths that no can has, by field', async () => {
  const made = await engineer().call(createProduct, { body: { code: 'R73', ...can } });
  expect(made.status).toBe(201);
  expect(fieldsOf(await engineer().call(createProduct, { body: { code: 'R73', ...can } }))).toEqual([409, 'already-there', ['code']]);
  expect(fieldsOf(await engineer().call(createProduct, { body: { code: 'R74', ...can, bodyPlate: 16, height: 0 } }))).toEqual([400, 'invalid-input', ['height', 'bodyPlate']]);
  await engineer().call(changeProduct, { params: { id: made.body.id }, body: { ...can, bodyPlate: 0.17, retired: true } });
  expect((await tree()).products.find((entry) => entry.id === made.body.id)).toMatchObject({ bodyPlate: 0.17, overlapFactor: 1.1, retired: true });
  expect((await trailOf(`product ${made.body.id}`))[0]).toMatchObject({ before: { bodyPlate: 0.16 }, after: { bodyPlate: 0.17, retired: true } });
  expect((await engineer().call(changeProduct, { params: { id: 999_999 }, body: { ...can, retired: false } })).status).toBe(404);
});

it('offers the usual characteristics once, without any specification, and takes others of known steps and formulas', async () => {
  const before = (await engineer().call(listUsualCharacteristics, {})).body;
  expect(before.filter((entry) => !entry.known).map((entry) => entry.code)).toEqual(['weld-current', 'stripe-film', 'body-hook-butting']);
  expect((await engineer().call(addUsualCharacteristics, { body: { codes: ['stripe-film', 'body-hook'] } })).body).toEqual({ added: 1 });
  expect((await engineer().call(addUsualCharacteristics, { body: { codes: ['stripe-film'] } })).body).toEqual({ added: 0 });
  expect(fieldsOf(await engineer().call(addUsualCharacteristics, { body: { codes: ['unheard-of'] } }))).toEqual([400, 'invalid-input', ['codes']]);
  const film = (await tree()).characteristics.find((entry) => entry.code === 'stripe-film');
  expect(film).toMatchObject({ unit: 'µm', chartKind: 'xbar-r', basis: 'can' });
  expect((await tree()).specifications.some((entry) => entry.characteristicId === film?.id)).toBe(false);
  const own = { code: 'bead-depth', unit: 'mm', stepKind: 'beader', name: 'Bead depth', gaugeStep: 0.01, decimals: 2, plausibleLow: 0.1, plausibleHigh: 1, chartKind: 'xbar-s' as const, basis: 'can' as const };
  const made = await engineer().call(createCharacteristic, { body: own });
  expect(made.status).toBe(201);
  expect(fieldsOf(await engineer().call(createCharacteristic, { body: own }))).toEqual([409, 'already-there', ['code']]);
  expect(fieldsOf(await engineer().call(createCharacteristic, { body: { ...own, code: 'other', stepKind: 'oven', formula: 'a+b', plausibleLow: 2 } }))).toEqual([400, 'invalid-input', ['stepKind', 'formula', 'plausibleHigh']]);
  const { code: _code, unit: _unit, stepKind: _step, ...rest } = own;
  expect((await engineer().call(changeCharacteristic, { params: { id: made.body.id }, body: { ...rest, name: 'Depth of bead', plausibleHigh: null } })).status).toBe(200);
  expect((await tree()).characteristics.find((entry) => entry.id === made.body.id)).toMatchObject({ name: 'Depth of bead', plausibleLow: 0.1, plausibleHigh: null });
});

it('changes a specification only by a further revision with author, reason and date; two authors at once get two numbers', async () => {
  const of = { productId: plant.productId, characteristicId: plant.characteristics['flange-width'] };
  const revise = (values: { lsl: number | null; target: number | null; usl: number | null }, effectiveFrom = '2026-01-01T00:00:00Z') => engineer().call(createSpecification, { body: { ...of, ...values, effectiveFrom, reason: 'drawing 7' } });
  expect(fieldsOf(await revise({ lsl: 3, target: null, usl: 2 }))).toEqual([400, 'invalid-input', ['usl']]);
  expect(fieldsOf(await revise({ lsl: 2, target: 4, usl: 3 }))).toEqual([400, 'invalid-input', ['target']]);
  expect(fieldsOf(await revise({ lsl: null, target: 2.5, usl: null }))).toEqual([400, 'invalid-input', ['lsl']]);
  const both = await Promise.all([revise({ lsl: 2, target: 2.5, usl: 3 }), revise({ lsl: 2.1, target: 2.5, usl: 2.9 }, '2026-02-01T00:00:00Z')]);
  expect(both.map((reply) => reply.status)).toEqual([201, 201]);
  await revise({ lsl: 2.2, target: null, usl: null }, '2099-01-01T00:00:00Z');
  const revisions = (await api.as('manager').call(listSpecifications, { query: { product: of.productId, characteristic: of.characteristicId } })).body;
  expect(revisions.map((row) => row.revision).sort()).toEqual([1, 2, 3]);
  expect(revisions[0]).toMatchObject({ revision: 3, state: 'proposed', decidedBy: null, lsl: 2.2, usl: null, author: 'Test engineer', reason: 'drawing 7', effectiveFrom: '2099-01-01T00:00:00.000Z' });
  expect((await tree()).specifications.find((row) => row.characteristicId === of.characteristicId), 'what is not approved is not in force').toBeUndefined();
  for (const id of both.map((reply) => reply.body.id)) await database.work.client.specification.update({ where: { plantId_id: { plantId: plant.plantId, id } }, data: { state: 'approved', decidedAt: new Date(), decidedBy: plant.users.manager } });
  expect((await tree()).specifications.find((row) => row.characteristicId === of.characteristicId)).toMatchObject({ lsl: 2.1, usl: 2.9 });
});

it('takes a check plan that can be filled in, and names what cannot', async () => {
  const at = { machineId: plant.machines.seamer, productId: plant.productId };
  const made = await engineer().call(createCheckPlan, { body: { ...at, ...plan } });
  expect(made.status).toBe(201);
  expect(fieldsOf(await engineer().call(createCheckPlan, { body: { ...at, ...plan } }))).toEqual([409, 'already-there', ['name']]);
  const impossible = await engineer().call(createCheckPlan, { body: { ...at, ...plan, name: 'Other', positions: ['a', 'b', 'a'], characteristics: ['body-hook', 'seam-overlap', 'unheard-of', 'body-hook'] } });
  expect(fieldsOf(impossible)).toEqual([400, 'invalid-input', ['characteristics.1', 'characteristics.2', 'characteristics.3', 'positions.2']]);
  expect(fieldsOf(await engineer().call(createCheckPlan, { body: { ...at, machineId: plant.machines.flanger, ...plan, name: 'Other' } }))).toEqual([400, 'invalid-input', ['perUnit']]);
  const line = await engineer().call(createLine, { body: { code: 'S1', name: 'Single high' } });
  const step = await engineer().call(createStep, { body: { lineId: line.body.id, kind: 'flanger' } });
  const machine = await engineer().call(createMachine, { body: { stepId: step.body.id, code: 'FL9', name: 'Flanger 9' } });
  expect(fieldsOf(await engineer().call(createCheckPlan, { body: { ...at, machineId: machine.body.id, ...plan, perUnit: false, perLane: true } }))).toEqual([400, 'invalid-input', ['perLane']]);
  expect((await engineer().call(changeCheckPlan, { params: { id: made.body.id }, body: { ...plan, everyMinutes: null, retired: true, reason: 'no longer measured' } })).status).toBe(200);
  expect((await tree()).checkPlans.find((entry) => entry.id === made.body.id)).toMatchObject({ perUnit: true, everyMinutes: null, retired: true });
  const old = await database.work.client.checkPlan.create({ data: { plantId: plant.plantId, ...at, ...plan, name: 'From before', positions: ['a', 'a'] } });
  const change = (retired: boolean) => engineer().call(changeCheckPlan, { params: { id: old.id }, body: { ...plan, name: 'From before', positions: ['a', 'a'], retired, reason: 'tidied up' } });
  expect(fieldsOf(await change(false))).toEqual([400, 'invalid-input', ['positions.1']]);
  expect((await change(true)).status, 'what cannot be filled in can still be retired').toBe(200);
  expect((await trailOf(`check plan ${made.body.id}`))[0]).toMatchObject({ action: 'check-plan.changed', before: { everyMinutes: 240 }, after: { everyMinutes: null } });
});

it('keeps gauges with their resolution and the date of calibration', async () => {
  const gauge = { name: 'Micrometer', unit: 'mm', resolution: 0.001, calibrationDue: '2026-12-31T00:00:00Z' };
  const made = await engineer().call(createGauge, { body: { code: 'MIC-9', ...gauge } });
  expect(fieldsOf(await engineer().call(createGauge, { body: { code: 'MIC-9', ...gauge } }))).toEqual([409, 'already-there', ['code']]);
  expect(fieldsOf(await engineer().call(createGauge, { body: { code: 'MIC-8', ...gauge, resolution: 0 } }))).toEqual([400, 'invalid-input', ['resolution']]);
  await engineer().call(changeGauge, { params: { id: made.body.id }, body: { ...gauge, calibrationDue: null, retired: true } });
  expect((await tree()).gauges.find((entry) => entry.id === made.body.id)).toMatchObject({ resolution: 0.001, calibrationDue: null, retired: true });
});

it('reaches no other plant: what stands there is not found', async () => {
  const db = database.work.client;
  const other = await db.plant.create({ data: { name: 'Elsewhere', timeZone: 'UTC' } });
  const line = await db.line.create({ data: { plantId: other.id, code: 'X', name: 'Not ours', position: 1 } });
  const product = await db.product.create({ data: { plantId: other.id, code: 'X', ...can } });
  expect((await engineer().call(changeLine, { params: { id: line.id }, body: { name: 'Ours now' } })).status).toBe(404);
  expect((await engineer().call(createStep, { body: { lineId: line.id, kind: 'seamer' } })).status).toBe(404);
  expect((await engineer().call(changeProduct, { params: { id: product.id }, body: { ...can, retired: true } })).status).toBe(404);
  expect((await db.line.findFirstOrThrow({ where: { plantId: other.id } })).name).toBe('Not ours');
});
