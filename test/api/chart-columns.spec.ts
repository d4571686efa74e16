import fc from 'fast-check';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { chartView, compareCharts } from '#contract/specifications';
import { findChart } from '../../apps/api/src/specifications/chart.store.js';
import { chartText } from '../../apps/api/src/specifications/chart.view.js';
import { compareCharts as smallCharts } from '../../apps/api/src/specifications/compare-charts.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';
import { makePlant, type TestPlant } from '../factories/plant.js';

// The chart is one statement that reads an index from where the chart begins. Here it is made again from all rows, one after the other.
const MINUTE = 60_000;
const start = Date.UTC(2026, 2, 1);
const KINDS = ['xbar-r', 'xbar-s', 'i-mr', 'i-mr'] as const;
let database: TestDatabase;
let plant: TestPlant;
let checkId: number;
let streams: { id: number; characteristicId: number; kind: (typeof KINDS)[number]; derived: boolean; limitsIds: number[] }[];
beforeAll(async () => {
  database = await freshDatabase(); plant = await makePlant(database.work);
  const { plantId, productId, machines, characteristics, users } = plant;
  const db = database.work.client;
  const codes = ['weld-overlap', 'weld-thickness', 'cover-hook', 'seam-overlap'] as const;
  streams = await Promise.all(codes.map(async (code, index) => {
    const kind = KINDS[index] ?? 'i-mr';
    const { id } = await db.stream.create({ data: { plantId, productId, characteristicId: characteristics[code], machineId: index < 2 ? machines.bodyMaker : machines.seamer, chartKind: kind, basis: 'can', rules: ['beyond-limits'] } });
    const limits = (centre: number) => db.limits.create({ data: { plantId, streamId: id, kind, centre, sigma: 0.1, spreadCentre: 0.2, subgroups: 25, readings: 100, baselineFrom: new Date(start), baselineTo: new Date(start), effectiveFrom: new Date(start), authorId: users.engineer, reason: 'test' } });
    return { id, characteristicId: characteristics[code], kind, derived: code === 'seam-overlap', limitsIds: [(await limits(1)).id, (await limits(2)).id] };
  }));
  checkId = (await db.check.create({ data: { plantId, machineId: machines.bodyMaker, productId, takenAt: new Date(start), enteredBy: users.technician, inspector: 'x', canNumbers: [1], canUnitIds: [0], canLaneIds: [0], positions: ['middle'], key: 'chart-columns', contentHash: 'none', source: 'entry' } })).id;
  for (const minute of [10, 200, 400]) await db.lineEvent.create({ data: { plantId, lineId: plant.lineId, machineId: minute === 400 ? machines.flanger : null, kind: 'note', at: new Date(start + minute * MINUTE), text: `at ${minute}`, actor: 'x', enteredAt: new Date(start) } });
}, 120_000);
afterAll(() => database.close());

const point = fc.record({
  minute: fc.oneof(fc.integer({ min: 0, max: 12 }).map((half) => half * 30), fc.integer({ min: 0, max: 500 })), sequence: fc.integer({ min: 1, max: 3 }), size: fc.constantFrom(0, 1, 1, 1), limits: fc.constantFrom(null, 0, 0, 1), formula: fc.constantFrom(null, 'v1', 'v1', 'v2'),
  mean: fc.integer({ min: -300, max: 300 }).map((hundredths) => hundredths / 100), fired: fc.constantFrom(0, 0, 1, 2), open: fc.boolean(),
});
const points = fc.uniqueArray(point, { selector: ({ minute, sequence }) => `${minute} ${sequence}`, maxLength: 25 });
const moment = fc.option(fc.integer({ min: -20, max: 520 }), { nil: undefined });
type Point = typeof point extends fc.Arbitrary<infer Row> ? Row : never;
type Stream = (typeof streams)[number];

const byTime = (rows: readonly Point[]) => [...rows].sort((a, b) => a.minute - b.minute || a.sequence - b.sequence);
const iso = (minute: number) => new Date(start + minute * MINUTE).toISOString();
const sizeOf = (stream: Stream, { size }: Point) => (stream.kind === 'i-mr' ? size : size * 4);
const meanOf = ({ size, mean }: Point) => (size === 0 ? null : mean);
const rulesOf = ({ fired }: Point) => ['beyond-limits', 'two-of-three'].slice(0, fired);

async function store(stream: Stream, rows: readonly Point[]): Promise<void> {
  const { plantId } = plant;
  const db = database.work.client;
  const where = { plantId, streamId: stream.id };
  await db.signalPoint.deleteMany({ where }); await db.signal.deleteMany({ where }); await db.subgroup.deleteMany({ where });
  await db.subgroup.createMany({ data: rows.map((row) => ({ ...where, takenAt: new Date(iso(row.minute)), sequence: row.sequence, checkId, cans: [0], readings: [row.mean], n: sizeOf(stream, row), mean: meanOf(row), range: row.size === 0 ? null : Math.abs(row.mean), sd: row.size === 0 ? null : Math.abs(row.mean) / 2, formula: row.formula, limitsId: row.limits === null ? null : stream.limitsIds[row.limits] })) });
  for (const row of rows) for (const rule of rulesOf(row)) {
    const at = new Date(iso(row.minute));
    const { id } = await db.signal.create({ data: { ...where, chart: 'mean', rule, side: 'above', state: row.open ? 'open' : 'closed', firedAt: at, firstAt: at, lastAt: at, seen: {} } });
    await db.signalPoint.create({ data: { ...where, takenAt: at, sequence: row.sequence, chart: 'mean', rule, side: 'above', signalId: id } });
  }
}

