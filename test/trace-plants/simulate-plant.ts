import type { EpochMs } from '#canmaking/units';
import type { Evidence } from '#tracing/evidence';
import { complain, complainedCans } from './complain.js';
import { type Counting, countersOf } from './counters.js';
import { diceOf } from './dice.js';
import { drawFault, type Fault } from './draw-fault.js';
import { type Flow, runFlow } from './flow.js';
import { drawLayout, type Layout } from './layout.js';
import { levelsOf } from './levels.js';
import { drawHappenings } from './line-events.js';
import { stateLine, type Store } from './line-map.js';
import { passes } from './passing.js';
import { drawPlans } from './plans.js';
import { takeChecks } from './sheet-of-checks.js';
import { drawStandstill } from './standstill.js';
import { signalsOf } from './zone-rules.js';

const MINUTE = 60_000;
const HOUR = 60 * MINUTE;
const DAY = 24 * HOUR;

export type TrueWindow = { readonly stepId: number; readonly from: EpochMs; readonly until: EpochMs };
export type Truth = {
  readonly stepId: number;
  readonly machineId: number;
  readonly unitId: number | null;
  readonly laneId: number | null;
  readonly pattern: 'all' | 'one' | 'periodic' | 'lot';
  /** Log-book entries with which the faulty lots of the complained cans came on; none where it is no lot, or nobody wrote it down. */
  readonly lotEventIds: readonly number[];
  /** True moments of the complained cans at each step, first and last. */
  readonly windows: readonly TrueWindow[];
  /** One of the complained cans, by true moments. */
  readonly oneCan: { readonly codedAt: EpochMs; readonly at: readonly TrueWindow[] };
  /** A slitter lane that is long shows at the body maker and lies in the slitter: naming that machine, and its lane if a unit is named, is right too. */
  readonly alsoRight: readonly { readonly stepId: number; readonly machineId: number; readonly unitId: number | null }[];
  readonly fault: Fault;
  readonly counting: Counting;
  readonly named: 'right' | 'neighbour' | 'leaker';
  /** What of the stated facts the plant does not keep to. */
  readonly beyond: readonly string[];
};
export type Plant = { readonly evidence: Evidence; readonly truth: Truth };
/** The plant with what goes on inside, for checks of the simulator itself. */
export type OpenPlant = Plant & { readonly layout: Layout; readonly flow: Flow; readonly recordsFrom: EpochMs };

/**
 * One invented plant with one fault, its records and a complaint. Same seed, same plant.
 * @returns null where the line stood whenever the fault was on: nobody complains then
 * @throws RangeError where the seed is no whole number
 */
export function simulatePlant(seed: number): Plant | null {
  const plant = openPlant(seed);
  return plant === null ? null : { evidence: plant.evidence, truth: plant.truth };
}

