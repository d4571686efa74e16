import { afterAll, beforeAll, expect, it } from 'vitest';
import { decodeCanCode, listCanCodePatterns, previewCanCode, retireCanCodePattern, saveCanCodePattern } from '#contract/can-codes';
import { startApi, type TestApi } from '../db/api.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';
import { makePlant, type TestPlant } from '../factories/plant.js';

let database: TestDatabase;
let api: TestApi;
let plant: TestPlant;
let seamerStepId: number;
const now = new Date('2026-03-10T12:00:00Z');
const pattern = '{line} {year:2}{day-of-year} {hour}{minute} {lane}';
beforeAll(async () => {
  database = await freshDatabase();
  plant = await makePlant(database.work);
  api = await startApi(database, { now: () => now });
  seamerStepId = (await database.work.client.machine.findFirstOrThrow({ where: { id: plant.machines.seamer } })).stepId;
  await database.work.client.lineEvent.create({ data: { plantId: plant.plantId, lineId: plant.lineId, kind: 'stop', at: new Date('2026-02-01T00:00:00Z'), text: 'first', actor: 'test' } });
});
afterAll(async () => { await api.close(); await database.close(); });

const meaning = () => ({ from: '2026-03-01T14:32:00.000Z', until: '2026-03-01T14:33:00.000Z', laneId: plant.laneIds.A, machineId: null, unitId: null });
const draft = (change: object = {}) => ({ lineId: plant.lineId, pattern, codedAtStepId: seamerStepId, clockMinutes: 2, effectiveFrom: '2026-01-01T00:00:00Z', example: 'T1 26060 1432 A', confirmed: meaning(), ...change });
const decode = async (code: string, receivedAt = '2026-03-10T12:00:00Z') => (await api.as('technician').call(decodeCanCode, { query: { code, receivedAt } })).body;

it('without a pattern reads nothing and says that none was tried', async () => {
  expect(await decode('T1 26060 1432 A')).toEqual({ meanings: [], refusals: [], tried: 0 });
});

it('tries a pattern without storing it: its first fault, what it reads, what it would print now', async () => {
  const tryIt = async (change: object) => (await api.as('engineer').call(previewCanCode, { body: { lineId: plant.lineId, pattern, codedAtStepId: seamerStepId, example: 'T1 26060 1432 A', ...change } })).body;
  expect(await tryIt({})).toMatchObject({ fault: null, printed: ['T1 26069 1200 A', 'T1 26069 1200 B'], meanings: [{ ...meaning(), lane: 'A', patternId: null, codedAtStepKind: 'seamer' }], refusals: [] });
  expect(await tryIt({ pattern: '{line} {jday}' })).toMatchObject({ fault: { position: 9, expected: expect.stringContaining('{day-of-year}') }, meanings: [], printed: [] });
  expect(await tryIt({ pattern: '{day-of-year}{machine}{unit}', example: '060SE1H2' })).toMatchObject({ printed: ['069SE1H1'], meanings: [{ machine: 'SE1', unit: 'H2', unitId: plant.headIds[1], cautions: ['year-taken'] }] });
  expect((await api.as('engineer').call(previewCanCode, { body: { lineId: plant.lineId, pattern, codedAtStepId: 99_999 } })).problem.errors).toEqual([{ field: 'codedAtStepId', expected: 'a step of line T1' }]);
  expect((await api.as('engineer').call(listCanCodePatterns, {})).body.patterns).toEqual([]);
});

it('refuses to save what does not read its example as the person saw it', async () => {
  const refused = async (change: object) => { const { status, problem } = await api.as('engineer').call(saveCanCodePattern, { body: draft(change) }); return [status, problem.errors?.[0]?.field, problem.errors?.[0]?.expected]; };
  expect(await refused({ pattern: '{line} {hour}' })).toEqual([400, 'pattern', 'at character 14: a field for the day: {day-of-year}, or {month} and {day}']);
  expect(await refused({ example: 'T1 26060 1432 C' })).toEqual([400, 'example', 'a code that the pattern reads: at character 12 a lane of line T1: A, B']);
  expect(await refused({ confirmed: { ...meaning(), laneId: plant.laneIds.B } })).toEqual([400, 'confirmed', 'the meaning that the pattern gives to the example: 2026-03-01T14:32:00.000Z to 2026-03-01T14:33:00.000Z']);
  expect(await refused({ confirmed: { ...meaning(), from: '2026-03-01T13:32:00.000Z' } })).toEqual([400, 'confirmed', expect.any(String)]);
  expect((await api.as('technician').call(saveCanCodePattern, { body: draft() })).status).toBe(403);
});