/** The chart as its description says, from all rows. */
function expected(stream: Stream, rows: readonly Point[], last: number, from = -Infinity, to = Infinity) {
  const all = byTime(rows);
  const shown = all.filter(({ minute }) => minute >= from && minute <= to).slice(-last);
  const first = shown[0] ? all.indexOf(shown[0]) : all.filter(({ minute }) => minute < from).length;
  const limitsOf = ({ limits }: Point) => (limits === null ? null : stream.limitsIds[limits] ?? null);
  const spread = (row: Point) => {
    if (stream.kind === 'xbar-r') return row.size === 0 ? null : Math.abs(row.mean);
    if (stream.kind === 'xbar-s') return row.size === 0 ? null : Math.abs(row.mean) / 2;
    const before = all[all.indexOf(row) - 1];
    const [own, other] = [meanOf(row), before ? meanOf(before) : null];
    // Before the first point of all stands nothing: no limits and no formula, and no mean to differ from.
    const same = before !== undefined && before.limits === row.limits && (!stream.derived || before.formula === row.formula);
    return same && own !== null && other !== null ? Math.abs(own - other) : null;
  };
  return {
    older: first > 0,
    points: {
      takenAt: shown.map(({ minute }) => iso(minute)), sequence: shown.map(({ sequence }) => sequence), n: shown.map((row) => sizeOf(stream, row)), mean: shown.map(meanOf), spread: shown.map(spread), limitsId: shown.map(limitsOf),
      status: shown.map((row) => (row.limits === null || meanOf(row) === null ? 'not-judged' : row.fired > 0 ? 'signal' : 'steady')),
    },
    firings: shown.flatMap((row, index) => [...rulesOf(row)].sort().map((rule) => ({ index, rule, signalState: row.open ? 'open' : 'closed' }))),
    sizes: stream.limitsIds.map((id) => [...new Set(shown.filter((row) => limitsOf(row) === id && sizeOf(stream, row) > 0).map((row) => sizeOf(stream, row)))].sort((a, b) => a - b)),
    events: shown[0] ? [10, 200].filter((minute) => minute >= (shown[0]?.minute ?? 0) && minute <= to).map((minute) => `at ${minute}`) : [],
  };
}

it('shows for any rows and any span what its description says', async () => {
  await fc.assert(fc.asyncProperty(fc.integer({ min: 0, max: 3 }), points, fc.array(fc.record({ last: fc.integer({ min: 1, max: 30 }), from: moment, to: moment }), { minLength: 4, maxLength: 6 }), async (index, rows, spans) => {
    const stream = streams[index] as Stream;
    await store(stream, rows);
    for (const { last, from, to } of spans) {
      const row = await findChart(database.work.read, plant.plantId, stream.id, { last, from: from === undefined ? undefined : iso(from), to: to === undefined ? undefined : iso(to) });
      if (!row) throw new Error('the stream is there');
      const view = chartView.parse(JSON.parse(chartText(row)));
      const wanted = expected(stream, rows, last, from, to);
      expect(view.points).toEqual({ ...wanted.points, spread: wanted.points.spread.map((value) => (value === null ? null : expect.closeTo(value, 9))) });
      expect(view.older).toBe(wanted.older);
      expect(view.firings.map(({ index: place, rule, signalState }) => ({ index: place, rule, signalState }))).toEqual(wanted.firings);
      expect(view.limits.map(({ bySize }) => bySize.map(({ n }) => n))).toEqual(wanted.sizes);
      expect(view.events.map(({ text }) => text)).toEqual(wanted.events);
      const small = compareCharts.answer.parse(JSON.parse(await smallCharts(database.work.read, plant.plantId, { characteristic: stream.characteristicId, last: Math.max(2, last) }))).charts.find((entry) => entry.stream.id === stream.id);
      const { points: newest } = expected(stream, rows, Math.max(2, last));
      expect([small?.takenAt, small?.mean, small?.status, small?.stream.lastAt]).toEqual([newest.takenAt, newest.mean, newest.status, newest.takenAt.at(-1) ?? null]);
      const judged = newest.limitsId.filter((id, place) => id !== null && newest.mean[place] !== null).at(-1);
      expect(small?.limits?.centre ?? null).toBe(judged === undefined ? null : stream.limitsIds.indexOf(judged ?? 0) + 1);
    }
  }), { numRuns: 60 });
}, 240_000);

it('answers nothing for a stream that is not there', async () => {
  expect(await findChart(database.work.read, plant.plantId, 999_999, { last: 10 })).toBeNull();
});
