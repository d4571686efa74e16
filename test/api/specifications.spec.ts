import { afterAll, beforeAll, expect, it } from 'vitest';
import { recordCheck } from '#contract/inspections';
import { compareCharts, freezeLimits, getChart, getChartCsv, getChartPoint, listStreams, type NewLimits, previewLimits } from '#contract/specifications';
import { baselineLimits, limitsForSize } from '#statistics/charts/limits';
import { subgroupStatistics } from '#statistics/charts/subgroup';
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
let made = 0;
async function product(): Promise<number> {
  made += 1;
  return (await database.work.client.product.create({ data: { plantId: plant.plantId, code: `P${made}`, name: `Can ${made}`, customer: 'Test customer', diameter: 65.3, height: 104, bodyPlate: 0.15, endPlate: 0.19, seamProfile: 'mini' } })).id;
}
/** Three cans, one position: means go round 0.42 by the given offset, ranges are 0.02 and 0.04 by turns. */
const overlaps = (index: number, offset = 0) => { const half = index % 2 === 0 ? 0.01 : 0.02; const mean = 0.42 + 0.004 * ((index * 7) % 5 - 2) + offset; return [mean - half, mean, mean + half].map((value) => Number(value.toFixed(4))); };
async function weld(productId: number, index: number, readings: (number | null)[], machineId = plant.machines.bodyMaker): Promise<number> {
  made += 1;
  const { status, body, problem } = await api.as('operator').call(recordCheck, { body: { key: `spec-check-${made}`, machineId, productId, takenAt: at(index), cans: readings.map((_value, can) => ({ number: can + 1 })), positions: ['middle'], characteristics: [{ code: 'weld-overlap', gaugeId: plant.gaugeId, readings }] } });
  expect([status, problem.detail]).toEqual([201, undefined]);
  return body.subgroups[0]?.streamId as number;
}
async function weldStream(count: number, offsetOf: (index: number) => number = () => 0): Promise<{ streamId: number; productId: number; all: number[][] }> {
  const productId = await product();
  const all: number[][] = [];
  let streamId = 0;
  for (let index = 0; index < count; index += 1) {
    const readings = overlaps(index, offsetOf(index));
    all.push(readings);
    streamId = await weld(productId, index, readings);
  }
  return { streamId, productId, all };
}
const freeze = (streamId: number, body: Partial<NewLimits> & { from: string; to: string }, role: 'engineer' | 'technician' | 'auditor' = 'engineer') => api.as(role).call(freezeLimits, { params: { streamId }, body: { reason: 'steady running after the set-up', ...body } });
const chart = async (streamId: number, query: { last?: number; from?: string; to?: string } = {}) => (await api.as('manager').call(getChart, { params: { streamId }, query })).body;
const openSignals = (streamId: number) => database.work.client.signal.findMany({ where: { plantId: plant.plantId, streamId }, orderBy: { id: 'asc' }, select: { id: true, state: true, rule: true, firings: true } });

it('says "not judged" until limits are frozen, then judges the baseline and all after it by exactly the library’s limits', async () => {
  const { streamId, all } = await weldStream(26, (index) => (index === 24 ? 0.06 : 0));
  const before = await chart(streamId);
  expect(new Set(before.points.status)).toEqual(new Set(['not-judged']));
  expect([before.limits, before.firings]).toEqual([[], []]);

  const frozen = await freeze(streamId, { from: at(0), to: at(21) });
  expect([frozen.status, frozen.problem.detail]).toEqual([201, undefined]);
  const expected = baselineLimits('xbar-r', all.slice(0, 22).map((readings) => subgroupStatistics(readings)));
  expect(frozen.body.limits).toMatchObject({ kind: 'xbar-r', subgroups: 22, readings: 66, author: 'Test engineer', effectiveFrom: at(0), baselineTo: at(21) });
  expect([frozen.body.limits.centre, frozen.body.limits.sigma]).toEqual([expect.closeTo(expected.centre, 12), expect.closeTo(expected.sigma, 12)]);
  expect(frozen.body).toMatchObject({ judged: 26, raised: 1 });

  const after = await chart(streamId);
  expect(after.stream).toMatchObject({ chartKind: 'xbar-r', machine: { code: 'BM1', stepKind: 'body-maker' }, characteristic: { unit: 'mm', decimals: 2 }, revision: before.stream.revision + 1 });
  expect(after.points.takenAt).toEqual(all.map((_readings, index) => at(index)));
  expect(after.points.mean[3]).toBeCloseTo(subgroupStatistics(all[3] as number[]).mean as number, 12);
  expect(after.points.spread[3]).toBeCloseTo(0.04, 12);
  expect(after.points.status.map((status, index) => (status === 'steady' ? -1 : index)).filter((index) => index >= 0)).toEqual([24]);
  expect(after.firings).toEqual([{ index: 24, chart: 'mean', rule: 'beyond-limits', side: 'above', signalId: expect.any(Number) as number, signalState: 'open' }]);
  const lines = limitsForSize(expected, 3);
  expect(after.limits[0]?.bySize[0]?.n).toBe(3);
  expect(after.limits[0]?.bySize[0]?.mean.upper).toBeCloseTo(lines.mean.upper, 12);
  expect(after.limits[0]?.bySize[0]?.spread?.upper).toBeCloseTo(lines.spread?.upper as number, 12);
});

