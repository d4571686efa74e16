import { afterAll, beforeAll, expect, it } from 'vitest';
import { getComplaintGaps, getIncidentPareto, getIncidentReply, keepVerification, linkIncidentEvent, listOverdueIncidents, previewVerification, removeIncidentPhoto, saveIncidentReply, setIncidentDue, setIncidentWhys, takeIncidentBack, takeIncidentStep, unlinkIncidentEvent } from '#contract/incident-life';
import { addIncidentPhoto, changeIncident, closeIncident, getIncident, logIncident, reopenIncident } from '#contract/incidents';
import { recordCheck } from '#contract/inspections';
import { recordLineEvent, recordProductionCounts } from '#contract/production';
import { freezeLimits, listStreams } from '#contract/specifications';
import { startApi, type TestApi } from '../db/api.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';
import { makePlant, type TestPlant } from '../factories/plant.js';

let clock = new Date('2026-03-10T12:00:00Z');
const at = (text: string) => { clock = new Date(text); };
let database: TestDatabase;
let api: TestApi;
let plant: TestPlant;
let eventId: number;
let streamId: number;
beforeAll(async () => {
  database = await freshDatabase();
  plant = await makePlant(database.work);
  api = await startApi(database, { now: () => clock });
  eventId = (await api.as('operator').call(recordLineEvent, { body: { lineId: plant.lineId, machineId: plant.machines.bodyMaker, kind: 'tooling-set', at: '2026-02-20T12:00:00Z', text: 'Guide rail renewed' } })).body.id;
  streamId = await recordBeforeAndAfter();
}, 60_000);
afterAll(async () => { await api.close(); await database.close(); });

const complaint = (more: object = {}) => ({
  kind: 'complaint' as const, customer: 'Brackwater Pantry', productId: plant.productId, lineId: plant.lineId, canCode: 'T1 26060 0800 A', madeAt: '2026-02-19T08:00:00Z', receivedAt: '2026-03-10T09:00:00Z',
  cansComplained: 24, cansExamined: 20, cansLeaking: 0, leakPlace: 'juncture', defect: 'cold-weld', description: 'Dye comes out where the weld crosses the seam.', ...more,
});
const log = async (more: object = {}) => (await api.as('engineer').call(logIncident, { body: complaint(more) })).body;
const audit = (id: number) => database.work.client.auditRow.findMany({ where: { plantId: plant.plantId, subject: `incident ${id}` }, orderBy: { id: 'asc' } });
const asked = (more: object = {}) => ({
  streamId, change: 'Guide rail renewed', changedAt: '2026-02-20T12:00:00Z', eventId, expected: 'lower' as const,
  before: { from: '2026-02-10T00:00:00Z', to: '2026-02-20T12:00:00Z' }, after: { from: '2026-02-20T12:00:00Z', to: '2026-03-02T12:00:00Z' }, ...more,
});

/** Forty checks of five cans: wide laps before the change, narrower ones after it. Limits from the narrow ones. */
async function recordBeforeAndAfter(): Promise<number> {
  for (let check = 0; check < 40; check += 1) {
    const takenAt = new Date(Date.parse('2026-02-10T13:00:00Z') + check * 12 * 3_600_000).toISOString();
    const level = check < 20 ? 0.47 : 0.42;
    const readings = Array.from({ length: 15 }, (_none, place) => Number((level + (((check * 7 + place * 5) % 9) - 4) / 200).toFixed(3)));
    const stored = await api.as('operator').call(recordCheck, { body: { key: `incident-life-${check}`, planId: plant.planId, machineId: plant.machines.bodyMaker, productId: plant.productId, takenAt, cans: [1, 2, 3, 4, 5].map((number) => ({ number })), positions: ['front', 'middle', 'back'], characteristics: [{ code: 'weld-overlap', gaugeId: plant.gaugeId, readings }] } });
    expect(stored.status, stored.text).toBe(201);
  }
  const stream = (await api.as('engineer').call(listStreams, { query: { machine: plant.machines.bodyMaker } })).body.streams.find(({ characteristic }) => characteristic.code === 'weld-overlap');
  return stream?.id ?? 0;
}


