import { afterAll, beforeAll, expect, it } from 'vitest';
import { correctReading, getCheck, getCheckVerdict, listChecks, recordCheck } from '#contract/inspections';
import { type Role, roles } from '#contract/roles';
import { startApi, type TestApi } from '../db/api.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';
import { makePlant, type TestPlant } from '../factories/plant.js';

let database: TestDatabase;
let api: TestApi;
let plant: TestPlant;
beforeAll(async () => { database = await freshDatabase(); plant = await makePlant(database.work); api = await startApi(database); });
afterAll(async () => { await api.close(); await database.close(); });

const START = Date.UTC(2026, 2, 1, 8);
const at = (index: number) => new Date(START + index * 1_800_000).toISOString();
let keys = 0;
let products = 0;
async function product(): Promise<number> {
  products += 1;
  return (await database.work.client.product.create({ data: { plantId: plant.plantId, code: `Q${products}`, name: `Can ${products}`, customer: 'Test customer', diameter: 65.3, height: 104, bodyPlate: 0.15, endPlate: 0.19, seamProfile: 'mini', overlapFactor: 1 } })).id;
}
/** Two cans of each head, one position. */
async function seam(productId: number, index: number, coverHooks: (number | null)[], more: { inspector?: string; note?: string } = {}) {
  keys += 1;
  const cans = [0, 0, 1, 1].map((head, can) => ({ number: can + 1, unitId: plant.headIds[head] as number }));
  const { status, body, problem } = await api.as('operator').call(recordCheck, { body: {
    key: `api-check-${keys}`, machineId: plant.machines.seamer, productId, takenAt: at(index), cans, positions: ['a'], ...more,
    characteristics: [{ code: 'cover-hook', gaugeId: plant.gaugeId, readings: coverHooks }, { code: 'body-hook', readings: [1.75, 1.75, 1.75, 1.75] }, { code: 'seam-length', readings: [2.55, 2.55, 2.55, 2.55] }],
  } });
  expect([status, problem.detail]).toEqual([201, undefined]);
  return body;
}
async function freeze(streamId: number, centre: number, formula: string | null = null): Promise<void> {
  await database.work.client.limits.create({ data: { plantId: plant.plantId, streamId, kind: 'i-mr', centre, sigma: 0.03, spreadCentre: 10, subgroups: 30, readings: 60, formula, baselineFrom: at(-99), baselineTo: at(-50), effectiveFrom: at(-49), authorId: plant.users.engineer, reason: 'test' } });
}
const streamOf = (body: { subgroups: { characteristic: string; machineUnit: string | null; streamId: number }[] }, code: string, head = 'H1') => (body.subgroups.find((entry) => entry.characteristic === code && entry.machineUnit === head) as { streamId: number }).streamId;
const correct = (role: Role, checkId: number, body: { characteristic: string; can: number; position: number; value: number | null; reason: string; confirmed?: boolean; was?: number | null }) => api.as(role).call(correctReading, { params: { id: checkId }, body });
const row = (checkId: number, streamId: number) => database.work.client.subgroup.findFirstOrThrow({ where: { plantId: plant.plantId, checkId, streamId }, select: { n: true, mean: true, revision: true } });

it('shows one check: who, when, what, each reading on its can, derived ones with their formula', async () => {
  const productId = await product();
  const logged = await seam(productId, 0, [1.65, 1.66, null, 1.64], { inspector: 'A. Tester', note: 'after the jam' });
  const { status, body } = await api.as('manager').call(getCheck, { params: { id: logged.checkId } });
  expect(status).toBe(200);
  expect(body).toMatchObject({
    takenAt: at(0), enteredBy: 'Test operator', inspector: 'A. Tester', note: 'after the jam', source: 'entry', import: null, voidedAt: null,
    machine: { code: 'SE1' }, cans: [{ number: 1, unit: 'H1', lane: null }, { number: 2, unit: 'H1' }, { number: 3, unit: 'H2' }, { number: 4, unit: 'H2' }], positions: ['a'], revisions: [],
  });
  expect(body.characteristics.find((entry) => entry.code === 'cover-hook')).toMatchObject({ readings: [1.65, 1.66, null, 1.64], gauge: 'MIC-1 Seam micrometer 1', derived: false });
  const overlap = body.characteristics.find((entry) => entry.code === 'seam-overlap');
  expect(overlap).toMatchObject({ derived: true, formula: 'overlap/1 k=1.0 calculated' });
  expect(overlap?.readings.map((reading) => (reading === null ? null : Number(reading.toFixed(3))))).toEqual([1.04, 1.05, null, 1.03]);
  expect((await api.as('manager').call(getCheckVerdict, { params: { id: logged.checkId } })).body.subgroups).toEqual(body.verdict?.subgroups);
  expect((await api.as('manager').call(getCheck, { params: { id: 999_999 } })).status).toBe(404);
});

