import fc from 'fast-check';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { readBoard } from '../../apps/api/src/flows/now-board.store.js';
import { listDuePlans } from '../../apps/api/src/production/due-plans.store.js';
import { upsertCounts } from '../../apps/api/src/production/production.store.js';
import { freshDatabase, type TestDatabase } from '../db/database.js';
import { makePlant, type TestPlant } from '../factories/plant.js';

// The Now board sums running time from an index of the ends of counts, and looks the newest check of a machine up once for
// several of its parts. Here both are worked out again by going over all rows.
const MINUTE = 60_000;
const DAY = 1440 * MINUTE;
const start = Date.UTC(2026, 2, 1);
let database: TestDatabase;
let plant: TestPlant;
let plans: { id: number; machineId: number; productId: number }[];
let other: number;
beforeAll(async () => {
  database = await freshDatabase(); plant = await makePlant(database.work);
  const db = database.work.client;
  const { id: _id, code: _code, ...product } = await db.product.findUniqueOrThrow({ where: { plantId_id: { plantId: plant.plantId, id: plant.productId } } });
  other = (await db.product.create({ data: { ...product, code: 'T99' } })).id;
  await db.checkPlan.deleteMany({ where: { plantId: plant.plantId } });
  const plan = (machineId: number, productId: number, name: string) => db.checkPlan.create({ data: { plantId: plant.plantId, machineId, productId, name, cans: 1, positions: ['middle'], characteristics: [], everyMinutes: 30, everyCans: 5000 } });
  plans = [await plan(plant.machines.bodyMaker, plant.productId, 'A'), await plan(plant.machines.bodyMaker, other, 'B'), await plan(plant.machines.bodyMaker2, plant.productId, 'C'), await plan(plant.machines.seamer, plant.productId, 'D')];
}, 120_000);
afterAll(() => database.close());

type Count = { kind: 'count'; machine: number; minute: number; minutes: number; good: number; rejected: number };
type Check = { kind: 'check'; machine: number; minute: number; plan: number | null; other: boolean; monitor: boolean; voided: boolean };
type Act = Count | Check | { kind: 'delete'; machine: number; minute: number };
// Two body makers are counted, the seamer never: its plan goes by the machine of the line that was counted last.
const machineAt = (index: number) => [plant.machines.bodyMaker, plant.machines.bodyMaker2, plant.machines.seamer][index] as number;
// Mostly within a day, so that checks lie inside of counted spans; and over more days than running time looks back.
const minute = fc.oneof({ weight: 3, arbitrary: fc.integer({ min: 0, max: 96 }).map((quarter) => quarter * 15) }, { weight: 2, arbitrary: fc.integer({ min: 0, max: 1440 }) }, fc.integer({ min: 0, max: 9 * 1440 }));
const look = fc.oneof(fc.integer({ min: 0, max: 1600 }), fc.integer({ min: 0, max: 10 * 1440 }));
const acts = fc.array(fc.oneof<fc.Arbitrary<Act>[]>(
  fc.record({ kind: fc.constant('count' as const), machine: fc.integer({ min: 0, max: 1 }), minute, minutes: fc.oneof(fc.constant(15), fc.double({ min: 0.1, max: 1440, noNaN: true })), good: fc.constantFrom(0, 0, 1, 400, 9000), rejected: fc.constantFrom(0, 3) }),
  fc.record({ kind: fc.constant('check' as const), machine: fc.integer({ min: 0, max: 2 }), minute, plan: fc.option(fc.integer({ min: 0, max: 3 }), { nil: null }), other: fc.boolean(), monitor: fc.boolean(), voided: fc.boolean() }),
  fc.record({ kind: fc.constant('delete' as const), machine: fc.integer({ min: 0, max: 1 }), minute }),
), { minLength: 8, maxLength: 30 });

let key = 0;
async function store(steps: readonly Act[]): Promise<void> {
  const { plantId } = plant;
  const db = database.work.client;
  await db.productionCount.deleteMany({ where: { plantId } });
  await db.check.deleteMany({ where: { plantId } });
  for (const step of steps) {
    const [machineId, at] = [machineAt(step.machine), new Date(start + step.minute * MINUTE)];
    if (step.kind === 'delete') await db.productionCount.deleteMany({ where: { plantId, machineId, at } });
    else if (step.kind === 'count') await database.work.run((tx) => upsertCounts(tx, plantId, [{ machineId, at: at.toISOString(), minutes: step.minutes, good: step.good, rejected: step.rejected }]));
    else {
      const plan = step.plan === null ? undefined : plans.filter((entry) => entry.machineId === machineId)[step.plan % 2];
      key += 1;
      await db.check.create({ data: { plantId, machineId, productId: plan?.productId ?? (step.other ? other : plant.productId), planId: plan?.id ?? null, takenAt: at, enteredBy: plant.users.technician, inspector: 'x', canNumbers: [1], canUnitIds: [0], canLaneIds: [0], positions: ['middle'], key: `running-${key}`, contentHash: 'none', source: step.monitor ? 'monitor' : 'entry', voidedAt: step.voided ? at : null } });
    }
  }
}