it('goes one step at a time, each with who, when, evidence and the date of the next', async () => {
  at('2026-03-10T12:00:00Z');
  expect((await api.as('engineer').call(logIncident, { body: complaint({ dueAt: '2026-03-10T12:00:00Z' }) })).problem.errors).toEqual([{ field: 'dueAt', expected: 'a moment in the future, or none' }]);
  const { id } = await log({ dueAt: '2026-03-11T12:00:00Z' });
  const early = await api.as('technician').call(takeIncidentStep, { params: { id }, body: { to: 'action-taken', revision: 1, action: 'x' } });
  expect(early.problem).toMatchObject({ code: 'wrong-state', detail: 'The incident is open; the next step is “contained”.' });
  expect((await api.as('technician').call(takeIncidentStep, { params: { id }, body: { to: 'contained', revision: 1, containment: ' ' } })).problem.errors?.[0]).toMatchObject({ field: 'containment', expected: 'what is held back, and where' });
  expect((await api.as('operator').call(takeIncidentStep, { params: { id }, body: { to: 'contained', revision: 1, containment: 'x' } })).status).toBe(403);
  const past = await api.as('technician').call(takeIncidentStep, { params: { id }, body: { to: 'contained', revision: 1, containment: 'Two pallets', dueAt: '2026-03-10T11:00:00Z' } });
  expect(past.problem.errors).toEqual([{ field: 'dueAt', expected: 'a moment in the future, or none' }]);
  const contained = await api.as('technician').call(takeIncidentStep, { params: { id }, body: { to: 'contained', revision: 1, containment: 'Two pallets held', evidence: 'Hold cards 14 and 15', dueAt: '2026-03-14T12:00:00Z' } });
  expect(contained.body).toMatchObject({ state: 'contained', containment: 'Two pallets held', dueAt: '2026-03-14T12:00:00.000Z', revision: 2 });
  expect(contained.body.steps.at(-1)).toMatchObject({ action: 'contained', actor: 'Test technician', at: '2026-03-10T12:00:00.000Z', state: 'contained', evidence: 'Hold cards 14 and 15', dueAt: '2026-03-14T12:00:00.000Z' });
  const stale = await api.as('technician').call(takeIncidentStep, { params: { id }, body: { to: 'cause-found', revision: 1, cause: 'x', causeCategory: 'plate' } });
  expect(stale.problem.code).toBe('changed-meanwhile');
  const bad = await api.as('technician').raw({ method: 'POST', url: `/api/incidents/${id}/step`, payload: { to: 'cause-found', revision: 2, cause: 'x', causeCategory: 'weather' } });
  expect(bad.problem.errors?.[0]?.field).toBe('causeCategory');
  const found = await api.as('technician').call(takeIncidentStep, { params: { id }, body: { to: 'cause-found', revision: 2, cause: 'Loose rail', causeCategory: 'tooling-wear', causeMachineId: plant.machines.bodyMaker } });
  expect(found.body).toMatchObject({ state: 'cause-found', causeCategory: 'tooling-wear', causeMachine: { code: 'BM1' }, dueAt: null });
  expect((await api.as('engineer').call(changeIncident, { params: { id }, body: { revision: 3, cause: '' } })).problem.errors?.[0]?.field).toBe('cause');
  expect((await api.as('technician').call(takeIncidentBack, { params: { id }, body: { revision: 3, reason: 'x' } })).status).toBe(403);
  const back = await api.as('engineer').call(takeIncidentBack, { params: { id }, body: { revision: 3, reason: 'The rail was in order after all' } });
  expect(back.body).toMatchObject({ state: 'contained', cause: 'Loose rail', revision: 4 });
  expect((await audit(id)).map(({ action }) => action)).toEqual(['incident.logged', 'incident.contained', 'incident.cause-found', 'incident.stepped-back']);
});