it('corrects a reading: old values stay, derived ones follow, the subgroup is judged anew, and the trail says who and why', async () => {
  const productId = await product();
  const first = await seam(productId, -1, [1.65, 1.65, 1.65, 1.65]);
  const hook = streamOf(first, 'cover-hook');
  const overlap = streamOf(first, 'seam-overlap');
  await freeze(hook, 1.65);
  await freeze(overlap, 1.04, 'overlap/1 k=1.0 calculated');
  const logged = await seam(productId, 0, [1.35, 1.65, 1.65, 1.65]);
  expect(logged.subgroups.filter((entry) => entry.status === 'signal').map((entry) => entry.streamId).sort()).toEqual([hook, overlap].sort());

  const { status, body } = await correct('technician', logged.checkId, { characteristic: 'cover-hook', can: 0, position: 0, value: 1.65, was: 1.35, reason: 'read 1.35 for 1.65' });
  expect(status).toBe(201);
  expect(body.notRecomputed).toEqual([]);
  expect(body.check.verdict?.subgroups.filter((entry) => entry.machineUnit === 'H1' && entry.status === 'signal')).toEqual([]);
  expect(body.check.characteristics.find((entry) => entry.code === 'cover-hook')?.readings).toEqual([1.65, 1.65, 1.65, 1.65]);
  expect(body.check.revisions.map((entry) => [entry.characteristic, entry.replacedBy, entry.reason, entry.revision])).toEqual([
    ['cover-hook', 'Test technician', 'read 1.35 for 1.65', 1], ['percent-overlap', 'Test technician', 'read 1.35 for 1.65', 1], ['seam-overlap', 'Test technician', 'read 1.35 for 1.65', 1]]);
  expect(body.check.revisions[0]?.changes).toEqual([{ can: 0, position: 0, from: 1.35, to: 1.65 }]);
  expect(body.check.revisions[2]?.changes[0]?.from).toBeCloseTo(0.74, 10);
  expect(await row(logged.checkId, hook)).toMatchObject({ n: 2, mean: 1.65, revision: 2 });
  const signals = await database.work.client.signal.findMany({ where: { plantId: plant.plantId, streamId: { in: [hook, overlap] } }, include: { steps: { orderBy: { id: 'asc' } } } });
  expect(signals.map((signal) => [signal.state, signal.firings, signal.steps.at(-1)?.action])).toEqual(signals.map(() => ['closed', 0, 'withdrawn']));
  expect(signals[0]?.steps.at(-1)?.comment).toContain('read 1.35 for 1.65');
  const audit = await database.work.client.auditRow.findFirstOrThrow({ where: { plantId: plant.plantId, action: 'reading.corrected', subject: `check ${logged.checkId}` } });
  expect(audit).toMatchObject({ userId: plant.users.technician, before: { characteristic: 'cover-hook', can: 1, position: 'a', value: 1.35 }, after: { value: 1.65, reason: 'read 1.35 for 1.65', derived: expect.arrayContaining(['seam-overlap', 'percent-overlap']) } });
  expect(await database.work.client.outboxRow.count({ where: { plantId: plant.plantId, kind: 'stream.changed', payload: { path: ['streamId'], equals: hook } } })).toBeGreaterThan(0);
});

it('raises the signals behind a corrected point that a rule can now see', async () => {
  const productId = await product();
  const first = await seam(productId, -1, [1.65, 1.65, 1.65, 1.65]);
  const hook = streamOf(first, 'cover-hook');
  await freeze(hook, 1.65);
  const logged = [];
  for (let index = 0; index < 9; index += 1) logged.push(await seam(productId, index, index === 3 ? [1.64, 1.64, null, null] : [1.66, 1.66, null, null]));
  const points = () => database.work.client.signalPoint.findMany({ where: { plantId: plant.plantId, streamId: hook }, orderBy: { takenAt: 'asc' } });
  expect(await points()).toEqual([]);
  const checkId = logged[3]?.checkId as number;
  expect((await correct('engineer', checkId, { characteristic: 'cover-hook', can: 0, position: 0, value: 1.67, reason: 'misread' })).status).toBe(201);
  expect((await correct('engineer', checkId, { characteristic: 'cover-hook', can: 1, position: 0, value: 1.67, reason: 'misread' })).status).toBe(201);
  expect((await points()).map((point) => [point.takenAt.toISOString(), point.rule])).toEqual([[at(7), 'eight-in-a-row'], [at(8), 'eight-in-a-row']]);
  const page = await api.as('operator').call(getCheck, { params: { id: checkId } });
  expect(page.body.revisions.filter((entry) => entry.characteristic === 'cover-hook').map((entry) => [entry.revision, entry.changes])).toEqual([[2, [{ can: 1, position: 0, from: 1.64, to: 1.67 }]], [1, [{ can: 0, position: 0, from: 1.64, to: 1.67 }]]]);
  expect((await correct('engineer', checkId, { characteristic: 'cover-hook', can: 1, position: 0, value: 1.6, reason: 'back again' })).status).toBe(201);
  expect(await points()).toEqual([]);
});