export function openPlant(seed: number): OpenPlant | null {
  const dice = diceOf(seed, 'plant');
  const layout = drawLayout(seed);
  const recordsFrom = Date.UTC(2025, 0, 6) + dice.whole(0, 400) * DAY + dice.whole(0, 23) * HOUR;
  const around = recordsFrom + dice.between(3, 5) * DAY;
  const now = Math.ceil((around + dice.between(1, 3) * DAY) / HOUR) * HOUR + 6 * HOUR;
  const flowFrom = recordsFrom - 8 * HOUR;
  const standstill = drawStandstill(seed, layout, flowFrom, now);
  const flow = runFlow(seed, layout, standstill, flowFrom, now);
  const fault = drawFault(seed, layout, around, recordsFrom);
  const cans = complainedCans(seed, layout, flow, fault, around);
  if (cans === null) return null;

  const clocks = drawClocks(seed);
  const happenings = drawHappenings(seed, layout, standstill, fault, recordsFrom, now);
  const level = levelsOf(seed, layout, flow, fault, happenings);
  const plans = drawPlans(seed, layout, fault);
  const { streams, checks } = takeChecks(seed, layout, flow, plans, fault, level, { from: recordsFrom, until: now }, clocks.written);
  const { counting, apartSeconds, counts } = countersOf(seed, flow, recordsFrom, now);
  const stated = stateLine(seed, layout, flow, clocks.clockMinutes, recordsFrom, now);
  const { complaint, named, misleadingMark } = complain(seed, layout, fault, cans, clocks.printerOffMs);

  const windowsOf = (first: EpochMs, last: EpochMs) => trueWindows(layout, flow, fault.stepId, stated.store, first, last);
  const one = dice.whole(0, cans.atFault.length - 1);
  const evidence: Evidence = {
    line: stated.line, complaint, counts, streams, checks, now, signals: signalsOf(streams),
    plans: plans.map(({ id, machineId, name, everyMinutes }) => ({
      id, machineId, name,
      history: { states: [{ at: 0, everyMinutes, everyCans: null, openedBy: [], longStopMinutes: null }], marks: checks.filter(({ planId }) => planId === id).map(({ at }) => ({ at, skip: false })), productSpans: null, counts: null, events: [] },
    })),
    events: happenings.map((happening, i) => ({ ...happening, id: i + 1, at: happening.at + clocks.logOffMs, until: happening.until === null ? null : happening.until + clocks.logOffMs })),
  };
  const lotEventIds = lotsOf(fault, cans.atFault).flatMap((lotAt) => happenings.flatMap(({ machineId, at }, i) => (machineId === fault.machineId && at === lotAt ? [i + 1] : [])));
  const slitterMachine = layout.slitter?.machines[0];
  const truth: Truth = {
    stepId: fault.stepId, machineId: fault.machineId, unitId: fault.unitId, laneId: fault.laneId, pattern: fault.pattern, lotEventIds, fault, counting, named,
    windows: windowsOf(cans.atFault[0] as EpochMs, cans.atFault.at(-1) as EpochMs),
    oneCan: { codedAt: cans.coded[one] as EpochMs, at: windowsOf(cans.atFault[one] as EpochMs, cans.atFault[one] as EpochMs) },
    alsoRight: fault.everyNth > 1 && layout.slitter && slitterMachine ? [{ stepId: layout.slitter.id, machineId: slitterMachine.id, unitId: slitterMachine.units[fault.machineId % slitterMachine.units.length]?.id ?? null }] : [],
    beyond: [
      ...stated.beyond, ...(clocks.beyond ? ['clock beyond the stated minutes'] : []), ...(apartSeconds > 0 ? ['counters of the machines seconds apart'] : []),
      ...(stated.sparse ? ['stretches only between steps that count'] : []), ...(misleadingMark ? ['mark of a head or half that has nothing to do with it'] : []),
      ...(layout.stations.some(({ pulledShare }) => pulledShare > 0) ? ['cans taken away uncounted'] : []), ...(clocks.lateShare > 0 ? ['checks written with a late time'] : []),
      ...(fault.lots.length > 0 && lotEventIds.length === 0 ? ['faulty lot not written down'] : []), ...(fault.lots.length > 1 ? ['two faulty lots of one delivery'] : []),
      ...(fault.unmeasured ? ['not measured'] : []), ...(fault.from < recordsFrom ? ['fault older than the records'] : []),
    ],
  };
  return { evidence, truth, layout, flow, recordsFrom };
}

/** The faulty lots that the cans were made of. */
const lotsOf = ({ lots }: Fault, cans: readonly EpochMs[]): EpochMs[] => lots.filter((at, i) => cans.some((can) => can >= at && can < (lots[i + 1] ?? Number.POSITIVE_INFINITY)));

/** Counters keep true time; printer and log book are off by at most 0.85 of what is stated, in 8 % of the plants by up to 1.6 of it. */
function drawClocks(seed: number) {
  const dice = diceOf(seed, 'clocks');
  const clockMinutes = dice.one([1, 2, 2, 3, 5]);
  const beyond = dice.chance(0.08);
  const off = (far: boolean) => (far ? dice.one([-1, 1]) * dice.between(1.05, 1.6) : dice.between(-0.85, 0.85)) * clockMinutes * MINUTE;
  const [printerOffMs, logOffMs] = [off(beyond), off(beyond && dice.chance(0.5))];
  const lateShare = dice.chance(0.5) ? 0.03 : 0;
  const written = (at: EpochMs) => Math.round((at + logOffMs + (dice.chance(lateShare) ? dice.between(5, 25) * MINUTE : 0)) / MINUTE) * MINUTE;
  return { clockMinutes, printerOffMs, logOffMs, lateShare, beyond, written };
}

function trueWindows(layout: Layout, flow: Flow, stepId: number, store: Store, first: EpochMs, last: EpochMs): TrueWindow[] {
  return layout.steps.flatMap((step): TrueWindow[] => {
    if (step.id === layout.slitter?.id) {
      const bodyMaker = layout.stations[0]?.step.id ?? step.id;
      const [from, until] = [passes(layout, flow, stepId, first, bodyMaker), passes(layout, flow, stepId, last, bodyMaker)];
      if (from === null || until === null) return [];
      // Stacks wait their turn for hours; how long goes up and down with the store.
      const slit = Array.from({ length: 50 }, (_, i) => from + ((until - from) * i) / 49).map((at) => at - (store.leastHours + (store.mostHours - store.leastHours) * (0.5 + 0.5 * Math.sin(at / (9 * HOUR)))) * HOUR);
      return [{ stepId: step.id, from: Math.min(...slit), until: Math.max(...slit) }];
    }
    const [from, until] = [passes(layout, flow, stepId, first, step.id), passes(layout, flow, stepId, last, step.id)];
    return from === null || until === null ? [] : [{ stepId: step.id, from, until }];
  });
}