it('keeps a chain of whys in its order, with at most seven', async () => {
  const { id } = await log();
  const whys = [{ question: 'Why does it leak?', answer: 'The weld is cold.' }, { question: 'Why is it cold?', answer: 'Too little tin.' }];
  expect((await api.as('technician').call(setIncidentWhys, { params: { id }, body: { revision: 1, whys } })).body.whys).toEqual(whys);
  const many = await api.as('technician').call(setIncidentWhys, { params: { id }, body: { revision: 2, whys: Array.from({ length: 8 }, () => ({ question: 'Why?', answer: 'Because.' })) } });
  expect(many.problem.errors?.[0]).toMatchObject({ field: 'whys', expected: 'at most 7 questions' });
  expect((await api.as('technician').call(setIncidentWhys, { params: { id }, body: { revision: 2, whys: [{ question: 'Why?', answer: ' ' }] } })).problem.errors?.[0]?.field).toBe('whys.0.answer');
});

it('lists what is overdue, longest first, until its date is moved with a reason', async () => {
  at('2026-04-01T12:00:00Z');
  const [first, second, third] = [await log({ dueAt: '2026-04-03T12:00:00Z' }), await log({ dueAt: '2026-04-02T12:00:00Z' }), await log({ dueAt: '2026-04-09T12:00:00Z' })];
  at('2026-04-04T12:00:00Z');
  const ours = async () => (await api.as('manager').call(listOverdueIncidents, {})).body.rows.map(({ id }) => id).filter((id) => [first.id, second.id, third.id].includes(id));
  expect(await ours()).toEqual([second.id, first.id]);
  expect((await api.as('engineer').call(setIncidentDue, { params: { id: second.id }, body: { revision: 1, dueAt: '2026-04-04T12:00:00Z', reason: 'x' } })).problem.errors?.[0]?.field).toBe('dueAt');
  expect((await api.as('engineer').call(setIncidentDue, { params: { id: second.id }, body: { revision: 1, dueAt: '2026-04-06T12:00:00Z', reason: ' ' } })).problem.errors?.[0]?.field).toBe('reason');
  const moved = await api.as('engineer').call(setIncidentDue, { params: { id: second.id }, body: { revision: 1, dueAt: '2026-04-06T12:00:00Z', reason: 'Cans arrive on Monday' } });
  expect(moved.body.steps.at(-1)).toMatchObject({ action: 'due-changed', comment: 'Cans arrive on Monday', dueAt: '2026-04-06T12:00:00.000Z' });
  expect(await ours()).toEqual([first.id]);
});

