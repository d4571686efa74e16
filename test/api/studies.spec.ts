import { afterAll, beforeAll, expect, it } from 'vitest';
import flowWidth from '../published/flow-width.json' with { type: 'json' };
import { expectWithin } from '../published/within.js';
import { recordCheck } from '#contract/inspections';
import { roles } from '#contract/roles';
import { type CapabilityStudy, getCapability, getCapabilityCsv, listCapabilityChoices } from '#contract/studies';
import { version } from '../../apps/api/src/platform/version.js';
import { startApi, type TestApi } from '../db/api.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';
import { makePlant, type TestPlant } from '../factories/plant.js';

let database: TestDatabase;
let api: TestApi;
let plant: TestPlant;
const march = { from: '2026-03-01T00:00:00Z', to: '2026-04-01T00:00:00Z' };
const at = (hour: number) => new Date(Date.UTC(2026, 2, 1, 8) + hour * 3_600_000).toISOString();
type Group = { readings: (number | null)[]; cans?: { number: number; unitId?: number; laneId?: number }[]; positions?: string[] };

/** Logs checks through the door, one an hour. */
async function log(machineId: number, code: string, groups: readonly Group[], more: { gaugeId?: number; firstHour?: number; key?: string } = {}): Promise<void> {
  for (const [index, { readings, cans = [{ number: 1 }], positions = readings.map((_, place) => `p${place + 1}`) }] of groups.entries()) {
    const reply = await api.as('technician').call(recordCheck, { body: {
      key: `${more.key ?? 'study'}-${machineId}-${code}-${index}`, machineId, productId: plant.productId, takenAt: at(index + (more.firstHour ?? 0)), cans, positions, characteristics: [{ code, readings, gaugeId: more.gaugeId }],
    } });
    expect(reply.status, reply.text).toBe(201);
  }
}
const specify = (code: keyof TestPlant['characteristics'], revision: number, limits: { lsl?: number; target?: number; usl?: number }, effectiveFrom = '2025-01-01T00:00:00Z') =>
  database.work.client.specification.create({ data: { plantId: plant.plantId, productId: plant.productId, characteristicId: plant.characteristics[code], revision, ...limits, effectiveFrom: new Date(effectiveFrom), authorId: plant.users.engineer, reason: 'test' } });
const query = (machine: keyof TestPlant['machines'], code: keyof TestPlant['characteristics'], more: object = {}) => ({ product: plant.productId, machine: plant.machines[machine], characteristic: plant.characteristics[code], ...march, ...more });
async function study(machine: keyof TestPlant['machines'], code: keyof TestPlant['characteristics'], more: object = {}): Promise<CapabilityStudy> {
  const reply = await api.as('auditor').call(getCapability, { query: query(machine, code, more) });
  expect(reply.status, reply.text).toBe(200);
  return reply.body;
}
/** Freezes limits wide enough, or where they are wanted, before the readings come in. */
async function freezeLimits(machine: keyof TestPlant['machines'], code: keyof TestPlant['characteristics'], basis: { kind: string; centre: number; sigma: number; spreadCentre: number }): Promise<void> {
  const identity = { plantId: plant.plantId, characteristicId: plant.characteristics[code], productId: plant.productId, machineId: plant.machines[machine] };
  const stream = await database.work.client.stream.create({ data: { ...identity, chartKind: basis.kind, basis: code === 'flange-width' ? 'reading' : 'can', rules: ['beyond-limits', 'two-of-three', 'four-of-five', 'eight-in-a-row'] } });
  await database.work.client.limits.create({ data: { plantId: plant.plantId, streamId: stream.id, ...basis, subgroups: 25, readings: 125, baselineFrom: new Date('2026-01-01'), baselineTo: new Date('2026-02-01'), effectiveFrom: new Date('2026-02-01'), authorId: plant.users.engineer, reason: 'test' } });
}
const fiveCans = [1, 2, 3, 4, 5].map((number) => ({ number }));

beforeAll(async () => { database = await freshDatabase(); plant = await makePlant(database.work); api = await startApi(database); });
afterAll(async () => { await api.close(); await database.close(); });

