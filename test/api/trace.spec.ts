import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { logIncident, type NewIncident } from '#contract/incidents';
import { getPlant, setStretches } from '#contract/plant';
import { similarToIncident, similarToSignal } from '#contract/similar';
import { refOf, type SeenOrigin } from '#contract/trace-places';
import { getKeptTrace, getSignalSurroundings, keepSignalTrace, keepTrace, listKeptSignalTraces, listKeptTraces, type Trace, traceIncident, traceSignal } from '#contract/traces';
import { startApi, type TestApi } from '../db/api.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';
import { makePlant, type TestPlant } from '../factories/plant.js';

const NOW = new Date('2026-03-10T12:00:00Z');
const MADE = Date.UTC(2026, 2, 8, 10);
const HOUR = 3_600_000;
let database: TestDatabase;
let api: TestApi;
let plant: TestPlant;
let steps: number[];

/** Checks of both heads every four hours for nine days; head 2 makes its body hook short from eight hours before the cans on. */
async function headTwoDrifts(): Promise<void> {
  const { client } = database.work;
  const { plantId, productId, machines, characteristics, users } = plant;
  for (const [index, unitId] of plant.headIds.entries()) {
    const stream = await client.stream.create({ data: { plantId, characteristicId: characteristics['body-hook'], productId, machineId: machines.seamer, unitId, chartKind: 'i-mr', basis: 'can', rules: ['beyond-limits'] } });
    await client.limits.create({ data: { plantId, streamId: stream.id, kind: 'i-mr', centre: 1.75, sigma: 0.03, spreadCentre: 0.034, subgroups: 25, readings: 25, baselineFrom: new Date(MADE - 400 * HOUR), baselineTo: new Date(MADE - 200 * HOUR), effectiveFrom: new Date(MADE - 200 * HOUR), authorId: users.engineer, reason: 'test' } });
    for (let at = MADE - 150 * HOUR, count = 0; at <= MADE + 40 * HOUR; at += 4 * HOUR, count += 1) {
      const check = await client.check.create({ data: { plantId, machineId: machines.seamer, productId, takenAt: new Date(at), enteredBy: users.technician, inspector: 'Test', canNumbers: [1], canUnitIds: [unitId], canLaneIds: [0], positions: ['a'], key: `${unitId} ${at}`, contentHash: 'x', source: 'test' } });
      const value = 1.75 + 0.02 * Math.sin(count * 12.9898 + index) - (index === 1 && at > MADE - 8 * HOUR ? 0.12 : 0);
      await client.subgroup.create({ data: { plantId, streamId: stream.id, takenAt: new Date(at), sequence: 0, checkId: check.id, cans: [0], readings: [value], n: 1, mean: value, low: value, high: value } });
    }
  }
}

beforeAll(async () => {
  database = await freshDatabase();
  plant = await makePlant(database.work);
  api = await startApi(database, { now: () => NOW });
  steps = (await database.work.client.step.findMany({ where: { lineId: plant.lineId }, orderBy: { position: 'asc' } })).map(({ id }) => id);
  await headTwoDrifts();
});
afterAll(async () => { await api.close(); await database.close(); });

const complaint = (more: Partial<NewIncident> = {}): NewIncident => ({
  kind: 'complaint', customer: 'Test customer', productId: plant.productId, lineId: plant.lineId, canCode: '', madeAt: new Date(MADE).toISOString(), madeUntil: null, codedAtStepId: null, laneId: null, unitId: null,
  receivedAt: NOW.toISOString(), cansComplained: 5, cansExamined: 5, cansLeaking: 2, leakPlace: "double seam, maker's end", defect: 'short-body-hook', description: 'Short body hook.', containment: '', dueAt: null, ...more,
});
const logged = async (more: Partial<NewIncident> = {}) => (await api.as('engineer').call(logIncident, { body: complaint(more) })).body.id;
const seenAt = ({ origins }: Trace, place: number): SeenOrigin => {
  const origin = origins[place];
  if (!origin) throw new RangeError(`place: needs one of ${origins.length} places, ${place} given`);
  return { ...refOf(origin), place, share: origin.share };
};
const traced = async (id: number) => (await api.as('manager').call(traceIncident, { params: { id }, query: {} })).body;