it('compares before and after, says what it cannot show, and keeps it unchangeable', async () => {
  const { id } = await log();
  const preview = await api.as('manager').call(previewVerification, { params: { id }, body: asked() });
  expect(preview.status, preview.text).toBe(200);
  const { before, after, welch, permutation, ranks, size, cautions, afterControl } = preview.body;
  expect([before.n, after.n, before.checks, after.checks]).toEqual([20, 20, 20, 20]);
  expect(before.mean - after.mean).toBeCloseTo(0.05, 2);
  expect(welch?.difference).toBeCloseTo(after.mean - before.mean, 12);
  expect((welch?.high ?? 1) < 0 && (welch?.p ?? 1) < 1e-6 && permutation !== null && permutation.p < 0.001 && (ranks?.delta ?? 0) === -1 && (size?.high ?? 0) < 0).toBe(true);
  expect(afterControl).toBe('not-judged');
  expect(cautions).toEqual(expect.arrayContaining(['not-proof', 'after-not-judged']));
  expect(cautions).not.toContain('other-events');
  const cans = await api.as('manager').call(previewVerification, { params: { id }, body: asked({ basis: 'cans', expected: 'higher' }) });
  expect(cans.body).toMatchObject({ before: { n: 100 }, after: { n: 100 } });
  expect(cans.body.cautions).toEqual(expect.arrayContaining(['cans-of-one-check', 'other-way']));
  const few = await api.as('technician').call(keepVerification, { params: { id }, body: asked({ after: { from: '2026-03-05T00:00:00Z', to: '2026-03-06T00:00:00Z' } }) });
  expect(few.problem).toMatchObject({ code: 'too-little-data', errors: [{ field: 'after' }] });
  const order = await api.as('technician').call(keepVerification, { params: { id }, body: asked({ changedAt: '2026-02-12T00:00:00Z' }) });
  expect(order.problem.errors?.[0]).toMatchObject({ field: 'before.to', expected: 'a moment not after the change' });
  expect((await api.as('technician').call(keepVerification, { params: { id }, body: asked({ streamId: 99_999 }) })).problem.code).toBe('not-found');
  const kept = await api.as('technician').call(keepVerification, { params: { id }, body: asked() });
  expect(kept.body).toMatchObject({ asked: { change: 'Guide rail renewed', basis: 'subgroups' }, author: 'Test technician', answer: { welch } });
  const db = database.work.client;
  await expect(db.$executeRaw`UPDATE incident_verification SET version = 'other' WHERE id = ${kept.body.id}`).rejects.toThrow(/never changed/);
  await expect(db.$executeRaw`DELETE FROM incident_verification WHERE id = ${kept.body.id}`).rejects.toThrow(/never changed/);
  // A coil change within the spans may be what made the difference, and limits tell whether the time after is steady.
  await api.as('operator').call(recordLineEvent, { body: { lineId: plant.lineId, machineId: plant.machines.bodyMaker, kind: 'coil-change', at: '2026-02-20T11:00:00Z', text: 'Coil 9001' } });
  const frozen = await api.as('engineer').call(freezeLimits, { params: { streamId }, body: { from: '2026-02-20T13:00:00Z', to: '2026-03-02T12:00:00Z', effectiveFrom: '2026-02-10T00:00:00Z', reason: 'after the change' } });
  expect(frozen.status, frozen.text).toBe(201);
  const judged = await api.as('manager').call(previewVerification, { params: { id }, body: asked() });
  expect(judged.body).toMatchObject({ afterControl: 'in-control', after: { judged: 20, signalled: 0, notJudged: 0 }, otherEvents: [{ kind: 'coil-change', text: 'Coil 9001' }] });
  expect(judged.body.before.signalled).toBeGreaterThan(0);
  expect(judged.body.cautions).toContain('other-events');
  // What was kept stays as it was computed.
  expect((await api.as('manager').call(getIncident, { params: { id } })).body.verifications[0]?.answer).toMatchObject({ afterControl: 'not-judged', otherEvents: [] });
});

