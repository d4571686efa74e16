import { afterAll, beforeAll, expect, it } from 'vitest';
import { decodeCanCode } from '#contract/can-codes';
import { recordCounterReadings, setCounter } from '#contract/counters';
import { logIncident, type NewIncident } from '#contract/incidents';
import { createMachine, getPlant, setStretches } from '#contract/plant';
import { recordProductionCounts } from '#contract/production';
import { traceIncident } from '#contract/traces';
import { startApi, type TestApi } from '../db/api.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';
import { makePlant, type TestPlant } from '../factories/plant.js';

// What goes wrong on the way from a complaint to its trace: each gets an answer in words, none a 500, none a silent wrong hour.
const NOW = new Date('2026-11-10T12:00:00Z');
const PATTERN = '{line} {year:2}{day-of-year} {hour}{minute} {lane}';
let database: TestDatabase;
let api: TestApi;
let plant: TestPlant;
let other: TestPlant;
let steps: number[];
beforeAll(async () => {
  database = await freshDatabase();
  plant = await makePlant(database.work);
  const db = database.work.client;
  other = await makePlant(database.work);
  await db.line.update({ where: { plantId_id: { plantId: other.plantId, id: other.lineId } }, data: { code: 'X7' } });
  api = await startApi(database, { now: () => NOW });
  steps = (await db.step.findMany({ where: { plantId: plant.plantId, lineId: plant.lineId }, orderBy: { position: 'asc' } })).map(({ id }) => id);
  for (const { plantId, lineId, machines, users } of [plant, other]) {
    const { stepId } = await db.machine.findFirstOrThrow({ where: { plantId, id: machines.seamer } });
    await db.canCodePattern.create({ data: { plantId, lineId, pattern: PATTERN, codedAtStepId: stepId, clockMinutes: 2, effectiveFrom: new Date('2026-01-01T00:00:00Z'), example: 'x', authorId: users.engineer } });
    await db.lineEvent.create({ data: { plantId, lineId, kind: 'stop', at: new Date('2026-02-01T00:00:00Z'), text: 'first record', actor: 'test' } });
  }
  await api.as('engineer').call(setStretches, { params: { id: plant.lineId }, body: { clockMinutes: 0, stretches: [{ fromStepId: steps[0] ?? 0, toStepId: steps[1] ?? 0, shortestSeconds: 60, longestSeconds: 600, leastCans: 0, mostCans: 3000 }, { fromStepId: steps[1] ?? 0, toStepId: steps[2] ?? 0, shortestSeconds: 30, longestSeconds: 60, leastCans: null, mostCans: null }] } });
});
afterAll(async () => { await api.close(); await database.close(); });

const decode = async (code: string, receivedAt = NOW.toISOString()) => (await api.as('technician').call(decodeCanCode, { query: { code, receivedAt } })).body;
const complaint = (more: Partial<NewIncident> = {}): NewIncident => ({
  kind: 'complaint', customer: 'Test customer', productId: plant.productId, lineId: plant.lineId, canCode: '', madeAt: '2026-10-01T10:00:00Z', madeUntil: null, codedAtStepId: null, laneId: null, unitId: null,
  receivedAt: '2026-10-20T10:00:00Z', cansComplained: 5, cansExamined: 5, cansLeaking: 2, leakPlace: "double seam, maker's end", defect: 'short-body-hook', description: 'Short body hook.', containment: '', dueAt: null, ...more,
});
const log = (more: Partial<NewIncident> = {}) => api.as('engineer').call(logIncident, { body: complaint(more) });
const trace = async (more: Partial<NewIncident> = {}) => (await api.as('engineer').call(traceIncident, { params: { id: (await log(more)).body.id }, query: {} })).body;
const faults = ({ status, problem }: { status: number; problem: { errors?: { field: string; expected: string }[] | undefined } }) => [status, problem.errors?.map(({ field, expected }) => `${field}: ${expected}`)];

