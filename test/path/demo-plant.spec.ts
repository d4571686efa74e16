import { afterAll, beforeAll, expect, it } from 'vitest';
import { baselineLimits, type ChartKind } from '#statistics/charts/limits';
import { subgroupStatistics } from '#statistics/charts/subgroup';
import { verificationAnswer, verificationAsked } from '#contract/incident-shapes';
import { judgeSeries } from '#statistics/rules/evaluate';
import type { RuleName } from '#statistics/rules/verdict';
import { decodeForPlant } from '../../apps/api/src/can-codes/can-codes.js';
import { traceIncident } from '../../apps/api/src/flows/trace-incident.js';
import { traceSignal } from '../../apps/api/src/flows/trace-signal.js';
import { verifyRecords } from '../../apps/api/src/flows/verify-records.js';
import { listFeedTokenViews } from '../../apps/api/src/feeds/feed-tokens.store.js';
import { gaugeStanding } from '../../apps/api/src/studies/gauge-standing.js';
import { listCounterRows } from '../../apps/api/src/production/counters.store.js';
import { loadDemoPlant } from '../../apps/api/src/flows/load-demo-plant.js';
import { holdView, listHoldRows } from '../../apps/api/src/holds/hold-pages.store.js';
import { createRandom } from '../../seed/random.js';
import { faultTruths } from '../../seed/faults.js';
import { seedIncidents } from '../../seed/incidents.js';
import { seedNotes } from '../../seed/notes.js';
import { defaultSeed, simulatePlant } from '../../seed/simulate.js';
import { plantCalendar } from '../../seed/calendar.js';
import { seedMonitor } from '../../seed/monitor.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';

const NOW = new Date('2026-05-20T13:07:00Z');
const ENDS_AT = new Date('2026-05-20T13:05:00Z').getTime();
const simulated = simulatePlant({ seed: defaultSeed, endsAt: ENDS_AT, days: 90 });
const calendar = plantCalendar({ endsAt: ENDS_AT, days: 90 });
let database: TestDatabase;
const said: string[] = [];
beforeAll(async () => { database = await freshDatabase(); await loadDemoPlant(database.work, NOW, (line) => said.push(line)); }, 240_000);
afterAll(() => database.close());

type SignalRow = { machine: string; unit: string | null; lane: string | null; characteristic: string; fired_at: Date; state: string };
const signalRows = () => database.work.client.$queryRaw<SignalRow[]>`
  SELECT m.code AS machine, u.code AS unit, l.code AS lane, c.code AS characteristic, g.fired_at, g.state FROM signal g
  JOIN stream s ON s.plant_id = g.plant_id AND s.id = g.stream_id JOIN machine m ON m.plant_id = g.plant_id AND m.id = s.machine_id JOIN characteristic c ON c.plant_id = g.plant_id AND c.id = s.characteristic_id
  LEFT JOIN unit u ON u.plant_id = g.plant_id AND u.id = s.unit_id LEFT JOIN lane l ON l.plant_id = g.plant_id AND l.id = s.lane_id`;

it('says how far it is, and holds three lines, ninety days, thirty notes and twelve incidents', async () => {
  expect(said.filter((line) => /seeding the demo plant: \d+ %/.test(line)).length).toBeGreaterThanOrEqual(9);
  const client = database.work.client;
  expect(await client.line.count()).toBe(3);
  expect(await client.note.count()).toBe(seedNotes.length);
  expect(seedNotes.length).toBe(30);
  expect(await client.incident.count()).toBe(seedIncidents.length);
  expect(seedIncidents.length).toBe(12);
  expect(await client.check.count({ where: { source: { not: 'monitor' } } })).toBe(simulated.checks.length);
  const [span] = await client.$queryRaw<{ first: Date; last: Date }[]>`SELECT min(taken_at) AS first, max(taken_at) AS last FROM "check" WHERE source <> 'monitor'`;
  const days = ((span?.last.getTime() ?? 0) - (span?.first.getTime() ?? 0)) / 86_400_000;
  expect(days).toBeGreaterThan(88);
  expect(span?.last.getTime()).toBeLessThanOrEqual(ENDS_AT);
  // An operator's typo was saved, corrected, and the first value is still there to read.
  expect(simulated.corrections.length).toBeGreaterThan(0);
  expect(await client.subgroupRevision.count()).toBeGreaterThanOrEqual(simulated.corrections.length);
});

it('holds a gauge study that a second person approved, of a gauge that is in calibration', async () => {
  const study = await database.work.client.studyRecord.findFirstOrThrow({ where: { kind: 'gauge' } });
  expect([study.state, study.authorId === null]).toEqual(['approved', false]);
  const standing = await gaugeStanding(database.work.read, study.plantId, { gaugeId: study.gaugeId, characteristicId: study.characteristicId ?? 0, at: NOW });
  expect([standing?.calibration, standing?.study?.id, standing?.study?.design]).toEqual(['in-calibration', study.id, 'crossed']);
  expect(['acceptable', 'conditional'], JSON.stringify(study.results)).toContain(study.verdict);
});