it('gives back the flow widths that went in as checks (Montgomery, table 6.1: Cp, Cpk, Pp, Ppk and intervals)', async () => {
  await specify('flange-width', 1, flowWidth.specification);
  await log(plant.machines.flanger, 'flange-width', flowWidth.subgroups.map((readings) => ({ readings, cans: fiveCans, positions: ['edge'] })), { gaugeId: plant.gaugeId });
  const { streams, pooled, specification, softwareVersion, cautions } = await study('flanger', 'flange-width');
  const [entry] = streams;
  const { capability: expected, tolerance } = flowWidth;
  expect([streams.length, pooled, softwareVersion, specification.used?.revision]).toEqual([1, null, version, 1]);
  for (const name of ['cp', 'cpk', 'pp', 'ppk', 'cpm', 'ppkLowerBound'] as const) expectWithin(entry?.figures?.[name], expected[name], tolerance, name);
  const intervals = entry?.figures?.intervals;
  [...expected.ppInterval, ...expected.ppkInterval].forEach((value, index) => { expectWithin([intervals?.pp?.low, intervals?.pp?.high, intervals?.ppk?.low, intervals?.ppk?.high][index], value, tolerance, `interval end ${index}`); });
  expectWithin(entry?.figures?.expectedPpm.within.above, expected.ppmAbove, { abs: 0.006 }, 'ppm above');
  expect(entry).toMatchObject({ method: 'two-sided', refusal: null, n: 125, subgroups: 25, readings: 125, minimum: 1.1839, maximum: 1.8662, readingsOutside: { below: 0, above: 0 }, fewData: false });
  expect(entry?.outside).toMatchObject({ found: 0, units: 125 });
  expectWithin(entry?.outside?.upperBound, 1 - 0.05 ** (1 / 125), { rel: 1e-9 }, 'what no can outside proves');
  expect(entry?.histogram?.counts.reduce((sum, count) => sum + count, 0)).toBe(125);
  expect(entry?.histogram?.curves.within?.x).toHaveLength(81);
  expect(entry?.normality?.wording).toBe('may-be-normal');
  // No limits were frozen: nothing has judged these points, and that stands before the index.
  expect(entry?.stability).toMatchObject({ state: 'not-judged', judged: 0, notJudged: 25, signals: [] });
  expect(cautions[0]).toBe('not-judged');
  expect(entry?.gauges).toMatchObject([{ code: 'MIC-1', subgroups: 25, overdue: 0 }]);
});

it('calls a stream stable only when every point was judged and no rule fired, and names the signals otherwise', async () => {
  await freezeLimits('bodyMaker', 'weld-overlap', { kind: 'xbar-r', centre: 0.42, sigma: 0.02, spreadCentre: 0.0465 });
  const steady = [0.41, 0.42, 0.43, 0.42, 0.42];
  const groups = Array.from({ length: 25 }, (_, index) => ({ readings: steady.map((reading) => reading + (index % 2 === 0 ? 0.004 : -0.004)), cans: fiveCans, positions: ['front'] }));
  await log(plant.machines.bodyMaker, 'weld-overlap', groups, { gaugeId: plant.gaugeId });
  const stable = await study('bodyMaker', 'weld-overlap');
  expect(stable.streams[0]?.stability).toMatchObject({ state: 'stable', judged: 25, notJudged: 0, signals: [] });
  expect(stable.cautions).not.toContain('not-stable');

  await log(plant.machines.bodyMaker, 'weld-overlap', [{ readings: steady.map((reading) => reading + 0.06), cans: fiveCans, positions: ['front'] }], { firstHour: 40, key: 'shifted' });
  const shifted = await study('bodyMaker', 'weld-overlap');
  expect(shifted.streams[0]?.stability.state).toBe('not-stable');
  expect(shifted.streams[0]?.stability.signals).toEqual(expect.arrayContaining([expect.objectContaining({ rule: 'beyond-limits', side: 'above', state: 'open', firedAt: at(40) })]));
  expect(shifted.cautions[0]).toBe('not-stable');
  expect(shifted.streams[0]?.figures?.cpk).toEqual(expect.any(Number));
  // A period that ends before the shift is stable.
  expect((await study('bodyMaker', 'weld-overlap', { to: at(30) })).streams[0]?.stability.state).toBe('stable');
});