it('closes with a verified effect, or for the reason of a named person, and opens again where it was closed', async () => {
  at('2026-03-12T12:00:00Z');
  const advance = async (id: number) => {
    await api.as('technician').call(takeIncidentStep, { params: { id }, body: { to: 'contained', revision: 1, containment: 'Two pallets held' } });
    await api.as('technician').call(takeIncidentStep, { params: { id }, body: { to: 'cause-found', revision: 2, cause: 'Loose rail', causeCategory: 'tooling-wear' } });
    return api.as('technician').call(takeIncidentStep, { params: { id }, body: { to: 'action-taken', revision: 3, action: 'Rail renewed', dueAt: '2026-03-20T12:00:00Z' } });
  };
  const [{ id }, { id: other }] = [await log(), await log()];
  expect((await advance(id)).body.state).toBe('action-taken');
  const foreign = await api.as('technician').call(keepVerification, { params: { id: other }, body: asked() });
  const wrong = await api.as('technician').call(takeIncidentStep, { params: { id }, body: { to: 'effect-verified', revision: 4, verificationId: foreign.body.id, verdict: 'x' } });
  expect(wrong.problem.errors?.[0]).toMatchObject({ field: 'verificationId', expected: 'a comparison that is kept with this incident' });
  const bare = await api.as('engineer').call(closeIncident, { params: { id }, body: { revision: 4, closingNote: 'Done' } });
  expect(bare.problem).toMatchObject({ code: 'wrong-state', errors: [{ field: 'withoutVerification' }] });
  const kept = await api.as('technician').call(keepVerification, { params: { id }, body: asked() });
  const verified = await api.as('technician').call(takeIncidentStep, { params: { id }, body: { to: 'effect-verified', revision: 4, verificationId: kept.body.id, verdict: 'The lap is 0.05 mm narrower since' } });
  expect(verified.body).toMatchObject({ state: 'effect-verified', verificationId: kept.body.id, verdict: 'The lap is 0.05 mm narrower since' });
  expect((await api.as('technician').call(closeIncident, { params: { id }, body: { revision: 5, closingNote: 'Done' } })).status).toBe(403);
  const closed = await api.as('engineer').call(closeIncident, { params: { id }, body: { revision: 5, closingNote: 'Steady for ten days', withoutVerification: 'not needed' } });
  expect(closed.body).toMatchObject({ state: 'closed', dueAt: null, closingNote: 'Steady for ten days', closedWithout: '', closedAt: clock.toISOString() });
  expect((await api.as('engineer').call(changeIncident, { params: { id }, body: { revision: 6, cause: 'x' } })).problem.code).toBe('wrong-state');
  expect((await api.as('technician').call(keepVerification, { params: { id }, body: asked() })).problem.code).toBe('wrong-state');
  const open = await api.as('engineer').call(reopenIncident, { params: { id }, body: { revision: 6, reason: 'A second pallet came back' } });
  expect(open.body).toMatchObject({ state: 'effect-verified', closedAt: null, closingNote: 'Steady for ten days' });
  const back = await api.as('engineer').call(takeIncidentBack, { params: { id }, body: { revision: 7, reason: 'The effect did not last' } });
  expect(back.body).toMatchObject({ state: 'action-taken', verificationId: null, verdict: '' });
  expect(back.body.verifications).toHaveLength(1);
  await advance(other);
  const without = await api.as('manager').call(closeIncident, { params: { id: other }, body: { revision: 4, closingNote: 'The packer’s own machine', withoutVerification: 'Nothing was changed here, so nothing can be compared' } });
  expect(without.body).toMatchObject({ state: 'closed', closedWithout: 'Nothing was changed here, so nothing can be compared' });
  expect(without.body.steps.at(-1)).toMatchObject({ actor: 'Test manager', evidence: 'Closed without a verified effect: Nothing was changed here, so nothing can be compared' });
  expect((await api.as('engineer').call(reopenIncident, { params: { id: other }, body: { revision: 5, reason: 'again' } })).body).toMatchObject({ state: 'action-taken', closedWithout: '' });
});

it('links line events and takes them and photos away with a reason; the picture stays in the database', async () => {
  const { id } = await log();
  const linked = await api.as('technician').call(linkIncidentEvent, { params: { id }, body: { eventId, reason: 'The only change on that day' } });
  expect(linked.body.eventList).toMatchObject([{ id: eventId, kind: 'tooling-set', machine: 'BM1', reason: 'The only change on that day', linkedBy: 'Test technician' }]);
  await api.as('technician').call(linkIncidentEvent, { params: { id }, body: { eventId } });
  expect((await api.as('technician').call(linkIncidentEvent, { params: { id }, body: { eventId: 99_999 } })).problem.code).toBe('not-found');
  expect((await api.as('technician').call(unlinkIncidentEvent, { params: { id, eventId }, body: { reason: '' } })).problem.errors?.[0]?.field).toBe('reason');
  const gone = await api.as('technician').call(unlinkIncidentEvent, { params: { id, eventId }, body: { reason: 'Another machine' } });
  expect(gone.body.eventList).toEqual([]);
  expect(gone.body.steps.map(({ action }) => action)).toEqual(['logged', 'event-linked', 'event-unlinked']);
  const png = Buffer.concat([Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]), Buffer.alloc(60, 7)]);
  const boundary = 'x-life-boundary';
  await api.as('technician').raw({ method: 'POST', url: addIncidentPhoto.path.replace(':id', String(id)), headers: { 'content-type': `multipart/form-data; boundary=${boundary}` }, payload: Buffer.concat([Buffer.from(`--${boundary}\r\ncontent-disposition: form-data; name="photo"; filename="seam.png"\r\ncontent-type: image/png\r\n\r\n`), png, Buffer.from(`\r\n--${boundary}--\r\n`)]) });
  const [photo] = (await api.as('manager').call(getIncident, { params: { id } })).body.photoList;
  const removed = await api.as('technician').call(removeIncidentPhoto, { params: { id, photoId: photo?.id ?? 0 }, body: { reason: 'Shows another can' } });
  expect(removed.body).toMatchObject({ photoList: [], photos: 0 });
  expect((await api.as('technician').call(removeIncidentPhoto, { params: { id, photoId: photo?.id ?? 0 }, body: { reason: 'again' } })).status).toBe(404);
  const row = await database.work.client.incidentPhoto.findFirstOrThrow({ where: { plantId: plant.plantId, incidentId: id } });
  expect([row.content.length, row.removedReason]).toEqual([png.length, 'Shows another can']);
});

