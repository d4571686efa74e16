import { afterAll, beforeAll, expect, it } from 'vitest';
import { addHoldPallets, computeHold, disposeHold, getHold, listHolds, moveHold, placeHold, planHoldSample, reopenHold, sampleHold } from '#contract/holds';
import { startApi, type TestApi } from '../db/api.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';
import { makePlant, type TestPlant } from '../factories/plant.js';

const NOW = new Date('2026-03-10T12:00:00Z');
let database: TestDatabase;
let api: TestApi;
let plant: TestPlant;
let seamerStepId: number;
beforeAll(async () => {
  database = await freshDatabase();
  plant = await makePlant(database.work);
  api = await startApi(database, { now: () => NOW });
  seamerStepId = (await database.work.client.machine.findFirstOrThrow({ where: { id: plant.machines.seamer } })).stepId;
  await database.work.client.productionCount.createMany({ data: Array.from({ length: 60 }, (_, index) => ({ plantId: plant.plantId, machineId: plant.machines.seamer, at: new Date(Date.UTC(2026, 2, 4, 9, 30 + index)), minutes: 1, good: 960 })) });
});
afterAll(async () => { await api.close(); await database.close(); });

const question = (more: object = {}) => ({ lineId: plant.lineId, stepId: seamerStepId, from: '2026-03-04T09:30:00Z', firstBadAt: '2026-03-04T10:00:00Z', until: '2026-03-04T10:30:00Z', untilBasis: 'next-good' as const, forward: { shortestSeconds: 60, longestSeconds: 240 }, ...more });
const compute = async (more: object = {}) => api.as('technician').call(computeHold, { body: question(more) });
const placing = (more: object = {}) => ({ ...question(), reason: 'Head 2 thick since the jam.', state: 'placed' as const, shownCans: 57_600, pallets: [{ code: 'P1' }, { code: 'P2' }, { code: 'P3' }], ...more });
const placed = async (more: object = {}) => { const { status, body, problem } = await api.as('technician').call(placeHold, { body: placing(more) }); expect([status, problem.errors]).toEqual([201, undefined]); return body; };
const caution = { decidedBy: 'Vera Holm', decidedRole: 'Quality manager', acknowledged: true as const, reason: 'Torn down and decided with the customer.' };
const ask = { params: (id: number) => ({ id }) };

it('counts the span: 57,600 cans, the half of one head of two, and the time at the palletizer', async () => {
  expect((await compute()).body.arithmetic).toMatchObject({ cans: { counted: 57_600, shareOf: 1, suspect: 57_600 }, minutes: 60, openEnded: false, counted: [{ machine: 'SE1', cans: 57_600, uncoveredMinutes: 0 }], atPallets: { from: '2026-03-04T09:31:00.000Z', until: '2026-03-04T10:34:00.000Z' }, pallets: { listed: 0, gapMinutes: 63 } });
  expect((await compute({ unitId: plant.headIds[1], laneId: plant.laneIds.A })).body.arithmetic).toMatchObject({ units: 2, lanes: 2, cans: { shareOf: 4, suspect: 14_400 } });
  expect((await compute({ stepId: null, untilBasis: 'now' })).body.arithmetic).toMatchObject({ cans: null, counted: [], openEnded: true });
  expect((await compute({ until: '2026-03-04T10:45:00Z' })).body.arithmetic.counted).toMatchObject([{ uncoveredMinutes: 15 }]);
});

it('computes the pallets outward from a figure, with spans where a beginning is known', async () => {
  const known = (await compute({ figure: { palletsPerMinute: 0.1, boundaryAt: '2026-03-04T06:00:00Z', prefix: 'A' } })).body.computed;
  expect(known?.count).toBe(7);
  expect(known?.pallets[0]).toEqual({ code: 'A1', from: '2026-03-04T09:30:00.000Z', until: '2026-03-04T09:40:00.000Z' });
  expect((await compute({ figure: { palletsPerMinute: 0.1 } })).body.computed).toEqual({ count: 8, pallets: [] });
  expect((await compute({ pallets: known?.pallets })).body.arithmetic.pallets).toEqual({ listed: 7, withoutSpan: 0, outside: [], gapMinutes: 0 });
  expect((await compute({ figure: { palletsPerMinute: 59 } })).problem.errors?.[0]).toMatchObject({ field: 'figure.palletsPerMinute', expected: expect.stringContaining('at most 2000 pallets') });
});

it('names every field and row that does not fit', async () => {
  const fields = async (more: object) => (await compute(more)).problem.errors?.map(({ field, row }) => (row === undefined ? field : `${field} ${row}`));
  expect(await fields({ until: '2026-03-04T09:30:00Z', firstBadAt: null })).toEqual(['until']);
  expect(await fields({ firstBadAt: '2026-03-04T11:00:00Z', forward: { shortestSeconds: 9, longestSeconds: 3 } })).toEqual(['firstBadAt', 'forward.longestSeconds']);
  expect(await fields({ unitId: 9999, laneId: 9999, stepId: 9999, machineId: 9999, lineId: 9999 })).toEqual(['lineId', 'stepId', 'machineId', 'unitId', 'laneId']);
  expect(await fields({ machineId: plant.machines.flanger })).toEqual(['machineId']);
  expect(await fields({ pallets: [{ code: 'P1' }, { code: 'P1', from: '2026-03-04T09:30:00Z' }] })).toEqual(['pallets.1.code 2', 'pallets.1.until 2']);
  const origin = await api.as('technician').call(placeHold, { body: placing({ signalId: 77, incidentId: 78 }) });
  expect(origin.problem.errors?.map(({ field }) => field)).toEqual(['signalId', 'incidentId']);
});