it('takes readings away and fills them in, until nothing or everything is there', async () => {
  const productId = await product();
  const logged = await seam(productId, 0, [1.65, null, 1.65, 1.65]);
  const hook = streamOf(logged, 'cover-hook');
  const gone = await correct('technician', logged.checkId, { characteristic: 'cover-hook', can: 0, position: 0, value: null, reason: 'can was squashed' });
  expect(gone.status).toBe(201);
  expect(await row(logged.checkId, hook)).toMatchObject({ n: 0, mean: null });
  expect(gone.body.check.verdict?.subgroups.find((entry) => entry.streamId === hook)).toMatchObject({ status: 'not-judged', mean: null });
  const back = await correct('technician', logged.checkId, { characteristic: 'cover-hook', can: 1, position: 0, value: 1.64, reason: 'found the can' });
  expect(back.body.check.characteristics.find((entry) => entry.code === 'seam-overlap')?.readings[1]).toBeCloseTo(1.03, 10);
});

it('does not mix two factors: the derived reading is taken away and that is said', async () => {
  const productId = await product();
  const logged = await seam(productId, 0, [1.6, 1.65, 1.65, 1.65]);
  await database.work.client.product.update({ where: { plantId_id: { plantId: plant.plantId, id: productId } }, data: { overlapFactor: 1.1 } });
  const { status, body } = await correct('technician', logged.checkId, { characteristic: 'cover-hook', can: 0, position: 0, value: 1.65, reason: 'misread' });
  expect(status).toBe(201);
  expect(body.notRecomputed.map((entry) => entry.characteristic).sort()).toEqual(['percent-overlap', 'seam-overlap']);
  expect(body.check.characteristics.find((entry) => entry.code === 'seam-overlap')?.readings[0]).toBeNull();
  expect(body.check.revisions.find((entry) => entry.characteristic === 'seam-overlap')?.reason).toContain('k=1.0');
});

it('asks about what the can does not allow, and names what does not fit', async () => {
  const productId = await product();
  const { checkId } = await seam(productId, 0, [1.65, 1.65, 1.65, 1.65]);
  const good = { characteristic: 'cover-hook', can: 0, position: 0, value: 1.66, reason: 'misread' };
  const slipped = await correct('technician', checkId, { ...good, value: 16.6 });
  expect([slipped.status, slipped.problem.code, slipped.problem.errors?.[0]?.field]).toEqual([422, 'implausible-reading', 'value']);
  expect(slipped.problem.errors?.[0]?.expected).toContain('1.66');
  expect((await correct('technician', checkId, { ...good, value: 16.6, confirmed: true })).status).toBe(201);
  const field = async (more: Partial<typeof good>) => { const { status, problem } = await correct('technician', checkId, { ...good, ...more }); return [status, problem.errors?.[0]?.field ?? problem.code]; };
  expect(await field({ characteristic: 'nothing' })).toEqual([400, 'characteristic']);
  expect(await field({ characteristic: 'seam-overlap' })).toEqual([400, 'characteristic']);
  expect(await field({ can: 4 })).toEqual([400, 'can']);
  expect(await field({ position: 1 })).toEqual([400, 'position']);
  expect(await field({ reason: ' ' })).toEqual([400, 'reason']);
  expect(await field({ value: 16.6 })).toEqual([422, 'value']);
  expect(await field({ characteristic: 'countersink', value: 2.7 })).toEqual([404, 'not-found']);
  expect(await field({ value: 1.65, can: 1 })).toEqual([400, 'value']);
  const stale = await correct('technician', checkId, { ...good, was: 1.65 });
  expect([stale.status, stale.problem.code]).toEqual([409, 'changed-meanwhile']);
  expect((await correct('technician', 999_999, good)).status).toBe(404);
});

it('lets two people correct the same check at once without losing one of the two', async () => {
  const productId = await product();
  const { checkId } = await seam(productId, 0, [1.6, 1.6, 1.65, 1.65]);
  const answers = await Promise.all([0, 1].map((can) => correct('technician', checkId, { characteristic: 'cover-hook', can, position: 0, value: 1.65 + can / 100, reason: 'misread' })));
  expect(answers.map((answer) => answer.status)).toEqual([201, 201]);
  const { body } = await api.as('operator').call(getCheck, { params: { id: checkId } });
  expect(body.characteristics.find((entry) => entry.code === 'cover-hook')?.readings.slice(0, 2)).toEqual([1.65, 1.66]);
  expect(body.revisions.filter((entry) => entry.characteristic === 'cover-hook').map((entry) => entry.revision).sort()).toEqual([1, 2]);
});

