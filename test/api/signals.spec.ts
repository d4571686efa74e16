import { afterAll, beforeAll, expect, it } from 'vitest';
import { newCheck } from '#contract/inspections';
import { createNote } from '#contract/knowledge';
import { recordLineEvent, recordProductionCounts } from '#contract/production';
import { acknowledgeSignal, assignCause, closeSignal, getSignal, linkSignalNote, listSignals, reopenSignal, unlinkSignalNote } from '#contract/signals';
import { recordReadings } from '../../apps/api/src/flows/record-readings.js';
import { startApi, type TestApi } from '../db/api.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';
import { makePlant, type TestPlant } from '../factories/plant.js';

let database: TestDatabase;
let api: TestApi;
let plant: TestPlant;
const clock = new Date('2026-03-02T12:00:00Z');
beforeAll(async () => {
  database = await freshDatabase();
  plant = await makePlant(database.work);
  api = await startApi(database, { now: () => clock });
});
afterAll(async () => { await api.close(); await database.close(); });

const START = Date.UTC(2026, 2, 1, 8);
const at = (halfHour: number) => new Date(START + halfHour * 1_800_000);
let number = 0;

/** A product of its own for each test; one can of each given head, body hook by half hours, judged against 1.75 ± 0.05. */
async function hooks(values: readonly number[], heads: readonly number[] = [plant.headIds[0]], from = 0) {
  number += 1;
  const { plantId } = plant;
  const productId = (await database.work.client.product.create({ data: { plantId, code: `S${number}`, name: `Can ${number}`, customer: 'Test customer', diameter: 65.3, height: 104, bodyPlate: 0.15, endPlate: 0.19, seamProfile: 'mini', overlapFactor: 1 } })).id;
  const streams: number[] = [];
  for (const unitId of heads) {
    const stream = await database.work.client.stream.create({ data: { plantId, productId, machineId: plant.machines.seamer, unitId, characteristicId: plant.characteristics['body-hook'], chartKind: 'i-mr', basis: 'can', rules: ['beyond-limits', 'two-of-three', 'four-of-five', 'eight-in-a-row'] } });
    await database.work.client.limits.create({ data: { plantId, streamId: stream.id, kind: 'i-mr', centre: 1.75, sigma: 0.05 / 3, spreadCentre: 0.02, subgroups: 25, readings: 25, baselineFrom: new Date(START - 86_400_000), baselineTo: new Date(START - 3_600_000), effectiveFrom: new Date(START - 3_600_000), authorId: plant.users.engineer, reason: 'test' } });
    streams.push(stream.id);
  }
  const more = (list: readonly number[], first: number, only = heads) => database.work.run((tx) => recordReadings(tx, { plantId, userId: plant.users.technician, name: 'Test technician' }, list.map((value, index) => newCheck.parse({
    key: `signal-check-${number}-${first + index}`, machineId: plant.machines.seamer, productId, takenAt: at(first + index).toISOString(),
    cans: only.map((unitId, can) => ({ number: can + 1, unitId })), positions: ['a'], characteristics: [{ code: 'body-hook', readings: only.map(() => value) }],
  })), { now: clock, source: 'entry' }));
  const { signals } = await more(values, from);
  return { productId, streams, signals, more };
}
const page = async (id: number) => (await api.as('manager').call(getSignal, { params: { id } })).body;
const run = [1.75, 1.76, 1.76, 1.76, 1.76, 1.76, 1.76, 1.76, 1.76];

it('lists signals newest first, with names, the numbers the rule saw, filters and pages', async () => {
  const { streams, signals } = await hooks([1.75, 1.9, 1.75, 1.6]);
  const stream = streams[0] as number;
  const list = (query: object) => api.as('manager').call(listSignals, { query: { stream, ...query } });
  const { body } = await list({});
  expect(body.total).toBe(signals.length);
  expect(body.signals.map((row) => row.firedAt)).toEqual([...body.signals.map((row) => row.firedAt)].sort().reverse());
  const beyond = body.signals.filter((row) => row.chart === 'mean' && row.rule === 'beyond-limits');
  expect(beyond.map((row) => [row.side, row.firedAt])).toEqual([['below', at(3).toISOString()], ['above', at(1).toISOString()]]);
  expect(beyond[1]).toMatchObject({ state: 'open', firings: 1, ageMinutes: 27 * 60 + 30, assignee: null, stream: { id: stream, line: { code: 'T1' }, machine: { code: 'SE1', stepKind: 'seamer' }, unit: { code: 'H1' }, lane: null, product: { code: `S${number}` }, characteristic: { code: 'body-hook', unit: 'mm', decimals: 2 } } });
  expect(beyond[1]?.seen.points.at(-1)?.mean).toBe(1.9);
  expect(beyond[1]?.seen.limits?.mean.upper).toBeCloseTo(1.8, 10);
  const first = await list({ take: 2 });
  expect(first.body.signals).toHaveLength(2);
  const rest = await list({ take: 200, before: first.body.next });
  expect([...first.body.signals, ...rest.body.signals].map(({ id }) => id)).toEqual(body.signals.map(({ id }) => id));
  expect(rest.body.next).toBeNull();
  expect((await list({ state: 'closed' })).body.total).toBe(0);
  expect((await list({ machine: plant.machines.bodyMaker })).body.total).toBe(0);
  expect((await list({ line: plant.lineId, machine: plant.machines.seamer, characteristic: plant.characteristics['body-hook'], state: 'open' })).body.total).toBe(signals.length);
  expect((await list({ before: 99_999_999 })).problem.code).toBe('not-found');
  expect((await api.nobody.call(listSignals, { query: {} })).status).toBe(401);
});