it('a code of another plant: no meaning here, the place where it stops fitting, and nothing of the other plant', async () => {
  expect(await decode('X7 26060 1432 A')).toEqual({ meanings: [], tried: 1, refusals: [expect.objectContaining({ kind: 'does-not-fit', line: 'T1', position: 1, expected: 'the line code T1', found: 'X7260601' })] });
  expect(faults(await log({ lineId: other.lineId, productId: other.productId, laneId: other.laneIds.A, unitId: other.headIds[0] }))).toEqual([400, [
    'productId: a product of this plant', 'lineId: a line of this plant', 'laneId: a lane of this line', 'unitId: a unit of this line',
  ]]);
  const foreign = await database.work.client.incident.create({ data: { ...complaint(), plantId: other.plantId, productId: other.productId, lineId: other.lineId, madeAt: new Date('2026-10-01T10:00:00Z'), receivedAt: new Date('2026-10-02T10:00:00Z'), loggedBy: other.users.engineer, loggedAt: NOW, changedAt: NOW }, select: { id: true } });
  const traced = await api.as('engineer').raw({ method: 'GET', url: `/api/incidents/${foreign.id}/trace` });
  expect([traced.status, traced.problem.detail]).toEqual([404, `There is no incident ${foreign.id}.`]);
  const counted = await api.as('operator').call(recordCounterReadings, { body: { readings: [{ machineId: other.machines.seamer, at: '2026-10-01T10:00:00Z', good: 5, rejected: null }] } });
  expect(counted.body).toMatchObject({ stored: 0, refused: [{ row: 1, field: 'readings.0.machineId', expected: 'a machine of this plant' }] });
});

it('a date before the first record: read with a caution, traced without a claim', async () => {
  const [meaning] = (await decode('T1 26002 1432 A')).meanings;
  expect(meaning).toMatchObject({ from: '2026-01-02T14:32:00.000Z', cautions: ['before-first-record'] });
  const { origins, windows } = await trace({ madeAt: '2026-01-02T14:32:00Z', madeUntil: '2026-01-02T14:33:00Z' });
  expect(origins.map(({ enoughData, suspect }) => [enoughData, suspect])).toEqual(origins.map(() => [false, null]));
  expect(windows.flatMap(({ machines }) => machines.map(({ good }) => good)).every((good) => good === null)).toBe(true);
  expect(faults(await log({ madeAt: '2026-10-21T10:00:00Z' }))).toEqual([400, ['madeAt: before the incident was received']]);
});

it('a half or head that is missing at the end of the code stays unknown, with a caution; one that is not of the line does not fit', async () => {
  expect((await decode('T1 26060 1432')).meanings).toMatchObject([{ laneId: null, from: '2026-03-01T14:32:00.000Z', cautions: ['mark-missing'] }]);
  expect((await decode('T1 26060 1432 C')).refusals).toMatchObject([{ kind: 'does-not-fit', expected: 'a lane of line T1: A, B' }]);
});

it('negative counts: refused by field and row, in counts all together, in readings one by one', async () => {
  const span = { machineId: plant.machines.seamer, at: '2026-10-01T10:00:00Z', minutes: 5, good: 10 };
  expect(faults(await api.as('operator').call(recordProductionCounts, { body: { counts: [span, { ...span, at: '2026-10-01T10:05:00Z', good: -1 }] } }))).toEqual([400, ['counts.1.good: 0 or more cans']]);
  expect(await database.work.client.productionCount.count({ where: { plantId: plant.plantId } })).toBe(0);
  const { body } = await api.as('operator').call(recordCounterReadings, { body: { readings: [{ machineId: span.machineId, at: '2026-10-01T10:00:00Z', good: -4, rejected: null }, { machineId: span.machineId, at: '2026-10-01T10:01:00Z', good: 7, rejected: null }] } });
  expect(body).toMatchObject({ stored: 1, refused: [{ field: 'readings.0.good', row: 1, expected: 'a whole number of cans, 0 or more, and not -4' }] });
});