it('refuses to correct a check that was taken back, and shows it as such', async () => {
  const productId = await product();
  const { checkId } = await seam(productId, 0, [1.65, 1.65, 1.65, 1.65]);
  await database.work.client.check.update({ where: { plantId_id: { plantId: plant.plantId, id: checkId } }, data: { voidedAt: new Date(at(5)) } });
  await database.work.client.subgroup.deleteMany({ where: { plantId: plant.plantId, checkId } });
  const { status, problem } = await correct('technician', checkId, { characteristic: 'cover-hook', can: 0, position: 0, value: 1.6, reason: 'misread' });
  expect([status, problem.code]).toEqual([409, 'wrong-state']);
  expect((await api.as('operator').call(getCheck, { params: { id: checkId } })).body).toMatchObject({ voidedAt: at(5), verdict: null });
  const listed = await api.as('operator').call(listChecks, { query: { product: productId } });
  expect(listed.body.checks).toMatchObject([{ id: checkId, voidedAt: at(5), status: 'not-judged' }]);
});

it('lists checks newest first, by machine and time, with their state', async () => {
  const productId = await product();
  const first = await seam(productId, 100, [1.65, 1.65, 1.65, 1.65]);
  await freeze(streamOf(first, 'cover-hook'), 1.65);
  const second = await seam(productId, 101, [1.3, 1.3, 1.65, 1.65]);
  await correct('technician', first.checkId, { characteristic: 'cover-hook', can: 3, position: 0, value: 1.66, reason: 'misread' });
  const { body } = await api.as('manager').call(listChecks, { query: { machine: plant.machines.seamer, product: productId, from: at(99), to: at(101) } });
  expect(body.checks.map(({ id, machine, cans, corrected, status, signalIds }) => [id, machine, cans, corrected, status, signalIds.length])).toEqual([[second.checkId, 'SE1', 4, false, 'signal', 1], [first.checkId, 'SE1', 4, true, 'not-judged', 0]]);
  expect((await api.as('manager').call(listChecks, { query: { product: productId, to: at(100) } })).body.checks.map((entry) => entry.id)).toEqual([first.checkId]);
  expect((await api.as('manager').call(listChecks, { query: { product: productId, take: 1 } })).body.checks).toHaveLength(1);
  expect((await api.as('manager').call(listChecks, { query: { machine: plant.machines.flanger } })).body.checks).toEqual([]);
});

it('answers by role: who may log, who may correct, and nobody without a session', async () => {
  const productId = await product();
  const { checkId } = await seam(productId, 0, [1.65, 1.65, 1.65, 1.65]);
  const mayCorrect = new Map<Role, number>();
  const mayLog = new Map<Role, number>();
  for (const role of roles) {
    mayCorrect.set(role, (await correct(role, checkId, { characteristic: 'nothing', can: 0, position: 0, value: 1, reason: 'test' })).status);
    mayLog.set(role, (await api.as(role).raw({ method: 'POST', url: '/api/checks', payload: {} })).status);
  }
  expect(Object.fromEntries(mayCorrect)).toEqual({ operator: 403, technician: 400, engineer: 400, manager: 403, auditor: 403, administrator: 400 });
  expect(Object.fromEntries(mayLog)).toEqual({ operator: 400, technician: 400, engineer: 400, manager: 403, auditor: 403, administrator: 400 });
  for (const url of ['/api/checks', `/api/checks/${checkId}`, `/api/checks/${checkId}/verdict`]) expect((await api.nobody.raw({ method: 'GET', url })).status).toBe(401);
});

it('stores a check that is sent twice at once only once, and answers both the same', async () => {
  const productId = await product();
  const body = { key: 'sent-twice-1', machineId: plant.machines.flanger, productId, takenAt: at(0), cans: [{ number: 1 }], positions: ['a', 'b'], characteristics: [{ code: 'flange-width', readings: [2.5, 2.6] }] };
  const [one, two] = await Promise.all([api.as('operator').call(recordCheck, { body }), api.as('operator').call(recordCheck, { body })]);
  expect([one.status, two.status]).toEqual([201, 201]);
  expect([one.body.repeated, two.body.repeated].sort()).toEqual([false, true]);
  expect(one.body.subgroups).toEqual(two.body.subgroups);
  expect(await database.work.client.check.count({ where: { plantId: plant.plantId, key: body.key } })).toBe(1);
  const other = await api.as('operator').call(recordCheck, { body: { ...body, note: 'another' } });
  expect([other.status, other.problem.code]).toEqual([409, 'key-reused']);
});