it('gives the suspect window from the last good subgroup to the next good one, and the cans one of two heads made in it', async () => {
  const { signals, more } = await hooks(run);
  const { id } = signals[0] as { id: number };
  const open = await page(id);
  expect(open.signal).toMatchObject({ rule: 'eight-in-a-row', side: 'above', firstAt: at(1).toISOString(), firedAt: at(8).toISOString() });
  expect(open.window).toEqual({ from: at(0).toISOString(), until: clock.toISOString(), untilBasis: 'now', cans: null, noCans: 'no-counts' });
  await more([1.74], 9);
  const counts = Array.from({ length: 60 }, (_, index) => ({ machineId: plant.machines.seamer, at: new Date(START + index * 300_000).toISOString(), minutes: 5, good: 501, rejected: 1 }));
  expect((await api.as('operator').call(recordProductionCounts, { body: { counts } })).body).toEqual({ stored: 60, changed: 0, same: 0 });
  // 8:00 to 12:30 are 54 spans of 5 minutes.
  expect((await page(id)).window).toEqual({ from: at(0).toISOString(), until: at(9).toISOString(), untilBasis: 'next-good-subgroup', noCans: null, cans: { counted: 27_054, atRisk: 13_527, shareOf: 2, units: 2, lanes: 1, atLeast: false, uncoveredMinutes: 0 } });
});

it('says that no good subgroup is known, where the pattern begins with the record, and ends at a stop that still lasts', async () => {
  const { signals } = await hooks([1.9], undefined, 40);
  const id = (signals[0] as { id: number }).id;
  expect((await page(id)).window).toMatchObject({ from: null, untilBasis: 'now' });
  const event = (kind: 'stop' | 'start' | 'coil-change', minutes: number, machineId: number | null, until: Date | null = null) => api.as('operator').call(recordLineEvent, { body: { lineId: plant.lineId, machineId, kind, at: new Date(at(40).getTime() + minutes * 60_000).toISOString(), until: until?.toISOString() ?? null, text: `test ${kind}` } });
  await event('coil-change', -10, plant.machines.bodyMaker);
  await event('stop', 10, null, new Date(at(40).getTime() + 20 * 60_000));
  expect((await page(id)).window.untilBasis).toBe('now');
  await event('stop', 30, plant.machines.seamer);
  const stopped = await page(id);
  expect(stopped.window).toMatchObject({ untilBasis: 'stop', until: at(41).toISOString() });
  expect(stopped.events.map(({ kind, machine }) => [kind, machine])).toEqual([['coil-change', 'BM1'], ['stop', null], ['stop', 'SE1']]);
  await event('start', 40, null);
  expect((await page(id)).window.untilBasis).toBe('now');
});

it('says how many of the like signalled in the window: one of two heads, then both', async () => {
  const one = await hooks([1.75, 1.75], plant.headIds);
  const { signals: [signal] } = await one.more([1.9], 2, [plant.headIds[0]]);
  const id = (signal as { id: number }).id;
  expect(await page(id)).toMatchObject({ units: { of: 2, signalled: ['H1'] }, lanes: { of: 0, signalled: [] }, machines: { of: 1, signalled: ['SE1'] } });
  expect((await page(id)).signal.together.every((other) => other !== id)).toBe(true);
  await one.more([1.9], 3, [plant.headIds[1]]);
  expect((await page(id)).units).toEqual({ of: 2, signalled: ['H1', 'H2'] });
});