it('puts the worst head first and says that pooling hides it', async () => {
  const [one, two] = plant.headIds;
  const good = [1.74, 1.76, 1.75, 1.77, 1.73, 1.75, 1.76, 1.74];
  const pair = good.map((reading, index) => ({ readings: [reading, 1.6 + (index % 3) * 0.03], cans: [{ number: 1, unitId: one }, { number: 2, unitId: two }], positions: ['a'] }));
  await log(plant.machines.seamer, 'body-hook', pair);
  const { streams, pooled, cautions } = await study('seamer', 'body-hook');
  expect(streams.map((entry) => entry.unit?.code)).toEqual(['H2', 'H1']);
  expect(streams[0]?.figures?.ppk).toBeLessThan(pooled?.figures?.ppk ?? Number.NaN);
  expect(pooled).toMatchObject({ n: 16, unit: null, streamId: null });
  expect(cautions).toEqual(expect.arrayContaining(['pooled-hides', 'few-data', 'gauge-unknown', 'no-gauge-study', 'no-legal-minimum']));
  expect((await study('seamer', 'body-hook', { unit: one })).streams.map((entry) => entry.unit?.code)).toEqual(['H1']);
  // Sigma within of the pool holds no step from one head to the other: it is the mean of both heads' moving ranges.
  expect(pooled?.sdWithin).toBeLessThan((pooled?.sdOverall ?? 0) / 2);
});

it('gives one side its own index, and a rating an exact share instead of an index', async () => {
  const [unitId] = plant.headIds;
  await log(plant.machines.seamer, 'cover-hook', [1.62, 1.66, 1.64, 1.68, 1.65, 1.63].map((reading) => ({ readings: [reading], cans: [{ number: 1, unitId }] })));
  const oneSided = (await study('seamer', 'cover-hook')).streams[0];
  expect(oneSided).toMatchObject({ method: 'one-sided', figures: { cp: null, pp: null, cpm: null, intervals: { cp: null, pp: null } }, readingsOutside: { below: 0, above: null } });
  expect(oneSided?.figures?.ppk).toBeGreaterThan(0);
  expect(oneSided?.figures?.expectedPpm.overall.above).toBeNull();

  await specify('tightness', 1, { lsl: 75 });
  await log(plant.machines.seamer, 'tightness', [80, 90, 70, 85, 90, 95, 80, 90, 85, 90, 80, 85, 90, 95, 90, 85, 90, 80, 85, 90].map((reading) => ({ readings: [reading], cans: [{ number: 1, unitId }] })));
  const rating = (await study('seamer', 'tightness')).streams[0];
  expect(rating).toMatchObject({ method: 'fraction', figures: null, normality: null, readingsOutside: { below: 1, above: null }, outside: { found: 1, units: 20, fraction: 0.05 } });
  // Clopper & Pearson: one of twenty, 95 % one-sided, solves sum of the first two binomial terms = 0.05.
  const bound = rating?.outside?.upperBound ?? Number.NaN;
  expectWithin((1 - bound) ** 20 + 20 * bound * (1 - bound) ** 19, 0.05, { rel: 1e-9 }, 'the risk at the bound');
});

it('counts cans where a can is the member, and a can with one bad point once', async () => {
  await specify('seam-thickness', 1, { lsl: 0.93, target: 0.99, usl: 1.05 });
  await log(plant.machines.seamer, 'seam-thickness', [[1.06, 1.07, 0.99], [0.98, 0.99, null], [1.0, 0.99, 0.98], [0.97, 0.99, 1.0]].map((readings) => ({ readings })));
  const { streams: [entry], cautions } = await study('seamer', 'seam-thickness');
  expect(entry).toMatchObject({ n: 4, readings: 11, basis: 'can', severalPositions: true, readingsOutside: { below: 0, above: 2 }, outside: { found: 1, units: 4 } });
  expect(cautions).toContain('can-means');
});