it('keeps every version: the next one supersedes, and codes are read by the one that was in force', async () => {
  const first = await api.as('engineer').call(saveCanCodePattern, { body: draft({ reason: ' Halves are told apart from now on ' }) });
  expect(first.status).toBe(201);
  const again = await api.as('engineer').call(saveCanCodePattern, { body: draft() });
  expect([again.status, again.problem.errors?.[0]?.field]).toEqual([409, 'effectiveFrom']);
  const second = await api.as('engineer').call(saveCanCodePattern, { body: draft({ pattern: '{year:1}{day-of-year}{hour}{line}', example: '606814T1', effectiveFrom: '2026-03-05T00:00:00Z', confirmed: { from: '2026-03-09T14:00:00Z', until: '2026-03-09T15:00:00Z', laneId: null, machineId: null, unitId: null } }) });
  expect(second.status).toBe(201);
  const { body: { patterns } } = await api.as('manager').call(listCanCodePatterns, {});
  expect(patterns.map(({ id, state, effectiveUntil }) => [id, state, effectiveUntil])).toEqual([[second.body.id, 'in-force', null], [first.body.id, 'superseded', '2026-03-05T00:00:00.000Z']]);
  expect(patterns.map(({ reason, author }) => [reason, author])).toEqual([['', 'Test engineer'], ['Halves are told apart from now on', 'Test engineer']]);
  expect((await decode('t1 26060 1432 a')).meanings).toMatchObject([{ ...meaning(), patternId: first.body.id, cautions: [], lineName: 'Test line' }]);
  expect((await decode('606814T1')).meanings).toMatchObject([{ from: '2026-03-09T14:00:00.000Z', until: '2026-03-09T15:00:00.000Z', laneId: null, precision: 'hour', cautions: ['year-taken'], patternId: second.body.id }]);
  const late = await decode('T1 26066 1432 A');
  expect(late.meanings).toEqual([]);
  expect(late.refusals).toContainEqual({ kind: 'not-in-force', named: '2026-03-07T14:32:00.000Z', patternId: first.body.id, pattern, line: 'T1' });
  const audit = await database.work.client.auditRow.findMany({ where: { action: 'can-code-pattern.made' } });
  expect(audit.map(({ subject }) => subject)).toEqual([`can-code pattern ${first.body.id}`, `can-code pattern ${second.body.id}`]);
});

it('says why a code is none: another line, after the receipt, no such day; and warns of a time without records', async () => {
  const kinds = async (code: string, receivedAt?: string) => (await decode(code, receivedAt)).refusals.map(({ kind }) => kind);
  expect(await kinds('L9 26060 1432 A')).toEqual(['does-not-fit', 'does-not-fit']);
  expect(await kinds('T1 26060 1432 A', '2026-03-01T14:00:00Z')).toEqual(['does-not-fit', 'after-receipt']);
  // The printer's clock may be two minutes ahead of the one that wrote the receipt.
  expect((await decode('T1 26060 1432 A', '2026-03-01T14:30:00Z')).meanings).toHaveLength(1);
  expect(await kinds('T1 26399 1432 A')).toEqual(['does-not-fit', 'no-such-day']);
  expect((await decode('T1 26002 1432 A')).meanings[0]?.cautions).toEqual(['before-first-record']);
  const without = await api.as('technician').call(decodeCanCode, { query: { code: ' ', receivedAt: 'yesterday' } });
  expect([without.status, without.problem.errors?.map(({ field }) => field)]).toEqual([400, ['query.code', 'query.receivedAt']]);
});

it('is retired with a reason, once, and the database lets nobody edit or remove a version', async () => {
  const { body: { patterns: [newest] } } = await api.as('engineer').call(listCanCodePatterns, {});
  const id = String(newest?.id);
  expect((await api.as('engineer').call(retireCanCodePattern, { params: { id }, body: { reason: 'printer taken off' } })).status).toBe(200);
  expect((await api.as('engineer').call(retireCanCodePattern, { params: { id }, body: { reason: 'printer taken off' } })).status).toBe(409);
  expect((await api.as('engineer').call(retireCanCodePattern, { params: { id: '999' }, body: { reason: 'printer taken off' } })).status).toBe(404);
  expect((await api.as('engineer').call(listCanCodePatterns, {})).body.patterns[0]).toMatchObject({ state: 'retired', effectiveUntil: now.toISOString(), retiredAt: now.toISOString(), retiredBy: 'Test engineer', retiredReason: 'printer taken off', reason: '' });
  expect((await decode('606814T1')).meanings).toHaveLength(1);
  const where = { plantId_id: { plantId: plant.plantId, id: Number(id) } };
  await expect(database.work.client.canCodePattern.update({ where, data: { pattern: 'other' } })).rejects.toThrow();
  await expect(database.work.client.canCodePattern.update({ where, data: { retiredAt: null } })).rejects.toThrow();
  await expect(database.work.client.canCodePattern.delete({ where })).rejects.toThrow();
});

it('narrows a day to the hours of the shift that the letter names, in the plant\u2019s zone on the day when the clock is set, and prints that letter', async () => {
  const days = [1, 2, 3, 4, 5, 6, 7];
  await database.work.client.shift.createMany({ data: [{ name: 'Early', beginMinute: 360, endMinute: 840 }, { name: 'Late', beginMinute: 840, endMinute: 1320 }, { name: 'Night', beginMinute: 1320, endMinute: 360 }].map((shift) => ({ plantId: plant.plantId, days, ...shift })) });
  const tryIt = async (example: string) => (await api.as('engineer').call(previewCanCode, { body: { lineId: plant.lineId, pattern: '{line}{year:2}{day-of-year}{shift}', codedAtStepId: seamerStepId, example } })).body;
  // In Lisbon the clock went forward at one in the morning of the 30th of March 2025: day 89.
  const night = await tryIt('T125089N');
  expect(night.printed).toEqual(['T126069E']);
  expect(night.meanings.map(({ from, until, precision, shift, cautions }) => [from, until, precision, shift, cautions])).toEqual([
    ['2025-03-30T21:00:00.000Z', '2025-03-30T23:00:00.000Z', 'shift', 'N', ['before-first-record']], ['2025-03-30T00:00:00.000Z', '2025-03-30T05:00:00.000Z', 'shift', 'N', ['before-first-record']],
  ]);
  expect((await tryIt('T126067Z')).meanings).toMatchObject([{ from: '2026-03-08T00:00:00.000Z', until: '2026-03-09T00:00:00.000Z', precision: 'day', cautions: ['shift-unknown'] }]);
});