it('shows the last points, or those of a span, and says that there are older ones', async () => {
  const { streamId } = await weldStream(8);
  const last = await chart(streamId, { last: 3 });
  expect([last.points.takenAt, last.older]).toEqual([[at(5), at(6), at(7)], true]);
  const span = await chart(streamId, { from: at(0), to: at(2) });
  expect([span.points.takenAt, span.older]).toEqual([[at(0), at(1), at(2)], false]);
  const nothing = await chart(streamId, { from: at(90) });
  expect([nothing.points.takenAt, nothing.events]).toEqual([[], []]);
  const wrong = await api.as('manager').raw({ method: 'GET', url: `/api/charts/${streamId}?last=0` });
  expect([wrong.status, wrong.problem.errors?.[0]?.field]).toEqual([400, 'query.last']);
  expect((await api.as('manager').raw({ method: 'GET', url: '/api/charts/999999' })).status).toBe(404);
});

it('lays the events of the machine and of its line in the time of the chart, and no others', async () => {
  const { streamId } = await weldStream(3);
  const event = (machineId: number | null, kind: string, index: number) => database.work.client.lineEvent.create({ data: { plantId: plant.plantId, lineId: plant.lineId, machineId, kind, at: at(index), text: `${kind} of test`, actor: 'Test operator' } });
  await event(plant.machines.bodyMaker, 'coil-change', 1);
  await event(null, 'shift-change', 2);
  await event(plant.machines.seamer, 'roll-change', 1);
  await event(plant.machines.bodyMaker, 'wire-change', -5);
  expect((await chart(streamId)).events.map(({ kind, machine }) => [kind, machine])).toEqual([['coil-change', 'BM1'], ['shift-change', null]]);
});

it('leaves out excluded subgroups with their reasons, and keeps them on record', async () => {
  const { streamId, all } = await weldStream(22, (index) => (index === 5 ? 0.2 : 0));
  const wide = await freeze(streamId, { from: at(0), to: at(21) });
  const narrow = await freeze(streamId, { from: at(0), to: at(21), excluded: [{ takenAt: at(5), sequence: 1, reason: 'wire was changed during the pull' }] });
  const expected = baselineLimits('xbar-r', all.filter((_readings, index) => index !== 5).map((readings) => subgroupStatistics(readings)));
  expect(narrow.body.limits.subgroups).toBe(21);
  expect(narrow.body.limits.centre).toBeCloseTo(expected.centre, 12);
  expect(narrow.body.limits.excluded).toEqual([{ takenAt: at(5), sequence: 1, reason: 'wire was changed during the pull' }]);
  const view = await chart(streamId);
  expect(view.limits.map(({ id }) => id)).toEqual([wide.body.limits.id, narrow.body.limits.id]);
  expect(new Set(view.points.limitsId)).toEqual(new Set([narrow.body.limits.id]));
  expect(view.points.status[5]).toBe('signal');
});