const sorted = <Row extends { at: number }>(rows: Row[]) => rows.sort((a, b) => b.at - a.at);

async function expected(now: number) {
  const { plantId } = plant;
  const db = database.work.client;
  const counts = sorted((await db.productionCount.findMany({ where: { plantId } })).map((row) => ({ ...row, at: row.at.getTime(), cans: row.good + row.rejected })).filter(({ cans }) => cans > 0));
  const checks = sorted((await db.check.findMany({ where: { plantId, voidedAt: null } })).map((row) => ({ ...row, at: row.takenAt.getTime() })));
  const begun = counts.filter(({ at }) => at <= now);
  const untilNow = checks.filter(({ at }) => at <= now);
  const newestOfLine = untilNow.filter(({ at }) => at === untilNow[0]?.at);
  return {
    plans: plans.map(({ id, machineId, productId }) => {
      const lastCheckAt = untilNow.find(({ planId }) => planId === id)?.at ?? null;
      const counted = begun.find((row) => row.machineId === machineId)?.machineId ?? begun[0]?.machineId;
      const ties = new Set(begun.filter(({ at }) => at === begun[0]?.at).map((row) => row.machineId));
      const ran = begun.filter((row) => row.machineId === counted && row.at > now - 7 * DAY).map(({ at, minutes, cans }) => ({ seconds: Math.max(0, Math.min(at + minutes * MINUTE, now) - Math.max(at, lastCheckAt ?? at)) / 1000, minutes, cans }));
      return {
        planId: id, lastCheckAt, runs: newestOfLine.length === 0 ? [true] : newestOfLine.map((check) => check.productId === productId),
        minutes: counted === undefined ? null : ran.reduce((sum, { seconds }) => sum + seconds / 60, 0), cans: counted === undefined ? null : ran.reduce((sum, { seconds, minutes, cans }) => sum + (seconds / (minutes * 60)) * cans, 0),
        // Two machines counted last at the same moment: which of them stands for a third is not said.
        open: counted !== undefined && counted !== machineId && ties.size > 1,
      };
    }),
    machines: [0, 1, 2].map((index) => ({ id: machineAt(index), lastCheckAt: checks.find((row) => row.machineId === machineAt(index) && row.source !== 'monitor')?.at ?? null })),
    lineCountEnd: begun.length === 0 ? null : Math.max(...[0, 1].flatMap((index) => { const newest = begun.find((row) => row.machineId === machineAt(index)); return newest ? [newest.at + newest.minutes * MINUTE] : []; })),
  };
}

it('is the sum of the counts since the last check, however late, corrected, deleted or out of order they came', async () => {
  await fc.assert(fc.asyncProperty(acts, fc.array(look, { minLength: 3, maxLength: 4 }), async (steps, looks) => {
    await store(steps);
    for (const moment of looks) {
      const now = start + moment * MINUTE;
      const [read, wanted, alone] = [await readBoard(database.work.read, plant.plantId, new Date(now)), await expected(now), await listDuePlans(database.work.read, plant.plantId, new Date(now))];
      expect(read.plans).toEqual(alone);
      for (const plan of wanted.plans) {
        const row = read.plans.find(({ planId }) => planId === plan.planId);
        expect(row?.lastCheckAt?.getTime() ?? null).toBe(plan.lastCheckAt);
        expect(plan.runs).toContain(row?.productRuns);
        if (plan.open) continue;
        if (plan.minutes === null || plan.cans === null) expect([row?.minutesRun, row?.cansRun]).toEqual([null, null]);
        else { expect(row?.minutesRun).toBeCloseTo(plan.minutes, 4); expect(row?.cansRun).toBeCloseTo(plan.cans, 2); }
      }
      for (const { id, lastCheckAt } of wanted.machines) expect(read.machines.find((row) => row.id === id)?.lastCheckAt?.getTime() ?? null).toBe(lastCheckAt);
      const end = read.machines[0]?.lineCountEnd?.getTime() ?? null;
      if (wanted.lineCountEnd === null) expect(end).toBeNull();
      else expect(Math.abs((end ?? 0) - wanted.lineCountEnd)).toBeLessThan(2);
    }
  }), { numRuns: 60 });
}, 240_000);
