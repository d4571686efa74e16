import { afterAll, beforeAll, expect, it } from 'vitest';
import { newCheck, type NewCheck } from '#contract/inspections';
import { deriveReading } from '#canmaking/seam/derive';
import type { LimitsBasis } from '#statistics/charts/limits';
import { subgroupStatistics } from '#statistics/charts/subgroup';
import { judgeSeries } from '#statistics/rules/evaluate';
import { checkVerdict } from '../../apps/api/src/flows/check-verdict.js';
import { recordReadings } from '../../apps/api/src/flows/record-readings.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';
import { makePlant, type TestPlant } from '../factories/plant.js';

let database: TestDatabase;
let plant: TestPlant;
beforeAll(async () => { database = await freshDatabase(); plant = await makePlant(database.work); });
afterAll(async () => { await database.close(); });

const START = Date.UTC(2026, 2, 1, 8);
const at = (index: number) => new Date(START + index * 1_800_000);
const now = new Date('2026-06-01T00:00:00Z');
const RULES = ['beyond-limits', 'two-of-three', 'four-of-five', 'eight-in-a-row'] as const;
let products = 0;
let keys = 0;

const actor = () => ({ plantId: plant.plantId, userId: plant.users.technician, name: 'Test technician' });
/** A product of its own for each test, so that each has streams of its own. */
async function product(overlapFactor = 1): Promise<number> {
  products += 1;
  return (await database.work.client.product.create({ data: { plantId: plant.plantId, code: `P${products}`, name: `Can ${products}`, customer: 'Test customer', diameter: 65.3, height: 104, bodyPlate: 0.15, endPlate: 0.19, seamProfile: 'mini', overlapFactor } })).id;
}
/** One can on one head, one position: an individual. */
function hook(productId: number, index: number, value: number | null, more: Partial<NewCheck> = {}): NewCheck {
  keys += 1;
  return newCheck.parse({ key: `path-${keys}-key`, machineId: plant.machines.seamer, productId, takenAt: at(index).toISOString(), cans: [{ number: 1, unitId: plant.headIds[0] }], positions: ['a'], characteristics: [{ code: 'body-hook', readings: [value] }], ...more });
}
const store = (checks: readonly NewCheck[]) => database.work.run((tx) => recordReadings(tx, actor(), checks, { now, source: 'entry' }));
const verdictOf = (checkId: number) => checkVerdict(database.work.read, plant.plantId, checkId, false);

async function streamId(productId: number, code: keyof TestPlant['characteristics'], unitId: number | null = null): Promise<number> {
  return (await database.work.client.stream.findFirstOrThrow({ where: { plantId: plant.plantId, productId, characteristicId: plant.characteristics[code], ...(unitId === null ? {} : { unitId }) } })).id;
}
async function freeze(stream: number, basis: LimitsBasis, formula: string | null = null, effectiveFrom = new Date(START - 86_400_000)): Promise<number> {
  return (await database.work.client.limits.create({ data: { plantId: plant.plantId, streamId: stream, ...basis, formula, baselineFrom: effectiveFrom, baselineTo: effectiveFrom, effectiveFrom, authorId: plant.users.engineer, reason: 'test' } })).id;
}
/** Individuals with a moving range limit far away, so that only the zone rules speak. */
const hooks: LimitsBasis = { kind: 'i-mr', centre: 1.75, sigma: 0.03, spreadCentre: 10, subgroups: 30, readings: 30 };
async function hookStream(): Promise<{ productId: number; stream: number }> {
  const productId = await product();
  await store([hook(productId, -1, null, { characteristics: [{ code: 'body-hook', readings: [1.75] }] })]);
  const stream = await streamId(productId, 'body-hook', plant.headIds[0]);
  await freeze(stream, hooks);
  return { productId, stream };
}
const firings = async (stream: number) => (await database.work.client.signalPoint.findMany({ where: { plantId: plant.plantId, streamId: stream } }))
  .map((point) => `${(point.takenAt.getTime() - START) / 1_800_000} ${point.chart} ${point.rule} ${point.side}`).sort();