it('keeps the arithmetic as it was shown, refuses another one, and announces the hold', async () => {
  const other = await api.as('technician').call(placeHold, { body: placing({ shownCans: 57_000 }) });
  expect([other.status, other.problem.code]).toEqual([409, 'changed-meanwhile']);
  const made = await placed({ unitId: plant.headIds[1], shownCans: 28_800 });
  expect(made).toMatchObject({ state: 'placed', disposition: null, unit: 'H2', machine: 'SE1', stepKind: 'seamer', suspectCans: 28_800, pallets: 3, palletsLeft: 3, openedBy: 'Test technician', steps: [{ action: 'placed', role: 'technician', comment: 'Head 2 thick since the jam.' }] });
  await database.work.client.productionCount.updateMany({ where: { machineId: plant.machines.seamer, at: new Date('2026-03-04T09:30:00Z') }, data: { good: 900 } });
  expect((await api.as('manager').call(getHold, { params: ask.params(made.id) })).body.arithmetic.cans?.counted).toBe(57_600);
  await database.work.client.productionCount.updateMany({ where: { machineId: plant.machines.seamer, at: new Date('2026-03-04T09:30:00Z') }, data: { good: 960 } });
  await expect(database.work.client.hold.update({ where: { plantId_id: { plantId: plant.plantId, id: made.id } }, data: { reason: 'other' } })).rejects.toThrow();
  await expect(database.work.client.hold.delete({ where: { plantId_id: { plantId: plant.plantId, id: made.id } } })).rejects.toThrow();
  await expect(database.work.client.holdStep.deleteMany({ where: { holdId: made.id } })).rejects.toThrow();
  expect(await database.work.client.outboxRow.count({ where: { kind: 'hold.changed' } })).toBeGreaterThan(0);
  expect((await database.work.client.auditRow.findMany({ where: { subject: `hold ${made.id}` } })).map(({ action }) => action)).toEqual(['hold.placed']);
});

it('goes from proposal to decision step by step; only a proposal is withdrawn', async () => {
  const { id } = await placed({ state: 'proposed' });
  const moving = async (to: 'placed' | 'under-examination' | 'withdrawn', revision: number, comment = '') => { const { status, problem } = await api.as('technician').call(moveHold, { params: ask.params(id), body: { revision, to, comment } }); return status === 200 ? status : problem.code; };
  expect(await moving('under-examination', 1)).toBe('wrong-state');
  expect(await moving('withdrawn', 1)).toBe('invalid-input');
  expect(await moving('placed', 1)).toBe(200);
  expect(await moving('under-examination', 1)).toBe('changed-meanwhile');
  expect(await moving('withdrawn', 2, 'not needed')).toBe('wrong-state');
  expect(await moving('under-examination', 2)).toBe(200);
  const other = await placed({ state: 'proposed', pallets: [] });
  expect((await api.as('technician').call(moveHold, { params: ask.params(other.id), body: { revision: 1, to: 'withdrawn', comment: 'not needed' } })).body.state).toBe('withdrawn');
});

it('says how many cans to look at, and what a clean sample bounds', async () => {
  const plan = async (query: { share: string; risk: string; lotCans?: string }) => (await api.as('manager').call(planHoldSample, { query })).body?.n;
  // 1 - 0.05^(1/29956) is the first that is not above 100 ppm; 59 and 299 are common practice for 5 % and 1 %.
  expect([await plan({ share: '0.05', risk: '0.05' }), await plan({ share: '0.01', risk: '0.05' }), await plan({ share: '0.0001', risk: '0.05' })]).toEqual([59, 299, 29_956]);
  // Of ten cans with one defective, each can that is looked at takes a tenth of the chance away: ten are needed for less than 5 %.
  expect(await plan({ share: '0.1', risk: '0.05', lotCans: '10' })).toBe(10);
  expect((await api.as('manager').call(planHoldSample, { query: { share: '0', risk: '1' } })).problem.errors?.map(({ field }) => field)).toEqual(['query.share', 'query.risk']);
  const { id } = await placed();
  const sampling = { what: 'Cans of head 2, all three pallets', share: 0.01, risk: 0.05, examined: 200, found: 0 };
  expect((await api.as('technician').call(sampleHold, { params: ask.params(id), body: { revision: 1, ...sampling } })).problem.code).toBe('wrong-state');
  await api.as('technician').call(moveHold, { params: ask.params(id), body: { revision: 1, to: 'under-examination' } });
  expect((await api.as('technician').call(sampleHold, { params: ask.params(id), body: { revision: 2, ...sampling, found: 201 } })).problem.errors?.[0]?.field).toBe('found');
  expect((await api.as('technician').call(sampleHold, { params: ask.params(id), body: { revision: 2, ...sampling, lotCans: 100 } })).problem.errors?.[0]?.field).toBe('examined');
  const sampled = (await api.as('technician').call(sampleHold, { params: ask.params(id), body: { revision: 2, ...sampling } })).body;
  expect(sampled.steps.at(-1)?.sample).toMatchObject({ needed: 299, examined: 200, found: 0 });
  expect(sampled.steps.at(-1)?.sample?.upperBound).toBeCloseTo(1 - 0.05 ** (1 / 200), 12);
  expect(sampled.state).toBe('under-examination');
});