it('ranks the head whose hook moved first, says since when, and how many hours nobody knows of', async () => {
  const { origins, windows } = await traced(await logged());
  expect(origins[0]).toMatchObject({ stepKind: 'seamer', machine: { code: 'SE1' }, unit: { code: 'H2' }, pattern: 'one', enoughData: true });
  expect(origins[0]?.share).toBeGreaterThan(0.9);
  expect(origins.reduce((sum, { share }) => sum + share, 0)).toBeLessThanOrEqual(1 + 1e-9);
  const moved = origins[0]?.findings.find((finding) => finding.kind === 'shifted');
  expect(moved).toMatchObject({ characteristic: 'body-hook', lastGoodAt: new Date(MADE - 10 * HOUR).toISOString(), firstBadAt: new Date(MADE - 6 * HOUR).toISOString(), nextGoodAt: null });
  expect(origins[0]?.suspect).toMatchObject({ from: new Date(MADE - 10 * HOUR).toISOString(), openEnded: true, counted: null, shareOf: 2 });
  // Without ways between the steps nothing is claimed of the earlier ones.
  expect(windows.map(({ stepKind, basis }) => [stepKind, basis])).toEqual([['body-maker', 'unknown'], ['flanger', 'unknown'], ['seamer', 'code']]);
});

it('walks back by the ways that are set up, and refuses ways that cannot be', async () => {
  const put = (stretches: object[]) => api.as('engineer').raw({ method: 'PUT', url: setStretches.path.replace(':id', String(plant.lineId)), payload: { clockMinutes: 3, stretches } });
  const wrong = await put([{ fromStepId: steps[1], toStepId: steps[0], shortestSeconds: 10, longestSeconds: 5 }]);
  expect([wrong.status, wrong.problem.errors?.map(({ field }) => field)]).toEqual([400, ['stretches.0.toStepId', 'stretches.0.longestSeconds']]);
  expect((await put([{ fromStepId: steps[0], toStepId: steps[1], shortestSeconds: 60, longestSeconds: 120 }, { fromStepId: steps[1], toStepId: steps[2], shortestSeconds: 30, longestSeconds: 90 }])).status).toBe(200);
  const { windows, clockMinutes } = await traced(await logged());
  expect(clockMinutes).toBe(3);
  expect(windows[0]).toMatchObject({ basis: 'transit', from: new Date(MADE - 180_000 - 210_000).toISOString(), until: new Date(MADE + 180_000 - 90_000).toISOString() });
  expect((await api.as('operator').call(getPlant, {})).body.lines[0]?.stretches).toHaveLength(2);
});

it('takes the mark on the can against it: the other head is then less likely, whatever the readings say', async () => {
  const [withMark, without] = [await traced(await logged({ unitId: plant.headIds[0] })), await traced(await logged())];
  const share = (of: typeof withMark) => of.origins.find(({ unit }) => unit?.code === 'H2')?.share ?? 0;
  expect(share(withMark)).toBeLessThan(share(without));
});