const counts = async () => {
  const { client } = database.work;
  const where = { where: { plantId: plant.plantId } };
  return Promise.all([client.check.count(where), client.subgroup.count(where), client.stream.count(where), client.signal.count(where), client.signalPoint.count(where), client.auditRow.count(where), client.outboxRow.count(where)]);
};
/** Park and Miller's generator (1988): the same numbers on every machine. */
function numbers(seed: number): () => number {
  let state = seed;
  return () => { state = (state * 48_271) % 2_147_483_647; return state / 2_147_483_647; };
}
const normal = (next: () => number) => Math.sqrt(-2 * Math.log(next())) * Math.cos(2 * Math.PI * next());
/** Thirty-six z values with a shift, a drift back and a few wild points: every rule fires on both sides somewhere. */
const wild = (seed: number) => { const next = numbers(seed); return Array.from({ length: 36 }, (_, index) => 0.9 * normal(next) + (index > 8 && index < 20 ? 1.3 : index > 25 ? -1.5 : 0) + (index === 4 ? 3.6 : 0)); };

it.each([
  ['beyond-limits', [0, 0.5, 3.2], 2], ['two-of-three', [0, 2.2, -0.4, 2.3], 3],
  ['four-of-five', [0, -1.2, -1.4, 0.5, -1.1, -1.6], 5], ['eight-in-a-row', [-0.2, 0.3, 0.2, 0.4, 0.1, 0.6, 0.2, 0.3, 0.2], 8],
] as const)('raises one signal by %s, on the point that completes its pattern', async (rule, z, last) => {
  const { productId, stream } = await hookStream();
  for (const [index, value] of z.entries()) await store([hook(productId, index, 1.75 + 0.03 * value)]);
  const signals = await database.work.client.signal.findMany({ where: { plantId: plant.plantId, streamId: stream }, include: { steps: true } });
  expect(signals.map((signal) => signal.rule)).toEqual([rule]);
  expect(signals[0]?.firedAt).toEqual(at(last));
  expect(signals[0]?.state).toBe('open');
  expect(signals[0]?.steps.map((step) => step.action)).toEqual(['raised']);
});

it('fires, check by check, exactly where the rules fire on the whole series', async () => {
  const { productId, stream } = await hookStream();
  const means = [0, ...wild(11)].map((z) => 1.75 + 0.03 * z);
  for (const [index, mean] of means.slice(1).entries()) await store([hook(productId, index, mean)]);
  const expected = judgeSeries(means.map((mean) => ({ n: 1, mean, spread: null, limits: hooks })), RULES)
    .flatMap((verdict, index) => verdict.firings.map((firing) => `${index - 1} ${firing.chart} ${firing.rule} ${firing.side}`)).sort();
  expect(new Set(expected.map((text) => text.split(' ')[2]))).toEqual(new Set(RULES));
  expect(await firings(stream)).toEqual(expected);
});

it.each([3, 17, 29])('comes to the same signals when checks arrive in any order (shuffle %i)', async (seed) => {
  const { productId, stream } = await hookStream();
  const means = wild(seed).map((z) => 1.75 + 0.03 * z);
  const next = numbers(seed * 7 + 1);
  const order = means.map((_, index) => ({ index, place: next() })).sort((a, b) => a.place - b.place).map(({ index }) => index);
  for (const index of order) await store([hook(productId, index, means[index] as number)]);
  const expected = judgeSeries([1.75, ...means].map((mean) => ({ n: 1, mean, spread: null, limits: hooks })), RULES)
    .flatMap((verdict, index) => verdict.firings.map((firing) => `${index - 1} ${firing.chart} ${firing.rule} ${firing.side}`)).sort();
  expect(await firings(stream)).toEqual(expected);
  const kept = await database.work.client.signal.findMany({ where: { plantId: plant.plantId, streamId: stream }, include: { points: true } });
  for (const signal of kept) expect([signal.id, signal.firings, signal.state === 'closed']).toEqual([signal.id, signal.points.length, signal.points.length === 0]);
});

it('comes to the same signals in one batch as check by check', async () => {
  const [one, many] = [await hookStream(), await hookStream()];
  const means = wild(23).map((z) => 1.75 + 0.03 * z);
  await store(means.map((mean, index) => hook(one.productId, index, mean)));
  for (const [index, mean] of means.entries()) await store([hook(many.productId, index, mean)]);
  expect(await firings(one.stream)).toEqual(await firings(many.stream));
  expect((await firings(one.stream)).length).toBeGreaterThan(5);
});