it('holds two hours of a weld monitor by the path of its messages, a running counter, and tokens that are over', async () => {
  const client = database.work.client;
  const plantId = (await client.plant.findFirstOrThrow()).id;
  const feed = await client.feed.findFirstOrThrow({ include: { state: true } });
  const bodies = simulated.counts.filter(({ machineCode, at }) => machineCode === seedMonitor.machineCode && at >= ENDS_AT - seedMonitor.hours * 3_600_000).reduce((sum, { good, rejected }) => sum + good + rejected, 0);
  expect(bodies).toBeGreaterThan(15_000);
  expect([feed.enabled, Number(feed.state?.readings), Number(feed.state?.refused), Number(feed.state?.late), feed.state?.owner]).toEqual([false, bodies, 0, 0, null]);
  const [chunks] = await client.$queryRaw<{ n: number; minutes: number }[]>`SELECT sum(n)::int AS n, count(DISTINCT minute)::int AS minutes FROM body_chunk WHERE plant_id = ${plantId}`;
  expect(chunks?.n, 'every body is in a chunk').toBe(bodies);
  expect(await client.feedJournal.count()).toBeLessThanOrEqual(1);
  const stream = await client.stream.findFirstOrThrow({ where: { characteristic: { code: seedMonitor.characteristic.code } } });
  const subgroups = await client.subgroup.findMany({ where: { plantId, streamId: stream.id }, orderBy: { takenAt: 'asc' }, select: { limitsId: true } });
  expect(subgroups.length).toBeGreaterThan(60);
  expect(subgroups.filter(({ limitsId }) => limitsId === null).length, 'the first hour is the baseline').toBeLessThan(subgroups.length * 0.6);
  expect(subgroups.at(-1)?.limitsId).not.toBeNull();
  const { checkFaults, auditFaults } = await verifyRecords(database.work.read, plantId);
  expect([checkFaults, auditFaults]).toEqual([[], []]);
  const counter = (await listCounterRows(database.work.read, plantId, NOW)).find(({ machine }) => machine === seedMonitor.counterMachineCode);
  expect(counter?.readings).toBeGreaterThan(20);
  expect(counter?.gaps).toBe(0);
  expect((await listFeedTokenViews(database.work.read, plantId, NOW)).map(({ state }) => state).sort()).toEqual(['expired', 'revoked']);
});

it('reads the code of each incident as it was printed, and keeps holds whose sums are the plant’s own counts', async () => {
  const { plant_id: plantId } = (await database.work.client.$queryRaw<{ plant_id: number }[]>`SELECT id AS plant_id FROM plant`)[0] ?? { plant_id: 0 };
  for (const incident of await database.work.client.incident.findMany()) {
    const { meanings } = await decodeForPlant(database.work.read, plantId, { code: incident.canCode, receivedAt: incident.receivedAt.toISOString() });
    // On a line of two halves a code without the half does not fit: it is asked for, not guessed.
    if (incident.laneId !== null || !incident.canCode.startsWith('L1')) expect(meanings.map(({ from, until, laneId }) => [from, until, laneId]), incident.canCode).toContainEqual([incident.madeAt.toISOString(), incident.madeUntil?.toISOString(), incident.laneId]);
  }
  const { rows } = await listHoldRows(database.work.read, plantId, { take: 50, skip: 0 });
  expect(rows.map(({ state, disposition }) => [state, disposition])).toEqual(expect.arrayContaining([['placed', null], ['under-examination', null], ['decided', 'released'], ['decided', 'mixed']]));
  for (const row of rows) {
    const hold = await holdView(database.work.read, plantId, row.id);
    expect(hold.suspectCans, `hold ${row.id}`).toBeGreaterThan(1000);
    expect(hold.arithmetic.counted[0]?.uncoveredMinutes, `hold ${row.id}`).toBeLessThan(hold.arithmetic.minutes);
    expect(hold.pallets, `hold ${row.id}`).toBeGreaterThan(10);
    expect(hold.steps.every(({ at }) => Date.parse(at) <= ENDS_AT), `hold ${row.id}`).toBe(true);
  }
});