it('uses the last specification of the period and says that it changed', async () => {
  await specify('seam-length', 1, { lsl: 2.4, usl: 2.7 });
  await specify('seam-length', 2, { lsl: 2.45, usl: 2.65 }, '2026-03-02T00:00:00Z');
  await log(plant.machines.seamer, 'seam-length', [2.55, 2.56, 2.54, 2.55].map((reading) => ({ readings: [reading] })));
  const changed = await study('seamer', 'seam-length');
  expect(changed.specification.revisions.map((entry) => entry.revision)).toEqual([1, 2]);
  expect([changed.specification.used?.lsl, changed.cautions.includes('specification-changed')]).toEqual([2.45, true]);
  const before = await study('seamer', 'seam-length', { to: '2026-03-01T23:00:00Z' });
  expect([before.specification.used?.revision, before.cautions.includes('specification-changed')]).toEqual([1, false]);
});

it('refuses a figure over two formula versions, and one without a specification, and still shows what was measured', async () => {
  const [unitId] = plant.headIds;
  const seam = (index: number) => ({ key: `formula-${index}`, machineId: plant.machines.seamer, productId: plant.productId, takenAt: at(100 + index), cans: [{ number: 1, unitId }], positions: ['a'],
    characteristics: [{ code: 'cover-hook', readings: [1.65 + index * 0.005] }, { code: 'body-hook', readings: [1.75] }, { code: 'seam-length', readings: [2.55] }] });
  for (const index of [0, 1, 2]) expect((await api.as('operator').call(recordCheck, { body: seam(index) })).status).toBe(201);
  const bare = (await study('seamer', 'seam-overlap')).streams[0];
  expect(bare).toMatchObject({ refusal: { code: 'no-specification' }, figures: null, n: 3 });
  expect(bare?.formulas).toHaveLength(1);
  await specify('seam-overlap', 1, { lsl: 0.8, target: 1.0 });
  expect((await study('seamer', 'seam-overlap')).streams[0]).toMatchObject({ refusal: null, method: 'one-sided' });
  await database.work.client.product.update({ where: { plantId_id: { plantId: plant.plantId, id: plant.productId } }, data: { overlapFactor: 1.1 } });
  expect((await api.as('operator').call(recordCheck, { body: seam(3) })).status).toBe(201);
  const mixed = await study('seamer', 'seam-overlap');
  expect(mixed.streams[0]).toMatchObject({ refusal: { code: 'mixed-formulas' }, method: null, figures: null, mean: null, histogram: null, outside: null });
  expect(mixed.streams[0]?.formulas).toHaveLength(2);
  expect(mixed.cautions).toContain('mixed-formulas');
});

it('says how many data are needed, which field is wrong, and leaves voided checks out', async () => {
  const none = await api.as('manager').call(getCapability, { query: query('bodyMaker2', 'weld-overlap') });
  expect([none.status, none.problem.code]).toEqual([422, 'too-little-data']);
  expect(none.problem.detail).toContain('at least 2 subgroups; a first study asks for 25 subgroups or 100 readings');
  await log(plant.machines.bodyMaker2, 'weld-overlap', [{ readings: [0.42, 0.41] }]);
  expect((await api.as('manager').call(getCapability, { query: query('bodyMaker2', 'weld-overlap') })).problem.detail).toContain('has one subgroup');
  await log(plant.machines.bodyMaker2, 'weld-overlap', [{ readings: [0.43, 0.41] }, { readings: [0.44, 0.41] }], { firstHour: 5, key: 'later' });
  expect((await study('bodyMaker2', 'weld-overlap')).streams[0]?.n).toBe(3);
  await database.work.client.check.update({ where: { plantId_key: { plantId: plant.plantId, key: `later-${plant.machines.bodyMaker2}-weld-overlap-1` } }, data: { voidedAt: new Date() } });
  expect((await study('bodyMaker2', 'weld-overlap')).streams[0]?.n).toBe(2);
  const missing = await api.as('manager').call(getCapability, { query: { ...query('flanger', 'flange-width'), machine: 99_999 } });
  expect([missing.status, missing.problem.errors?.[0]?.field]).toEqual([404, 'query.machine']);
  const turned = await api.as('manager').call(getCapability, { query: { ...query('flanger', 'flange-width'), from: march.to, to: march.from } });
  expect([turned.status, turned.problem.errors?.map((error) => error.field)]).toEqual([400, ['query.to']]);
});