it('records decisions of closers pallet by pallet, with the caution acknowledged; release needs an examination', async () => {
  const { id } = await placed();
  const dispose = (body: object, role: 'technician' | 'manager' = 'manager') => api.as(role).raw({ method: 'POST', url: `/api/holds/${id}/dispositions`, payload: { ...caution, ...body } });
  expect((await dispose({ revision: 1, disposition: 'scrapped' }, 'technician')).status).toBe(403);
  expect((await dispose({ revision: 1, disposition: 'released' })).problem).toMatchObject({ code: 'wrong-state', detail: expect.stringContaining('under examination before product is released') });
  expect((await dispose({ revision: 1, disposition: 'scrapped', acknowledged: false })).problem.errors).toEqual([{ field: 'acknowledged', expected: 'true: the caution has to be read and acknowledged' }]);
  expect((await dispose({ revision: 1, disposition: 'scrapped', pallets: ['P9'] })).problem.errors?.[0]).toMatchObject({ field: 'pallets', expected: expect.stringContaining('P9 is not') });
  expect((await dispose({ revision: 1, disposition: 'scrapped', pallets: ['P1'] })).body).toMatchObject({ state: 'placed', palletsLeft: 2, palletList: [{ code: 'P1', disposition: 'scrapped' }, { code: 'P2', disposition: null }, { code: 'P3', disposition: null }] });
  await api.as('technician').call(moveHold, { params: ask.params(id), body: { revision: 2, to: 'under-examination' } });
  expect((await dispose({ revision: 3, disposition: 'released', pallets: ['P1'] })).problem.code).toBe('invalid-input');
  const grown = (await api.as('technician').call(addHoldPallets, { params: ask.params(id), body: { revision: 3, pallets: [{ code: 'P4', from: '2026-03-04T10:00:00Z', until: '2026-03-04T10:10:00Z' }] } })).body;
  expect(grown).toMatchObject({ pallets: 4, palletsLeft: 3 });
  expect((await api.as('technician').call(addHoldPallets, { params: ask.params(id), body: { revision: 4, pallets: [{ code: 'P4' }] } })).problem.errors?.[0]?.field).toBe('pallets.0.code');
  expect((await dispose({ revision: 4, disposition: 'released' })).body).toMatchObject({ state: 'decided', disposition: 'mixed', palletsLeft: 0 });
  const { body: decided } = await api.as('manager').call(getHold, { params: ask.params(id) });
  expect(decided.steps.at(-1)).toMatchObject({ action: 'decided', actor: 'Test manager', role: 'manager', comment: caution.reason, decision: { disposition: 'released', pallets: null, decidedBy: 'Vera Holm', decidedRole: 'Quality manager', cautionAcknowledged: true } });
  const audit = await database.work.client.auditRow.findMany({ where: { subject: `hold ${id}`, action: 'hold.decided' }, orderBy: { id: 'asc' } });
  expect(audit.map(({ after }) => (after as { pallets: string[] }).pallets)).toEqual([['P1'], ['P2', 'P3', 'P4']]);
  const again = (await api.as('engineer').call(reopenHold, { params: ask.params(id), body: { revision: decided.revision, reason: 'Leakers on a released pallet.' } })).body;
  expect(again).toMatchObject({ state: 'under-examination', disposition: null, palletsLeft: 4 });
  expect(again.steps.filter(({ action }) => action === 'decided')).toHaveLength(2);
});

it('decides a hold without pallets as a whole, and lists the open ones first', async () => {
  const { id } = await placed({ pallets: [] });
  expect((await api.as('manager').call(disposeHold, { params: ask.params(id), body: { ...caution, revision: 1, disposition: 'returned' } })).body).toMatchObject({ state: 'decided', disposition: 'returned' });
  const { body } = await api.as('manager').call(listHolds, { query: {} });
  expect(body.total).toBe(body.rows.length);
  const order = body.rows.map(({ state }) => ['decided', 'withdrawn'].includes(state));
  expect(order).toEqual([...order].sort());
  expect(body.open).toBe(order.filter((closed) => !closed).length);
  expect((await api.as('manager').call(listHolds, { query: { state: 'open' } })).body.total).toBe(body.open);
  expect((await api.as('manager').call(getHold, { params: ask.params(99_999) })).status).toBe(404);
});