it('judges anew with each freeze: open signals that no longer hold are withdrawn with that said, closed ones stay', async () => {
  const { streamId } = await weldStream(45, (index) => (index >= 22 ? 0.06 : 0));
  await freeze(streamId, { from: at(0), to: at(21) });
  const raised = await openSignals(streamId);
  expect(raised.map(({ rule }) => rule).sort()).toEqual(['beyond-limits', 'eight-in-a-row', 'four-of-five', 'two-of-three']);
  const closed = raised.find(({ rule }) => rule === 'beyond-limits') as { id: number };
  await database.work.client.signal.update({ where: { plantId_id: { plantId: plant.plantId, id: closed.id } }, data: { state: 'closed', closedAt: new Date(), cause: 'new welding wire' } });

  const later = await freeze(streamId, { from: at(22), to: at(44), reason: 'the new wire is the new normal' });
  expect(later.body).toMatchObject({ judged: 23, raised: 0 });
  const now = await openSignals(streamId);
  expect(now.filter(({ state }) => state !== 'closed')).toEqual([]);
  expect(now.find(({ id }) => id === closed.id)?.firings).toBeGreaterThan(20);
  const steps = await database.work.client.signalStep.findMany({ where: { plantId: plant.plantId, signalId: { in: raised.map(({ id }) => id) }, action: 'withdrawn' } });
  expect(steps.map(({ signalId }) => signalId).sort()).toEqual(raised.map(({ id }) => id).filter((id) => id !== closed.id).sort());
  expect(steps[0]?.comment).toContain('the new wire is the new normal');
  const view = await chart(streamId);
  expect(new Set(view.points.limitsId.slice(0, 22))).not.toEqual(new Set(view.points.limitsId.slice(22)));
});

it('ends the rule of new limits where limits of a later time begin', async () => {
  const { streamId } = await weldStream(45);
  const late = await freeze(streamId, { from: at(22), to: at(44) });
  const preview = await api.as('engineer').call(previewLimits, { params: { streamId }, body: { from: at(0), to: at(21) } });
  expect(preview.body).toMatchObject({ judged: 22, until: at(22), effectiveFrom: at(0) });
  const early = await freeze(streamId, { from: at(0), to: at(21) });
  const { limitsId } = (await chart(streamId)).points;
  expect([new Set(limitsId.slice(0, 22)), new Set(limitsId.slice(22))]).toEqual([new Set([early.body.limits.id]), new Set([late.body.limits.id])]);
});

it('previews what freezing does, and stores nothing by it', async () => {
  const { streamId } = await weldStream(26, (index) => (index === 10 || index === 24 ? 0.06 : 0));
  const preview = await api.as('engineer').call(previewLimits, { params: { streamId }, body: { from: at(0), to: at(21) } });
  expect(preview.status).toBe(200);
  const beyond = preview.body.firings.filter(({ rule, chart: on }) => rule === 'beyond-limits' && on === 'mean');
  expect(beyond.map(({ takenAt, inBaseline }) => [takenAt, inBaseline])).toEqual([[at(10), true], [at(24), false]]);
  expect(preview.body.judged).toBe(26);
  expect([(await chart(streamId)).limits, await openSignals(streamId)]).toEqual([[], []]);
  const frozen = await freeze(streamId, { from: at(0), to: at(21) });
  expect([frozen.body.limits.centre, frozen.body.limits.sigma]).toEqual([preview.body.centre, preview.body.sigma]);
  expect((await chart(streamId)).firings).toHaveLength(preview.body.firings.length);
});

it('writes who froze what into the audit trail, and announces the stream and each signal', async () => {
  const { streamId } = await weldStream(26, (index) => (index === 24 ? 0.06 : 0));
  await api.react();
  await freeze(streamId, { from: at(0), to: at(21), reason: 'ninety days without a change' });
  const audit = await database.work.client.auditRow.findFirstOrThrow({ where: { plantId: plant.plantId, action: 'limits.frozen', subject: `stream ${streamId}` } });
  expect(audit).toMatchObject({ actor: 'Test engineer', after: { reason: 'ninety days without a change', judged: 26, raised: 1 } });
  const kinds = (await database.work.client.outboxRow.findMany({ where: { plantId: plant.plantId, doneAt: null } })).map(({ kind }) => kind).sort();
  expect(kinds).toEqual(['signal.raised', 'stream.changed']);
});

it('refuses a baseline that is too short, that does not vary, that excludes strangers, or of a stream that is not there', async () => {
  const { streamId } = await weldStream(21);
  const short = await freeze(streamId, { from: at(0), to: at(18) });
  expect([short.status, short.problem.code]).toEqual([422, 'too-little-data']);
  expect(short.problem.detail).toContain('at least 20 subgroups with readings; this baseline has 19');
  const excluded = [0, 1].map((index) => ({ takenAt: at(index), sequence: 1, reason: 'start-up' }));
  expect((await freeze(streamId, { from: at(0), to: at(20), excluded })).problem.detail).toContain('has 19 after 2 were excluded');
  const stranger = await freeze(streamId, { from: at(0), to: at(19), excluded: [{ takenAt: at(20), sequence: 1, reason: 'not in there' }] });
  expect([stranger.status, stranger.problem.errors?.[0]?.field]).toEqual([400, 'excluded.0']);
  const silent = await freeze(streamId, { from: at(0), to: at(20), reason: ' ' });
  expect([silent.status, silent.problem.errors?.[0]]).toMatchObject([400, { field: 'reason', expected: 'a reason of at least 3 characters' }]);
  expect((await freeze(streamId, { from: at(5), to: at(5) })).problem.errors?.[0]).toMatchObject({ field: 'to' });
  expect((await freeze(999_999, { from: at(0), to: at(20) })).status).toBe(404);
  const flat = await product();
  let flatStream = 0;
  for (let index = 0; index < 20; index += 1) flatStream = await weld(flat, index, [0.42, 0.42, 0.42]);
  const refused = await freeze(flatStream, { from: at(0), to: at(19) });
  expect([refused.status, refused.problem.code]).toEqual([422, 'too-little-data']);
  expect(refused.problem.detail).toContain('no variation at the resolution of the gauge');
  expect((await chart(streamId)).limits).toEqual([]);
});