it('warns where a gauge was past its calibration date', async () => {
  await database.work.client.gauge.update({ where: { plantId_id: { plantId: plant.plantId, id: plant.gaugeId } }, data: { calibrationDue: new Date(at(10)) } });
  const { streams: [entry], cautions } = await study('flanger', 'flange-width');
  expect(entry?.gauges).toMatchObject([{ code: 'MIC-1', subgroups: 25, overdue: 14 }]);
  expect(cautions).toContain('calibration-overdue');
});

it('writes the same figures as CSV, with what they are of, and text that no spreadsheet runs', async () => {
  await database.work.client.product.update({ where: { plantId_id: { plantId: plant.plantId, id: plant.productId } }, data: { customer: '=1+1, "Test" customer' } });
  const reply = await api.as('auditor').call(getCapabilityCsv, { query: query('flanger', 'flange-width') });
  expect(reply.status).toBe(200);
  expect(reply.headers['content-type']).toContain('text/csv');
  expect(reply.headers['content-disposition']).toBe('attachment; filename="capability_T65_FL1_flange-width_2026-03-01_2026-04-01.csv"');
  const lines = reply.text.split('\r\n');
  expect(lines[1]).toBe('Product,T65,Test can 65 mm,"\'=1+1, ""Test"" customer"');
  expect(lines).toEqual(expect.arrayContaining(['Machine,FL1,Flanger 1,line T1', 'Characteristic,flange-width,Flange width,mm', 'Period from (UTC),2026-03-01T00:00:00.000Z', `Software version,${version}`]));
  const start = lines.indexOf('');
  const heading = lines[start + 1]?.split(',') ?? [];
  const values = lines[start + 2]?.split(',') ?? [];
  const [entry] = (await study('flanger', 'flange-width')).streams;
  // Headings with a comma of their own are quoted; these come before the first of them.
  expect(values[heading.indexOf('Cp')]).toBe(String(entry?.figures?.cp));
  expect(values[heading.indexOf('Ppk one-sided lower bound')]).toBe(String(entry?.figures?.ppkLowerBound));
  expect(values.slice(0, 5)).toEqual(['stream', '', '', 'not-judged', '0']);
  expect(heading[heading.indexOf('Subgroups') + 2]).toBe('Mean (mm)');
});

it('is read by every role and by nobody else, of one plant only', async () => {
  for (const role of roles) expect((await api.as(role).call(getCapability, { query: query('flanger', 'flange-width') })).status, role).toBe(200);
  for (const endpoint of [getCapability, getCapabilityCsv]) expect((await api.nobody.call(endpoint, { query: query('flanger', 'flange-width') })).status).toBe(401);
  expect((await api.nobody.call(listCapabilityChoices, {})).status).toBe(401);
  const other = await makePlant(database.work);
  const foreign = { product: other.productId, machine: other.machines.flanger, characteristic: other.characteristics['flange-width'], ...march };
  expect((await api.as('engineer').call(getCapability, { query: foreign })).problem.code).toBe('not-found');
});

it('lists what can be studied, with its heads and the span of its readings', async () => {
  const { body } = await api.as('operator').call(listCapabilityChoices, {});
  const hooks = body.choices.find((choice) => choice.characteristic.code === 'body-hook' && choice.machine.code === 'SE1');
  expect(hooks).toMatchObject({ product: { code: 'T65' }, machine: { line: 'T1' }, units: [{ code: 'H1' }, { code: 'H2' }], lanes: [], first: at(0) });
  expect(body.choices.some((choice) => choice.characteristic.code === 'countersink')).toBe(false);
});