it('signals each injected fault after it began and before the complaint that it caused', async () => {
  const signals = await signalRows();
  expect(simulated.faults.length).toBeGreaterThanOrEqual(6);
  for (const fault of simulated.faults) {
    const here = signals.filter((signal) => signal.machine === fault.machineCode && fault.characteristicCodes.includes(signal.characteristic)
      && (!fault.unitCodes || fault.unitCodes.includes(signal.unit ?? '')) && (!fault.laneCode || fault.laneCode === signal.lane)
      && signal.fired_at.getTime() >= fault.beginsAt && signal.fired_at.getTime() <= (fault.endsAt ?? ENDS_AT));
    expect(here.length, `${fault.code} ${fault.title}`).toBeGreaterThan(0);
    const complaint = seedIncidents.find((incident) => incident.code === fault.complaintIncident);
    if (complaint) expect(Math.min(...here.map((signal) => signal.fired_at.getTime())), fault.code).toBeLessThan(calendar.at(complaint.receivedAt.day, complaint.receivedAt.hour));
    // What goes on today is open; what was repaired is closed.
    if (fault.endsAt === null) expect(here.some((signal) => signal.state === 'open'), fault.code).toBe(true);
    else expect(here.every((signal) => signal.state === 'closed'), fault.code).toBe(true);
  }
});

it('alarms on undisturbed streams about as often as independent normal readings do against limits of as long a baseline', async () => {
  const rows = await database.work.client.$queryRaw<{ machine: string; unit: string | null; lane: string | null; characteristic: string; kind: ChartKind; rules: RuleName[]; judged: number; baseline: number; n: number; fired: number }[]>`
    SELECT m.code AS machine, u.code AS unit, l.code AS lane, c.code AS characteristic, s.chart_kind AS kind, s.rules,
      count(*) FILTER (WHERE g.limits_id IS NOT NULL)::int AS judged, count(*) FILTER (WHERE g.limits_id IS NULL)::int AS baseline, max(g.n)::int AS n,
      count(*) FILTER (WHERE EXISTS (SELECT 1 FROM signal_point p WHERE p.plant_id = g.plant_id AND p.stream_id = g.stream_id AND p.taken_at = g.taken_at AND p.sequence = g.sequence AND p.chart = 'mean'))::int AS fired
    FROM subgroup g JOIN stream s ON s.plant_id = g.plant_id AND s.id = g.stream_id JOIN machine m ON m.plant_id = g.plant_id AND m.id = s.machine_id
    JOIN characteristic c ON c.plant_id = g.plant_id AND c.id = s.characteristic_id LEFT JOIN unit u ON u.plant_id = g.plant_id AND u.id = s.unit_id LEFT JOIN lane l ON l.plant_id = g.plant_id AND l.id = s.lane_id
    GROUP BY 1, 2, 3, 4, 5, 6`;
  // Streams of a machine that a fault touched are left out whole, and so are rounded ratings, which are not normal.
  const quiet = rows.filter((row) => row.characteristic !== 'tightness' && !simulated.faults.some((fault) => fault.machineCode === row.machine && (fault.characteristicCodes.includes(row.characteristic) || fault.derivedCodes.includes(row.characteristic))));
  for (const rulesUsed of [4, 1]) {
    const group = quiet.filter((row) => row.rules.length === rulesUsed);
    expect(group.length, `streams with ${rulesUsed} rules`).toBeGreaterThan(5);
    const seen = group.reduce((sum, row) => sum + row.fired, 0) / group.reduce((sum, row) => sum + row.judged, 0);
    const expected = ideal(group);
    expect(seen / expected, `${rulesUsed} rules: ${seen.toFixed(5)} seen, ${expected.toFixed(5)} expected`).toBeGreaterThan(0.6);
    expect(seen / expected, `${rulesUsed} rules: ${seen.toFixed(5)} seen, ${expected.toFixed(5)} expected`).toBeLessThan(1.6);
  }
});

/** The share of points that fire when every reading is an independent normal one: the same streams, judged by the same library. */
function ideal(group: readonly { kind: ChartKind; rules: RuleName[]; judged: number; baseline: number; n: number }[]): number {
  const random = createRandom(71, 'ideal');
  let points = 0;
  let fired = 0;
  for (let round = 0; round < 6; round += 1) {
    for (const row of group) {
      const size = row.kind === 'i-mr' ? 1 : row.n;
      const subgroup = () => subgroupStatistics(Array.from({ length: size }, () => random.normal()));
      const limits = baselineLimits(row.kind, Array.from({ length: row.baseline }, subgroup));
      const series = Array.from({ length: row.judged }, subgroup).map((statistics) => ({ n: size, mean: statistics.mean, spread: row.kind === 'xbar-r' ? statistics.range : row.kind === 'xbar-s' ? statistics.sd : null, limits }));
      const verdicts = judgeSeries(series, row.rules);
      points += verdicts.length;
      fired += verdicts.filter((verdict) => verdict.firings.some((firing) => firing.chart === 'mean')).length;
    }
  }
  return fired / points;
}