it('lets engineers freeze, everybody read, and nobody without a session do either', async () => {
  const { streamId } = await weldStream(20);
  for (const role of ['technician', 'auditor'] as const) expect((await freeze(streamId, { from: at(0), to: at(19) }, role)).status).toBe(403);
  expect((await api.as('operator').call(previewLimits, { params: { streamId }, body: { from: at(0), to: at(19) } })).status).toBe(403);
  expect((await api.nobody.raw({ method: 'GET', url: `/api/charts/${streamId}` })).status).toBe(401);
  expect((await api.as('manager').call(listStreams, { query: {} })).status).toBe(200);
});

it('takes moving ranges between neighbours only: not across a missing mean, a change of limits or of formula', async () => {
  const productId = await product();
  const base = { plantId: plant.plantId };
  const client = database.work.client;
  const stream = await client.stream.create({ data: { ...base, characteristicId: plant.characteristics['seam-overlap'], productId, machineId: plant.machines.seamer, unitId: plant.headIds[0], chartKind: 'i-mr', basis: 'can', rules: ['beyond-limits'] } });
  const frozen = await client.limits.create({ data: { ...base, streamId: stream.id, kind: 'i-mr', centre: 1, sigma: 0.1, spreadCentre: 0.11, subgroups: 20, readings: 20, formula: 'seam.overlap@2', baselineFrom: at(0), baselineTo: at(1), effectiveFrom: at(5), authorId: plant.users.engineer, reason: 'test' } });
  const check = await client.check.create({ data: { ...base, machineId: plant.machines.seamer, productId, takenAt: at(0), enteredBy: plant.users.operator, inspector: 'test', canNumbers: [7], canUnitIds: [0], canLaneIds: [0], positions: ['a'], key: 'moving-range-check', contentHash: 'none', source: 'entry' } });
  const means: (number | null)[] = [1, 1.1, null, 1.3, 1.35, 1.2, 1.25];
  for (const [index, mean] of means.entries()) {
    const later = index >= 4;
    await client.subgroup.create({ data: { ...base, streamId: stream.id, takenAt: at(index), sequence: 1, checkId: check.id, cans: [0], readings: mean === null ? [] : [mean], n: mean === null ? 0 : 1, mean, low: mean, high: mean, formula: later ? 'seam.overlap@2' : 'seam.overlap@1', limitsId: index >= 5 ? frozen.id : null } });
  }
  const view = await chart(stream.id);
  const rounded = view.points.spread.map((value) => (value === null ? null : Number(value.toFixed(6))));
  expect(rounded).toEqual([null, 0.1, null, null, null, null, 0.05]);
  // The point before the span still gives the first moving range.
  expect((await chart(stream.id, { last: 1 })).points.spread[0]).toBeCloseTo(0.05, 9);
  const mixed = await api.as('engineer').call(previewLimits, { params: { streamId: stream.id }, body: { from: at(0), to: at(6) } });
  expect(mixed.status).toBe(422);
});