it('counts by customer, defect, machine and month, with the share so far, inside the filters', async () => {
  at('2026-06-30T12:00:00Z');
  const customer = { customer: 'Pareto Foods' };
  for (const [defect, cansComplained, receivedAt] of [['droop', 5, '2026-05-31T23:30:00Z'], ['droop', 6, '2026-06-02T09:00:00Z'], ['loose-seam', 100, '2026-06-03T09:00:00Z'], ['loose-seam', 3, '2026-06-04T09:00:00Z'], ['loose-seam', 2, '2026-06-05T09:00:00Z'], ['cut-seam', 1, '2026-06-06T09:00:00Z']] as const) await log({ ...customer, defect, cansComplained, receivedAt });
  const pareto = async (query: object) => (await api.as('manager').call(getIncidentPareto, { query: { ...customer, ...query } })).body;
  const byDefect = await pareto({});
  expect(byDefect.bars.map(({ value, incidents, cumulative }) => [value, incidents, cumulative])).toEqual([['loose-seam', 3, 0.5], ['droop', 2, 5 / 6], ['cut-seam', 1, 1]]);
  expect(byDefect).toMatchObject({ incidents: 6, cansComplained: 117 });
  expect((await pareto({ weight: 'cans' })).bars[0]).toMatchObject({ value: 'loose-seam', name: 'Loose seam', cansComplained: 105, share: 105 / 117 });
  // The plant's summer time is an hour ahead: half past eleven at night in UTC is the next month there.
  expect((await pareto({ by: 'month' })).bars).toMatchObject([{ value: '2026-06', incidents: 6 }]);
  expect((await pareto({ by: 'machine' })).bars).toMatchObject([{ value: null, incidents: 6, cumulative: 1 }]);
  expect((await pareto({ from: '2026-06-04T00:00:00Z' })).incidents).toBe(3);
  expect((await api.as('manager').call(getIncidentPareto, { query: { from: '2026-06-04T00:00:00Z', to: '2026-06-01T00:00:00Z' } })).problem.errors?.[0]?.field).toBe('query.to');
  expect((await pareto({ customer: 'Nobody' })).bars).toEqual([]);
});