it('keeps the ranking that somebody acted on, as it stood, whatever comes in later', async () => {
  const id = await logged();
  const { status, body } = await api.as('engineer').call(keepTrace, { params: { id }, body: { chosen: seenAt(await traced(id), 0), comment: 'Lifter of head 2 looked at.' } });
  expect(status).toBe(201);
  const before = (await api.as('manager').call(getKeptTrace, { params: { id: body.id } })).body;
  expect(before).toMatchObject({ incidentId: id, chosen: 0, origin: 'SE1 H2', comment: 'Lifter of head 2 looked at.', actor: 'Test engineer' });
  await expect(database.work.client.keptTrace.update({ where: { plantId_id: { plantId: plant.plantId, id: body.id } }, data: { comment: 'other' } })).rejects.toThrow();
  expect((await api.as('manager').call(listKeptTraces, { params: { id } })).body.traces).toHaveLength(1);
  const byPlace = await api.as('engineer').raw({ method: 'POST', url: keepTrace.path.replace(':id', String(id)), payload: { chosen: 0, comment: 'x' } });
  expect([byPlace.status, byPlace.problem.errors?.[0]?.field]).toEqual([400, 'chosen']);
  const whole = await api.as('engineer').call(keepTrace, { params: { id }, body: { chosen: null, comment: 'All heads to be looked at.' } });
  expect((await api.as('manager').call(getKeptTrace, { params: { id: whole.body.id } })).body).toMatchObject({ chosen: null, origin: null });
});

it('ranks by what is usual where there is no record, and says that there is not enough data', async () => {
  const { origins } = await traced(await logged({ madeAt: '2020-01-05T10:00:00Z' }));
  expect(origins[0]?.enoughData).toBe(false);
  expect(origins[0]?.suspect).toBeNull();
  expect((await api.as('engineer').call(traceIncident, { params: { id: 99_999 }, query: {} })).status).toBe(404);
});

describe('a bare signal', () => {
  let signalId: number;
  beforeAll(async () => {
    const { client } = database.work;
    const stream = await client.stream.findFirstOrThrow({ where: { plantId: plant.plantId, unitId: plant.headIds[1] } });
    signalId = (await client.signal.create({ data: { plantId: plant.plantId, streamId: stream.id, chart: 'mean', rule: 'beyond-limits', side: 'below', firedAt: new Date(MADE - 6 * HOUR), firstAt: new Date(MADE - 6 * HOUR), lastAt: new Date(MADE + 38 * HOUR), seen: { limits: null, points: [] } } })).id;
  });
  const ofSignal = async (query: { take?: number; defect?: string } = {}) => (await api.as('operator').call(traceSignal, { params: { id: signalId }, query })).body;

  it('is ranked among its own machine and the steps before it, by the defect that it warns of', async () => {
    const { origins, windows, defect, places, codedAtStepId } = await ofSignal({ take: 100 });
    expect(defect).toEqual({ code: 'short-body-hook', name: 'Short body hook', by: 'characteristic' });
    expect(origins[0]).toMatchObject({ stepKind: 'seamer', unit: { code: 'H2' }, enoughData: true });
    expect([origins.length, codedAtStepId]).toEqual([places, steps[2]]);
    expect(origins.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 9);
    expect(windows.at(-1)).toMatchObject({ stepKind: 'seamer', basis: 'code', from: new Date(MADE - 6 * HOUR - 180_000).toISOString() });
  });

  it('takes another defect when asked, and refuses one that the taxonomy does not hold', async () => {
    expect((await ofSignal({ defect: 'loose-seam' })).defect).toMatchObject({ code: 'loose-seam', by: 'asked' });
    const { status, problem } = await api.as('operator').raw({ method: 'GET', url: `/api/signals/${signalId}/trace?defect=bent` });
    expect([status, problem.errors?.[0]?.field]).toEqual([400, 'defect']);
    expect((await api.as('operator').raw({ method: 'GET', url: '/api/signals/99999/trace' })).status).toBe(404);
  });

  it('keeps what somebody acted on, also a place beyond the first ten', async () => {
    const all = await ofSignal({ take: 500, defect: 'loose-seam' });
    const { places } = all;
    const { body } = await api.as('engineer').call(keepSignalTrace, { params: { id: signalId }, body: { chosen: seenAt(all, places - 1), comment: 'Looked at the last one.', defect: 'loose-seam' } });
    const kept = (await api.as('manager').call(getKeptTrace, { params: { id: body.id } })).body;
    expect(kept).toMatchObject({ incidentId: null, signalId, chosen: places - 1, trace: { defect: { code: 'loose-seam' } } });
    expect(kept.trace.origins).toHaveLength(Math.max(10, places));
    expect((await api.as('manager').call(listKeptSignalTraces, { params: { id: signalId } })).body.traces.map(({ id }) => id)).toEqual([body.id]);
    for (const otherwise of [{ share: seenAt(all, 0).share - 0.2 }, { place: 1 }]) {
      const stale = await api.as('engineer').call(keepSignalTrace, { params: { id: signalId }, body: { chosen: { ...seenAt(all, 0), ...otherwise }, comment: 'x', defect: 'loose-seam' } });
      expect([stale.status, stale.problem.code]).toEqual([409, 'changed-meanwhile']);
    }
    await expect(database.work.client.keptTrace.create({ data: { plantId: plant.plantId, keptBy: plant.users.engineer, actor: 'x', comment: 'x', software: 'x', answer: {} } })).rejects.toThrow();
  });
});