it('a counter that rolls over is walked through; one that is set back leaves a gap, and the trace does not lose the can in it', async () => {
  const start = Date.parse('2026-10-05T08:00:00Z');
  const at = (minutes: number) => new Date(start + minutes * 60_000).toISOString();
  // 400 cans a minute at both steps, five minutes apart; the welder's counter rolls over, the flanger's is set to 0 at 09:30.
  const readings = (setBackAt: number | null) => Array.from({ length: 37 }, (_, index) => index * 5).flatMap((minutes) => [
    { machineId: plant.machines.bodyMaker, at: at(minutes), good: (990_000 + minutes * 400) % 1_000_000, rejected: 0 },
    { machineId: plant.machines.flanger, at: at(minutes), good: setBackAt !== null && minutes >= setBackAt ? (minutes - setBackAt) * 400 : 50_000 + Math.max(0, minutes - 5) * 400, rejected: 0 },
  ]);
  await api.as('engineer').call(setCounter, { params: { id: plant.machines.bodyMaker }, body: { rollsOverAt: 1_000_000, mostPerMinute: 700 } });
  const { body } = await api.as('operator').call(recordCounterReadings, { body: { readings: readings(90) } });
  expect(body.decisions.map(({ machineId, kind, counter }) => [machineId === plant.machines.flanger ? 'flanger' : 'welder', kind, counter])).toEqual([['welder', 'rolled-over', 'good'], ['flanger', 'set-back', 'good']]);
  // Coded at the flanger at 10:00, so welded about 09:55; half an hour before, the set-back lies between.
  const welded = async (minutes: number) => (await trace({ codedAtStepId: steps[1] ?? null, madeAt: at(minutes), madeUntil: at(minutes + 1) })).windows.find(({ stepId }) => stepId === steps[0]);
  for (const minutes of [60, 120, 93]) {
    const window = await welded(minutes);
    expect(Date.parse(window?.from ?? ''), `from, ${minutes}`).toBeLessThanOrEqual(start + (minutes - 5) * 60_000);
    expect(Date.parse(window?.until ?? ''), `until, ${minutes}`).toBeGreaterThanOrEqual(start + (minutes - 4) * 60_000);
    expect(['counts', 'transit']).toContain(window?.basis);
  }
  expect((await welded(60))?.basis).toBe('counts');
});

it('the hour that the clocks skip is no time, the hour that they show twice asks which', async () => {
  // Lisbon: on 29 March 01:00 became 02:00, on 25 October 02:00 became 01:00.
  expect(await decode('T1 26088 0130 A')).toMatchObject({ meanings: [], refusals: expect.arrayContaining([expect.objectContaining({ kind: 'skipped-by-the-clock', named: '2026-03-29 01:30' })]) });
  expect((await decode('T1 26088 0200 A')).meanings).toMatchObject([{ from: '2026-03-29T01:00:00.000Z', cautions: [] }]);
  expect((await decode('T1 26088 0059 A')).meanings).toMatchObject([{ from: '2026-03-29T00:59:00.000Z', cautions: [] }]);
  const twice = (await decode('T1 26298 0130 A')).meanings;
  expect(twice.map(({ from, cautions }) => [from, cautions])).toEqual([['2026-10-25T01:30:00.000Z', ['clock-set-back']], ['2026-10-25T00:30:00.000Z', ['clock-set-back']]]);
  // Whichever is chosen is kept and traced as it is; a whole repeated hour is two hours wide.
  const second = await trace({ madeAt: twice[0]?.from ?? '', madeUntil: twice[0]?.until ?? '', receivedAt: '2026-11-01T10:00:00Z' });
  expect(second.windows.find(({ basis }) => basis === 'code')).toMatchObject({ from: '2026-10-25T01:30:00.000Z', until: '2026-10-25T01:31:00.000Z' });
  const whole = await trace({ madeAt: '2026-10-25T00:00:00Z', madeUntil: '2026-10-25T02:00:00Z', receivedAt: '2026-11-01T10:00:00Z' });
  expect(whole.windows.find(({ basis }) => basis === 'code')).toMatchObject({ from: '2026-10-25T00:00:00.000Z', until: '2026-10-25T02:00:00.000Z' });
});