it('withdraws a signal that a late check undoes, and says so', async () => {
  const { productId, stream } = await hookStream();
  for (let index = 0; index < 8; index += 1) await store([hook(productId, index * 2, 1.76)]);
  expect(await firings(stream)).toEqual(['14 mean eight-in-a-row above']);
  const late = await store([hook(productId, 7, 1.74)]);
  expect(await firings(stream)).toEqual([]);
  expect((await verdictOf(late.checkIds[0] as number)).status).toBe('steady');
  const [signal] = await database.work.client.signal.findMany({ where: { plantId: plant.plantId, streamId: stream }, include: { steps: { orderBy: { id: 'asc' } } } });
  expect(signal).toMatchObject({ state: 'closed', firings: 0 });
  expect(signal?.steps.map((step) => step.action)).toEqual(['raised', 'withdrawn']);
});

it('judges means against the range chart of their own size, with a missing reading leaving the subgroup smaller', async () => {
  const productId = await product();
  const weld = (index: number, readings: (number | null)[]) => { keys += 1; return newCheck.parse({ key: `weld-${keys}-key`, machineId: plant.machines.bodyMaker, productId, takenAt: at(index).toISOString(), cans: [1, 2, 3, 4, 5].map((number) => ({ number })), positions: ['front', 'back'], characteristics: [{ code: 'weld-overlap', readings }] }); };
  const can = (...values: number[]) => values.flatMap((value) => [value - 0.02, value + 0.02].map((reading) => Number(reading.toFixed(2))));
  await store([weld(-1, can(0.42, 0.42, 0.42, 0.42, 0.43))]);
  const stream = await streamId(productId, 'weld-overlap');
  await freeze(stream, { kind: 'xbar-r', centre: 0.42, sigma: 0.01, spreadCentre: 0.02326, subgroups: 25, readings: 125 });
  const steady = await store([weld(0, can(0.41, 0.42, 0.43, 0.42, 0.41))]);
  const spread = await store([weld(1, can(0.38, 0.44, 0.45, 0.41, 0.42))]);
  const smaller = await store([weld(2, [null, 0.44, null, null, ...can(0.41, 0.42, 0.43)])]);
  const first = (await verdictOf(steady.checkIds[0] as number)).subgroups[0];
  expect(first).toMatchObject({ n: 5, status: 'steady', firings: [] });
  expect(first?.mean).toBeCloseTo(0.418, 12);
  expect(first?.limits?.upper).toBeCloseTo(0.42 + 0.03 / Math.sqrt(5), 12);
  expect((await verdictOf(spread.checkIds[0] as number)).subgroups[0]).toMatchObject({ status: 'signal', firings: [{ chart: 'spread', rule: 'beyond-limits', side: 'above' }] });
  const four = (await verdictOf(smaller.checkIds[0] as number)).subgroups[0];
  expect(four).toMatchObject({ n: 4, low: 0.39, high: 0.45 });
  expect(four?.limits?.upper).toBeCloseTo(0.42 + 0.03 / 2, 12);
});

it('keeps units and lanes apart and says "not judged" where no limits were frozen', async () => {
  const productId = await product();
  const cans = [{ number: 1, unitId: plant.headIds[0], laneId: plant.laneIds.A }, { number: 2, unitId: plant.headIds[1], laneId: plant.laneIds.A }, { number: 3, unitId: plant.headIds[0], laneId: plant.laneIds.B }];
  const { checkIds } = await store([hook(productId, 0, null, { cans, characteristics: [{ code: 'body-hook', readings: [1.7, 1.8, null] }] })]);
  const verdict = await verdictOf(checkIds[0] as number);
  expect(verdict.status).toBe('not-judged');
  expect(verdict.subgroups.map(({ machineUnit, lane, mean, status, limits }) => [machineUnit, lane, mean, status, limits])).toEqual([['H1', 'A', 1.7, 'not-judged', null], ['H2', 'A', 1.8, 'not-judged', null]]);
});