it('lays out what is on record around a signal, with the shift that was on and the gauge that was used', async () => {
  const { client } = database.work;
  const { id: signalId, firstAt } = await client.signal.findFirstOrThrow({ where: { plantId: plant.plantId } });
  await client.shift.create({ data: { plantId: plant.plantId, name: 'Sunday early', beginMinute: 0, endMinute: 720, days: [7] } });
  const check = await client.check.findFirstOrThrow({ where: { plantId: plant.plantId, takenAt: { gte: firstAt } }, orderBy: { takenAt: 'asc' } });
  await client.subgroup.updateMany({ where: { plantId: plant.plantId, checkId: check.id }, data: { gaugeId: plant.gaugeId } });
  await client.gauge.update({ where: { plantId_id: { plantId: plant.plantId, id: plant.gaugeId } }, data: { calibrationDue: new Date(MADE - 30 * 24 * HOUR) } });
  const { entries, madeAt } = (await api.as('operator').call(getSignalSurroundings, { params: { id: signalId }, query: { before: 6, after: 20 } })).body;
  expect(madeAt).toBe(firstAt.toISOString());
  const of = (at: Date) => entries.find((entry) => entry.kind === 'check' && entry.checkId === check.id && entry.at === at.toISOString());
  expect(of(check.takenAt)).toMatchObject({ gauges: [{ code: 'MIC-1', overdue: true }], shift: 'Sunday early' });
  expect(entries.filter(({ kind }) => kind === 'check').some(({ shift }) => shift === null)).toBe(true);
});

it('finds incidents like another one and like a signal, never the incident itself, and says why', async () => {
  const dent = { defect: 'body-dent', leakPlace: 'body', description: 'Dented by the pallet fork.' };
  const [first, second] = [await logged(dent), await logged(dent)];
  const { incidents } = (await api.as('operator').call(similarToIncident, { params: { id: first } })).body;
  expect(incidents.map(({ id }) => id)).toContain(second);
  expect(incidents.map(({ id }) => id)).not.toContain(first);
  expect(incidents[0]?.reasons.map(({ kind }) => kind)).toContain('same-defect');
  const { id } = await database.work.client.signal.findFirstOrThrow({ where: { plantId: plant.plantId } });
  const ofSignal = (await api.as('operator').call(similarToSignal, { params: { id } })).body.incidents;
  expect(ofSignal.length).toBeGreaterThan(0);
  expect(ofSignal.every(({ reasons }) => reasons.length > 0)).toBe(true);
  expect((await api.as('operator').raw({ method: 'GET', url: '/api/incidents/99999/similar' })).status).toBe(404);
});