it('refuses a baseline of two formulas, since their numbers are not comparable', async () => {
  const productId = await product();
  const client = database.work.client;
  const base = { plantId: plant.plantId };
  const stream = await client.stream.create({ data: { ...base, characteristicId: plant.characteristics['free-space'], productId, machineId: plant.machines.seamer, unitId: plant.headIds[0], chartKind: 'i-mr', basis: 'can', rules: ['beyond-limits'] } });
  const check = await client.check.create({ data: { ...base, machineId: plant.machines.seamer, productId, takenAt: at(0), enteredBy: plant.users.operator, inspector: 'test', canNumbers: [7], canUnitIds: [0], canLaneIds: [0], positions: ['a'], key: 'two-formulas-check', contentHash: 'none', source: 'entry' } });
  for (let index = 0; index < 44; index += 1) {
    const mean = 0.1 + 0.01 * (index % 3);
    await client.subgroup.create({ data: { ...base, streamId: stream.id, takenAt: at(index), sequence: 1, checkId: check.id, cans: [0], readings: [mean], n: 1, mean, low: mean, high: mean, formula: index < 22 ? 'free-space@1' : 'free-space@2' } });
  }
  const mixed = await freeze(stream.id, { from: at(10), to: at(40) });
  expect([mixed.status, mixed.problem.errors?.[0]]).toEqual([400, { field: 'from', expected: `a baseline of one formula: it changes from free-space@1 to free-space@2 at ${at(22)}` }]);
  const first = await freeze(stream.id, { from: at(0), to: at(21) });
  expect(first.body).toMatchObject({ judged: 22, limits: { formula: 'free-space@1' } });
  expect(new Set((await chart(stream.id)).points.status.slice(22))).toEqual(new Set(['not-judged']));
});

it('shows one point with readings, gauge, specification, limits and what was corrected', async () => {
  const { streamId, all } = await weldStream(21, (index) => (index === 20 ? 0.2 : 0));
  await database.work.client.specification.create({ data: { plantId: plant.plantId, productId: (await database.work.client.stream.findFirstOrThrow({ where: { id: streamId } })).productId, characteristicId: plant.characteristics['weld-overlap'], revision: 1, lsl: 0.33, target: 0.42, usl: 0.51, effectiveFrom: at(-1), authorId: plant.users.engineer, reason: 'test' } });
  await freeze(streamId, { from: at(0), to: at(19) });
  const { body } = await api.as('manager').call(getChartPoint, { params: { streamId }, query: { takenAt: at(20), sequence: 1 } });
  expect(body.cans).toEqual((all[20] as number[]).map((reading, can) => ({ number: can + 1, readings: [reading] })));
  expect(body).toMatchObject({ gauge: 'MIC-1 Seam micrometer 1', inspector: 'Test operator', n: 3, status: 'signal', outsideSpecification: 3, specification: { lsl: 0.33, usl: 0.51 }, revisions: [] });
  expect(body.firings.map(({ rule }) => rule)).toContain('beyond-limits');
  expect((await api.as('manager').call(getChartPoint, { params: { streamId }, query: { takenAt: at(20), sequence: 9 } })).status).toBe(404);
});

it('compares the same characteristic over machines on one scale, and lists streams in the order of the line', async () => {
  const { streamId, productId } = await weldStream(21, (index) => (index === 20 ? 0.1 : 0));
  await freeze(streamId, { from: at(0), to: at(19) });
  const second = await weld(productId, 0, [0.3, 0.31, 0.32], plant.machines.bodyMaker2);
  const { body } = await api.as('manager').call(compareCharts, { query: { characteristic: plant.characteristics['weld-overlap'], product: productId, last: 10 } });
  expect(body.charts.map(({ stream, mean, limits }) => [stream.id, mean.length, limits !== null])).toEqual([[streamId, 10, true], [second, 1, false]]);
  expect(body.charts[0]?.status.at(-1)).toBe('signal');
  expect(body.charts[1]?.status).toEqual(['not-judged']);
  expect([body.scale?.low, body.more]).toEqual([expect.closeTo(0.31, 9), false]);
  const { body: { streams } } = await api.as('manager').call(listStreams, { query: { product: productId } });
  expect(streams.map(({ machine, hasLimits, openSignals: open, lastAt }) => [machine.code, hasLimits, open > 0, lastAt])).toEqual([['BM1', true, true, at(20)], ['BM2', false, false, at(0)]]);
});

it('gives the numbers as CSV with the limits of each point', async () => {
  const { streamId } = await weldStream(21, (index) => (index === 20 ? 0.1 : 0));
  await freeze(streamId, { from: at(0), to: at(19) });
  const { text, headers } = await api.as('manager').raw({ method: 'GET', url: `${getChartCsv.path.replace(':streamId', String(streamId))}?last=2` });
  expect(headers['content-disposition']).toMatch(/filename="chart_BM1_weld-overlap_P\d+\.csv"/);
  const lines = text.trimEnd().split('\r\n');
  expect(lines).toHaveLength(3);
  expect(lines[0]).toContain('mean (mm),range (mm)');
  expect(lines[2]).toMatch(new RegExp(`^${at(20)},1,3,0\\.5`));
  expect(lines[2]).toMatch(/signal,mean beyond-limits above$/);
});