it('goes through its life with steps, audit rows and news; a link to a note comes with the cause', async () => {
  const { signals } = await hooks([1.75, 1.9]);
  const id = (signals[0] as { id: number }).id;
  const taken = await api.as('operator').call(acknowledgeSignal, { params: { id }, body: { state: 'open' } });
  expect(taken.body).toMatchObject({ state: 'acknowledged', assignee: { name: 'Test operator' } });
  expect((await api.as('manager').call(listSignals, { query: { assigned: plant.users.operator } })).body.signals.map((row) => row.id)).toEqual([id]);
  const note = (await api.as('engineer').call(createNote, { body: { title: 'First operation roll worn', symptom: 'Body hook long', cause: 'Roll worn', fix: 'Roll replaced', defect: 'short-cover-hook', stepKind: 'seamer' } })).body;
  const assigned = await api.as('technician').call(assignCause, { params: { id }, body: { state: 'acknowledged', cause: 'First operation roll worn', noteId: note.id } });
  expect(assigned.body).toMatchObject({ state: 'cause-assigned', cause: 'First operation roll worn' });
  const closed = await api.as('engineer').call(closeSignal, { params: { id }, body: { state: 'cause-assigned', comment: 'Three checks after the change are steady' } });
  expect(closed.body).toMatchObject({ state: 'closed', closedAt: clock.toISOString() });
  const { steps, notes } = await page(id);
  expect(steps.map(({ action, actor }) => [action, actor])).toEqual(expect.arrayContaining([['raised', 'rules'], ['acknowledged', 'Test operator'], ['cause-assigned', 'Test technician'], ['note-linked', 'Test technician'], ['closed', 'Test engineer']]));
  expect(notes).toMatchObject([{ noteId: note.id, confirmedBy: 'Test technician' }]);
  const audit = await database.work.client.auditRow.findMany({ where: { plantId: plant.plantId, subject: `signal ${id}` }, orderBy: { id: 'asc' } });
  expect(audit.map(({ action }) => action)).toEqual(['signal.acknowledged', 'signal.cause-assigned', 'signal.closed']);
  expect(audit[2]).toMatchObject({ before: { state: 'cause-assigned' }, after: { state: 'closed', comment: 'Three checks after the change are steady' } });
  expect(await database.work.client.outboxRow.count({ where: { plantId: plant.plantId, kind: 'signal.changed' } })).toBeGreaterThan(0);
  await api.react();
  expect(await database.work.client.outboxRow.count({ where: { plantId: plant.plantId, kind: 'signal.changed' } })).toBe(0);
  expect((await api.as('manager').call(reopenSignal, { params: { id }, body: { state: 'closed', comment: 'Came back after two days' } })).body).toMatchObject({ state: 'open', closedAt: null });
});

it('refuses what a role may not do, what the state does not allow, and what was changed meanwhile', async () => {
  const { signals } = await hooks([1.75, 1.9]);
  const id = (signals[0] as { id: number }).id;
  const params = { id };
  expect((await api.as('auditor').call(acknowledgeSignal, { params, body: { state: 'open' } })).status).toBe(403);
  expect((await api.as('technician').call(closeSignal, { params, body: { state: 'open', comment: 'steady' } })).status).toBe(403);
  expect((await api.as('engineer').call(closeSignal, { params, body: { state: 'open', comment: 'steady' } })).problem.code).toBe('wrong-state');
  expect((await api.as('engineer').call(closeSignal, { params, body: { state: 'open', comment: '' } })).problem.errors?.[0]?.field).toBe('comment');
  const both = await Promise.all(['technician', 'operator'].map((role) => api.as(role as 'technician').call(acknowledgeSignal, { params, body: { state: 'open' } })));
  expect(both.map(({ status }) => status).sort()).toEqual([200, 409]);
  expect(both.find(({ status }) => status === 409)?.problem.code).toBe('changed-meanwhile');
  const missing = await api.as('engineer').call(assignCause, { params, body: { state: 'acknowledged', cause: 'Roll worn', noteId: 999_999 } });
  expect(missing.problem.code).toBe('not-found');
  expect((await page(id)).signal).toMatchObject({ state: 'acknowledged', cause: null });
  expect((await api.as('engineer').call(getSignal, { params: { id: 99_999_999 } })).status).toBe(404);
});

it('links a note, rejects a suggested one, and keeps links of other signals', async () => {
  const { signals } = await hooks([1.75, 1.9]);
  const other = await hooks([1.75, 1.9]);
  const id = (signals[0] as { id: number }).id;
  const otherId = (other.signals[0] as { id: number }).id;
  const note = (await api.as('engineer').call(createNote, { body: { title: 'Chuck worn', symptom: 'Hook long', cause: 'Chuck worn', fix: 'Chuck replaced', defect: 'short-cover-hook', stepKind: 'seamer' } })).body;
  await database.work.client.noteLink.create({ data: { plantId: plant.plantId, noteId: note.id, signalId: id, score: 3.5, reason: 'same machine' } });
  expect((await page(id)).notes).toMatchObject([{ confirmedBy: null, score: 3.5, reason: 'same machine' }]);
  const confirmed = (await api.as('technician').call(linkSignalNote, { params: { id }, body: { noteId: note.id } })).body.notes;
  expect(confirmed).toMatchObject([{ confirmedBy: 'Test technician', score: 3.5 }]);
  const linkId = confirmed[0]?.id as number;
  expect((await api.as('technician').call(unlinkSignalNote, { params: { id: otherId, linkId } })).problem.code).toBe('not-found');
  expect((await api.as('operator').call(unlinkSignalNote, { params: { id, linkId } })).status).toBe(403);
  expect((await api.as('technician').call(unlinkSignalNote, { params: { id, linkId } })).body.notes).toEqual([]);
  expect((await page(id)).steps.map(({ action }) => action)).toEqual(expect.arrayContaining(['note-linked', 'note-unlinked']));
});