it('keeps nothing where checks that came in meanwhile ranked anew, says how the place stands now, and takes it once that was seen', async () => {
  const { client } = database.work;
  const { plantId, productId, machines, users } = plant;
  const id = await logged();
  const seen = await traced(id);
  const chosen = seenAt(seen, 0);
  expect(chosen.unitId).toBe(plant.headIds[1]);
  const stream = await client.stream.findFirstOrThrow({ where: { plantId, unitId: plant.headIds[0] } });
  for (let count = 0; count < 12; count += 1) {
    const takenAt = new Date(MADE - 3 * HOUR + count * HOUR / 2 + 60_000);
    const check = await client.check.create({ data: { plantId, machineId: machines.seamer, productId, takenAt, enteredBy: users.technician, inspector: 'Test', canNumbers: [1], canUnitIds: [plant.headIds[0] ?? 0], canLaneIds: [0], positions: ['a'], key: `late ${count}`, contentHash: 'x', source: 'test' } });
    await client.subgroup.create({ data: { plantId, streamId: stream.id, takenAt, sequence: 0, checkId: check.id, cans: [0], readings: [1.4], n: 1, mean: 1.4, low: 1.4, high: 1.4 } });
  }
  const keep = (place: SeenOrigin) => api.as('engineer').raw({ method: 'POST', url: keepTrace.path.replace(':id', String(id)), payload: { chosen: place, comment: 'Lifter of head 2 changed.' } });
  const late = await keep(chosen);
  expect([late.status, late.problem.code]).toEqual([409, 'changed-meanwhile']);
  expect(late.problem.detail).toMatch(/^The ranking changed since you saw it: SE1 H2 stood at place 1 with \d+ %, it stands at place \d+ with \d+ % now\. Nothing was kept/);
  expect((await api.as('manager').call(listKeptTraces, { params: { id } })).body.traces).toEqual([]);
  const now = await traced(id);
  const place = now.origins.findIndex(({ unit }) => unit?.id === plant.headIds[1]);
  expect((await keep(seenAt(now, place))).status).toBe(201);
  expect((await api.as('manager').call(listKeptTraces, { params: { id } })).body.traces).toMatchObject([{ chosen: place, origin: 'SE1 H2' }]);
  const gone = await keep({ ...seenAt(now, place), unitId: 99_999 });
  expect([gone.status, gone.problem.detail]).toEqual([409, expect.stringContaining('is not in the ranking any more')]);
});

it('misses no check of a plan that was written after the cans were made, and misses that of one that was there', async () => {
  const { client } = database.work;
  const { plantId, productId, machines, users } = plant;
  const incident = await logged();
  for (const [name, written] of [['Later plan', MADE + 20 * HOUR], ['Older plan', MADE - 100 * HOUR]] as const) {
    const { id } = await client.checkPlan.create({ data: { plantId, machineId: machines.seamer, productId, name, cans: 1, positions: ['whole'], characteristics: ['body-hook'], everyMinutes: 60, intervalSource: 'common practice, no source' } });
    await client.checkPlanRevision.create({ data: { plantId, planId: id, revision: 1, at: new Date(written), author: 'Test engineer', reason: 'first', plan: { everyMinutes: 60, everyCans: null, openedBy: [], longStopMinutes: null, retired: false } } });
    await client.check.create({ data: { plantId, machineId: machines.seamer, productId, planId: id, takenAt: new Date(MADE + 30 * HOUR), enteredBy: users.technician, inspector: 'Test', canNumbers: [1], canUnitIds: [0], canLaneIds: [0], positions: ['whole'], key: name, contentHash: 'x', source: 'test' } });
  }
  const { windows, origins } = await traced(incident);
  expect(windows.find(({ stepKind }) => stepKind === 'seamer')?.machines.map(({ missed }) => missed)).toEqual([['Older plan']]);
  const ofSeamer = origins.filter(({ machine }) => machine.code === 'SE1');
  expect(ofSeamer.map(({ findings }) => findings.flatMap((finding) => (finding.kind === 'missed-checks' ? [finding.plan] : [])))).toEqual(ofSeamer.map(() => ['Older plan']));
});