it('a complaint entered from another zone means the same moments, and a time without a zone is refused', async () => {
  const here = await decode('T1 26274 1030 A', '2026-10-01T12:00:00Z');
  expect(await decode('T1 26274 1030 A', '2026-10-01T21:00:00+09:00')).toEqual(here);
  // In Tokyo it is long after; by the instant the can is not made yet.
  expect((await decode('T1 26274 1030 A', '2026-10-01T17:30:00+09:00')).refusals).toContainEqual(expect.objectContaining({ kind: 'after-receipt' }));
  const { body } = await log({ madeAt: '2026-10-01T18:30:00+09:00', madeUntil: '2026-10-01T18:31:00+09:00', receivedAt: '2026-10-05T08:00:00-07:00' });
  expect(body).toMatchObject({ madeAt: '2026-10-01T09:30:00.000Z', madeUntil: '2026-10-01T09:31:00.000Z', receivedAt: '2026-10-05T15:00:00.000Z' });
  expect(faults(await log({ madeAt: '2026-10-01T10:00:00', receivedAt: 'last week' }))).toMatchObject([400, [expect.stringMatching(/^madeAt: /), expect.stringMatching(/^receivedAt: /)]]);
  const noZone = await api.as('operator').raw({ method: 'POST', url: '/api/counts/readings', payload: { readings: [{ machineId: plant.machines.seamer, at: '2026-10-01T10:00:00', good: 1 }] } });
  expect([noZone.status, noZone.problem.errors?.[0]?.field]).toEqual([400, 'readings.0.at']);
});

// Last, because it gives the line another pattern from June on.
it('two machines with the same name, on one line and on different lines, are told apart by their codes', async () => {
  const db = database.work.client;
  const line = await db.line.create({ data: { plantId: plant.plantId, code: 'T2', name: 'Second line', position: 2 } });
  const step = await db.step.create({ data: { plantId: plant.plantId, lineId: line.id, kind: 'seamer', position: 1 } });
  const twin = await api.as('engineer').call(createMachine, { body: { stepId: steps[2] ?? 0, code: 'SE9', name: 'Seamer 1', units: ['H1', 'H2'] } });
  expect(twin.status).toBe(201);
  expect((await api.as('engineer').call(createMachine, { body: { stepId: step.id, code: 'SE8', name: 'Seamer 1', units: [] } })).status).toBe(201);
  expect(faults(await api.as('engineer').call(createMachine, { body: { stepId: step.id, code: 'SE1', name: 'Other', units: [] } }))).toEqual([409, ['code: a code that no machine of the plant has: "SE1" is taken']]);
  const { origins, windows } = await trace();
  const seamers = origins.filter(({ stepKind }) => stepKind === 'seamer').map(({ machine, unit }) => `${machine.code} ${machine.name} ${unit?.code ?? ''}`);
  expect(new Set(seamers).size).toBe(seamers.length);
  expect(windows.find(({ stepKind }) => stepKind === 'seamer')?.machines.map(({ code, name }) => [code, name])).toEqual([['SE1', 'Seamer 1'], ['SE9', 'Seamer 1']]);
  expect(JSON.stringify({ origins, windows })).not.toContain('SE8');
  // Heads H1 and H2 are on both seamers: a code that names the head only asks which.
  await db.canCodePattern.create({ data: { plantId: plant.plantId, lineId: plant.lineId, pattern: '{year:2}{day-of-year} {unit}', codedAtStepId: steps[2] ?? 0, clockMinutes: 2, effectiveFrom: new Date('2026-06-01T00:00:00Z'), example: 'x', authorId: plant.users.engineer } });
  expect((await decode('26274 H1')).meanings.map(({ machine, unit }) => [machine, unit]).sort()).toEqual([['SE1', 'H1'], ['SE9', 'H1']]);
  expect((await api.as('operator').call(getPlant, {})).body.lines.flatMap(({ steps: all }) => all.flatMap(({ machines }) => machines)).filter(({ name }) => name === 'Seamer 1').map(({ code }) => code).sort()).toEqual(['SE1', 'SE8', 'SE9']);
  await db.machine.updateMany({ where: { plantId: plant.plantId, code: 'SE9' }, data: { retiredAt: NOW } });
});