it('counts the cans between complaints, says where counts are missing, and gives days instead', async () => {
  at('2026-07-30T12:00:00Z');
  const customer = 'Gap Growers';
  // 1,000 cans an hour from the seamer, day by day for ten days; body maker counts exist too, and are not the last step.
  const counts = Array.from({ length: 240 }, (_none, hour) => ({ machineId: plant.machines.seamer, at: new Date(Date.parse('2026-07-01T00:00:00Z') + hour * 3_600_000).toISOString(), minutes: 60, good: 1000, rejected: 0 }));
  const stored = await api.as('operator').call(recordProductionCounts, { body: { counts: [...counts, { machineId: plant.machines.bodyMaker, at: '2026-07-01T00:00:00Z', minutes: 60, good: 77, rejected: 0 }] } });
  expect(stored.status, stored.text).toBe(200);
  for (const madeAt of ['2026-06-20T00:00:00Z', '2026-07-01T06:00:00Z', '2026-07-01T06:30:00Z', '2026-07-03T06:30:00Z', '2026-07-08T06:30:00Z', '2026-07-20T00:00:00Z']) await log({ customer, madeAt, receivedAt: '2026-07-30T00:00:00Z' });
  const { body } = await api.as('manager').call(getComplaintGaps, { query: { customer, lineId: plant.lineId } });
  expect(body.gaps.map(({ cans, missing }) => [cans, missing])).toEqual([[null, 'before-counts'], [500, null], [48_000, null], [120_000, null], [null, 'after-counts']]);
  expect(body.gaps.map(({ days }) => Number(days.toFixed(4)))).toEqual([11.25, 0.0208, 2, 5, 11.7292]);
  expect(body).toMatchObject({ complaints: 6, countedAt: ['SE1'], few: true, since: null });
  // Kaminsky et al. 1992: p = (N-1)/(N+S-1) = 2/168502; the lower limit is the largest L with P(gap < L) <= 0.00135.
  const p = 2 / 168_502;
  const lower = Math.floor(Math.log1p(-0.00135) / Math.log1p(-p));
  expect(body.cansChart).toMatchObject({ lower, mean: 168_500 / 3, out: [] });
  expect(body.daysChart?.centre).toBeCloseTo(Math.LN2 * ((11.25 + 0.0208333 + 2 + 5 + 11.7291667) / 5), 5);
  const wide = await api.as('manager').call(getComplaintGaps, { query: { customer, lineId: plant.lineId, alpha: 0.05 } });
  expect(wide.body.cansChart?.out).toEqual([{ index: 1, side: 'below' }]);
  expect((await api.as('manager').call(getComplaintGaps, { query: { customer, lineId: 99_999 } })).status).toBe(404);
  expect((await api.as('manager').call(getComplaintGaps, { query: { customer: 'Nobody', lineId: plant.lineId } })).body).toMatchObject({ complaints: 0, gaps: [], cansChart: null, daysChart: null });
});

it('drafts the answer from the facts, and counts it only when a person has edited it', async () => {
  at('2026-03-12T12:00:00Z');
  const { id } = await log();
  const first = (await api.as('manager').call(getIncidentReply, { params: { id }, query: {} })).body;
  expect(first.draft).toContain('20 cans were examined and none of them leaked. That is not proof that none leaks');
  expect(first.draft).toContain('up to 13.91 % of the cans may leak');
  expect(first.draft).toContain('[the cause, or that it is not known yet]');
  expect(first.caution).toContain('It releases no product');
  expect(first).toMatchObject({ versions: [], customer: 'Brackwater Pantry' });
  const save = (body: { seen: number; text: string; counts?: boolean; language?: 'en' | 'de' }) => api.as('technician').call(saveIncidentReply, { params: { id }, body });
  expect((await save({ seen: 0, text: first.draft, counts: true })).problem.errors?.[0]?.expected).toContain('still open: [name of the person addressed]');
  expect((await save({ seen: 0, text: first.draft })).body).toMatchObject({ version: 1, counts: false });
  const edited = first.draft.replace(/\[[^\]]+\]/g, 'as agreed by telephone');
  expect((await save({ seen: 0, text: edited, counts: true })).problem.code).toBe('changed-meanwhile');
  expect((await save({ seen: 1, text: edited, counts: true })).body).toMatchObject({ version: 2, counts: true, author: 'Test technician' });
  expect((await api.as('manager').call(getIncident, { params: { id } })).body.reply).toMatchObject({ version: 2, counts: true });
  expect((await api.as('manager').call(getIncidentReply, { params: { id }, query: {} })).body.versions.map(({ version }) => version)).toEqual([2, 1]);
  const german = (await api.as('manager').call(getIncidentReply, { params: { id }, query: { language: 'de' } })).body;
  expect(german).toMatchObject({ language: 'de', cautionTitle: 'Hinweis' });
  expect(german.draft).toContain('20 Dosen wurden untersucht, keine davon war undicht.');
  const gefuellt = german.draft.replace(/\[[^\]]+\]/g, 'wie am Telefon besprochen');
  expect((await save({ seen: 2, text: gefuellt, counts: true, language: 'de' })).body).toMatchObject({ version: 3, language: 'de', counts: true });
  expect((await api.as('manager').call(getIncidentReply, { params: { id }, query: {} })).body).toMatchObject({ language: 'de', draft: german.draft });
  await expect(database.work.client.$executeRaw`UPDATE incident_reply SET text = 'x'`).rejects.toThrow(/never changed/);
});