it('takes its incidents through their steps, with comparisons that show what each cure did', async () => {
  const client = database.work.client;
  const incidents = await client.incident.findMany({ orderBy: { id: 'asc' } });
  expect(incidents.map(({ state }) => state)).toEqual([...Array.from({ length: 10 }, () => 'closed'), 'contained', 'open']);
  for (const { state, verificationId, closedWithout, causeCategory, id } of incidents) {
    if (state === 'closed') expect([verificationId !== null, closedWithout !== '', causeCategory !== null], `incident ${id}`).toEqual([verificationId !== null, verificationId === null, true]);
  }
  expect(incidents.filter(({ dueAt, state }) => state !== 'closed' && dueAt !== null && dueAt.getTime() < ENDS_AT).map(({ state }) => state)).toEqual(['contained']);
  const kept = await client.incidentVerification.findMany({ orderBy: { id: 'asc' } });
  expect(kept).toHaveLength(6);
  for (const { id, asked, answer } of kept) {
    const { expected } = verificationAsked.parse(asked);
    const { welch, cautions, before, after } = verificationAnswer.parse(answer);
    // Each fault is over: the interval lies on the side that the cure was to bring about.
    expect(welch === null ? 0 : expected === 'higher' ? welch.low : -welch.high, `comparison ${id}: ${before.n} before, ${after.n} after`).toBeGreaterThan(0);
    expect(cautions).not.toContain('other-way');
    expect(after.judged, `comparison ${id}`).toBe(after.checks);
  }
});

it('ranks the true origin of each complaint that has one first, and the true machine in every case', async () => {
  const rows = await database.work.client.incident.findMany();
  const judged = seedIncidents.flatMap(({ faultCode, description }) => {
    const [fault, row] = [faultTruths.find(({ code }) => code === faultCode), rows.find((candidate) => candidate.description === description)];
    return fault && row ? [{ fault, row }] : [];
  });
  expect(judged.length).toBeGreaterThanOrEqual(8);
  for (const { fault, row } of judged) {
    const { origins } = await traceIncident(database.work.read, row.plantId, row.id, 10, NOW);
    const [first] = origins;
    expect([first?.machine.code, first?.unit?.code ?? null, first?.lane?.code ?? null], `${fault.code} ${fault.title}`).toEqual([fault.machineCode, fault.unitCodes?.[0] ?? null, fault.laneCode ?? null]);
    expect(first?.findings.some(({ kind }) => kind === 'shifted' || kind === 'periodic'), fault.code).toBe(true);
  }
});

it('leads from the first signal of a fault to where it began, without a complaint', async () => {
  const signals = await database.work.client.$queryRaw<{ id: number; plantId: number; machine: string; unit: string | null; lane: string | null; characteristic: string; firedAt: Date; firstAt: Date }[]>`
    SELECT g.id, g.plant_id AS "plantId", m.code AS machine, u.code AS unit, l.code AS lane, c.code AS characteristic, g.fired_at AS "firedAt", g.first_at AS "firstAt" FROM signal g
    JOIN stream s ON s.plant_id = g.plant_id AND s.id = g.stream_id JOIN machine m ON m.plant_id = g.plant_id AND m.id = s.machine_id JOIN characteristic c ON c.plant_id = g.plant_id AND c.id = s.characteristic_id
    LEFT JOIN unit u ON u.plant_id = g.plant_id AND u.id = s.unit_id LEFT JOIN lane l ON l.plant_id = g.plant_id AND l.id = s.lane_id WHERE g.chart = 'mean' AND g.firings > 0 ORDER BY g.fired_at`;
  const places: number[] = [];
  for (const fault of simulated.faults) {
    const first = signals.find((signal) => signal.machine === fault.machineCode && fault.characteristicCodes.includes(signal.characteristic) && (!fault.unitCodes || fault.unitCodes.includes(signal.unit ?? ''))
      && (!fault.laneCode || fault.laneCode === signal.lane) && signal.firstAt.getTime() >= fault.beginsAt);
    const { origins } = await traceSignal(database.work.read, first?.plantId ?? 0, first?.id ?? 0, { take: 5 }, NOW);
    expect(origins[0]?.machine.code, fault.code).toBe(fault.machineCode);
    places.push(origins.findIndex(({ machine, unit, lane }) => machine.code === fault.machineCode && (unit?.code ?? null) === (fault.unitCodes?.[0] ?? null) && (lane?.code ?? null) === (fault.laneCode ?? null)));
  }
  // The first signal of a part that wears comes while it has hardly moved: its unit may then be second to the whole machine.
  expect(places.every((place) => place === 0 || place === 1), places.join()).toBe(true);
  expect(places.filter((place) => place === 0).length, places.join()).toBeGreaterThanOrEqual(9);
});