it('derives overlap with the formula version, and never judges another factor by old limits or runs a rule across the change', async () => {
  const productId = await product(1);
  const seam = (index: number, coverHook: number) => hook(productId, index, null, { characteristics: [{ code: 'cover-hook', readings: [coverHook] }, { code: 'body-hook', readings: [1.75] }, { code: 'seam-length', readings: [2.55] }] });
  await store([seam(-1, 1.65)]);
  const stream = await streamId(productId, 'seam-overlap', plant.headIds[0]);
  await freeze(stream, { ...hooks, centre: 1.04, sigma: 0.02 }, 'overlap/1 k=1.0 calculated');
  for (let index = 0; index < 7; index += 1) await store([seam(index, 1.66)]);
  await database.work.client.product.update({ where: { plantId_id: { plantId: plant.plantId, id: productId } }, data: { overlapFactor: 1.1 } });
  const { checkIds } = await store([seam(7, 1.66)]);
  const overlap = (await verdictOf(checkIds[0] as number)).subgroups.find((subgroup) => subgroup.characteristic === 'seam-overlap');
  const expected = deriveReading('seam.overlap', { 'cover-hook': 1.66, 'body-hook': 1.75, 'seam-length': 2.55 }, { bodyPlate: 0.15, endPlate: 0.19 }, 1.1);
  expect(overlap).toMatchObject({ formula: 'overlap/1 k=1.1 calculated', status: 'not-judged', limits: null });
  expect(overlap?.mean).toBeCloseTo(expected && 'value' in expected ? expected.value : Number.NaN, 12);
  // With limits of its own the new measure begins a series of its own: the seven points before do not make it eight.
  await freeze(stream, { ...hooks, centre: 1.04, sigma: 0.02 }, 'overlap/1 k=1.1 calculated', at(7));
  await store([seam(8, 1.64)]);
  expect((await firings(stream)).filter((firing) => firing.includes('eight-in-a-row'))).toEqual([]);
});

it('leaves nothing behind when a late step fails', async () => {
  const { productId } = await hookStream();
  const before = await counts();
  await database.work.client.$executeRawUnsafe(`CREATE FUNCTION refuse() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN RAISE EXCEPTION 'the outbox is broken'; END $$`);
  await database.work.client.$executeRawUnsafe('CREATE TRIGGER broken BEFORE INSERT ON outbox_row EXECUTE FUNCTION refuse()');
  try {
    await expect(store([hook(productId, 0, 2.5)])).rejects.toThrow(/outbox is broken/);
  } finally {
    await database.work.client.$executeRawUnsafe('DROP TRIGGER broken ON outbox_row');
  }
  expect(await counts()).toEqual(before);
});

it('stores the same key once, also within one batch, and refuses it with other content', async () => {
  const { productId } = await hookStream();
  const check = hook(productId, 0, 2.5);
  const first = await store([check]);
  const before = await counts();
  const again = await store([{ ...check, confirmed: true }]);
  expect(again).toMatchObject({ checkIds: first.checkIds, repeated: [true], signals: [], subgroups: 0 });
  expect(await counts()).toEqual(before);
  expect(await verdictOf(first.checkIds[0] as number)).toMatchObject({ status: 'signal' });
  await expect(store([{ ...check, characteristics: [{ code: 'body-hook', readings: [2.4] }] }])).rejects.toMatchObject({ code: 'key-reused' });
  const twice = hook(productId, 1, 1.75);
  const both = await store([twice, twice]);
  expect(both).toMatchObject({ repeated: [false, true], subgroups: 1 });
  expect(both.checkIds[0]).toBe(both.checkIds[1]);
});

it('stores a check anew whose first storing was taken back, and keeps the old row', async () => {
  const productId = await product();
  const check = hook(productId, 0, 1.75);
  const [first] = (await store([check])).checkIds;
  await database.work.client.check.update({ where: { plantId_id: { plantId: plant.plantId, id: first as number } }, data: { voidedAt: now } });
  await database.work.client.subgroup.deleteMany({ where: { plantId: plant.plantId, checkId: first as number } });
  const again = await store([check, hook(productId, 1, 1.76), check]);
  expect(again).toMatchObject({ repeated: [false, false, true], subgroups: 2 });
  expect(again.checkIds[0]).not.toBe(first);
  expect(again.checkIds[2]).toBe(again.checkIds[0]);
  expect((await database.work.client.check.findFirstOrThrow({ where: { plantId: plant.plantId, id: first as number } })).key).toBe(`${check.key} taken back ${first}`);
});

it('lets concurrent checks of the same new streams pass one after the other, none lost and none doubled', async () => {
  const productId = await product();
  const codes = ['body-hook', 'cover-hook', 'seam-length', 'seam-thickness'];
  const values: Record<string, number> = { 'body-hook': 1.75, 'cover-hook': 1.65, 'seam-length': 2.55, 'seam-thickness': 0.99 };
  const checks = Array.from({ length: 10 }, (_, index) => {
    const turned = index % 2 ? codes : [...codes].reverse();
    return hook(productId, index % 3, null, { characteristics: turned.map((code) => ({ code, readings: [values[code] as number] })) });
  });
  const answers = await Promise.all(checks.map((check) => store([check])));
  expect(new Set(answers.flatMap((answer) => answer.checkIds)).size).toBe(10);
  const stream = await streamId(productId, 'body-hook', plant.headIds[0]);
  const points = await database.work.client.subgroup.findMany({ where: { plantId: plant.plantId, streamId: stream }, select: { takenAt: true, sequence: true }, orderBy: [{ takenAt: 'asc' }, { sequence: 'asc' }] });
  expect(points.map((point) => [(point.takenAt.getTime() - START) / 1_800_000, point.sequence])).toEqual([[0, 1], [0, 2], [0, 3], [0, 4], [1, 1], [1, 2], [1, 3], [2, 1], [2, 2], [2, 3]]);
  expect(await database.work.client.stream.count({ where: { plantId: plant.plantId, productId } })).toBe(4 + 3);
});

it('judges eight checks that arrive at once as it judges them one by one', async () => {
  const { productId, stream } = await hookStream();
  const same = hook(productId, 8, 1.76);
  const answers = await Promise.all([...Array.from({ length: 8 }, (_, index) => store([hook(productId, index, 1.76)])), store([same]), store([same])]);
  expect(answers.slice(8).map((answer) => answer.repeated[0]).sort()).toEqual([false, true]);
  expect(await firings(stream)).toEqual(['7 mean eight-in-a-row above', '8 mean eight-in-a-row above']);
});

it('asks about a reading that the can does not allow, and stores it once a person confirmed it', async () => {
  const productId = await product();
  const slipped = hook(productId, 0, 17.5);
  await expect(store([slipped])).rejects.toMatchObject({ code: 'implausible-reading', errors: [{ field: 'characteristics.0.readings.0', expected: expect.stringContaining('1.75') }] });
  const { checkIds } = await store([{ ...slipped, confirmed: true }]);
  expect((await verdictOf(checkIds[0] as number)).subgroups[0]?.mean).toBe(17.5);
});

it('names every reference that does not fit, and stores nothing', async () => {
  const productId = await product();
  const before = await counts();
  const wrong = hook(productId, 0, 1.75, { planId: plant.planId, positions: ['a', 'a'], cans: [{ number: 1, unitId: 999_999 }], takenAt: '2026-06-02T00:00:00Z', characteristics: [{ code: 'seam-overlap', readings: [1, 1] }, { code: 'body-hook', gaugeId: 999_999, readings: [1] }] });
  await expect(store([wrong])).rejects.toMatchObject({ code: 'invalid-input', errors: ['takenAt', 'planId', 'positions.1', 'cans.0.unitId', 'characteristics.0.code', 'characteristics.1.gaugeId', 'characteristics.1.readings'].map((field) => ({ field })) });
  expect(await counts()).toEqual(before);
});

it('leaves a trace: who entered it, and what others should hear of', async () => {
  const { productId, stream } = await hookStream();
  const { checkIds, signals } = await store([hook(productId, 0, 2.4)]);
  const audit = await database.work.client.auditRow.findFirstOrThrow({ where: { plantId: plant.plantId, subject: `check ${checkIds[0]}` } });
  expect(audit).toMatchObject({ userId: plant.users.technician, actor: 'Test technician', action: 'readings.recorded', after: { subgroups: 1, confirmed: false } });
  const rows = await database.work.client.outboxRow.findMany({ where: { plantId: plant.plantId }, orderBy: { id: 'desc' }, take: 1 + signals.length });
  expect(signals.length).toBeGreaterThan(0);
  expect(rows.map((row) => row.kind).sort()).toEqual([...signals.map(() => 'signal.raised'), 'stream.changed'].sort());
  expect(rows.find((row) => row.kind === 'stream.changed')?.payload).toMatchObject({ streamId: stream });
});

it('stores the statistics that the library computes', async () => {
  const expected = subgroupStatistics([1.7, 1.8]);
  const productId = await product();
  const { checkIds } = await store([hook(productId, 0, null, { cans: [1, 2].map((number) => ({ number, unitId: plant.headIds[0] })), characteristics: [{ code: 'body-hook', readings: [1.7, 1.8] }] })]);
  expect((await verdictOf(checkIds[0] as number)).subgroups[0]).toMatchObject({ n: 2, mean: expected.mean, range: expected.range, sd: expected.sd, low: 1.7, high: 1.8 });
});
