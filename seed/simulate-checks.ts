import { runningHours, shiftHours, type Calendar } from './calendar.js';
import { downtimeOf, type Span } from './downtime.js';
import { findMachine } from './plant.js';
import type { SeedCheckPlan, SeedLine } from './plant-types.js';
import { createRandom, type Random } from './random.js';
import { recheckedJam } from './simulate-events.js';
import { simulateReadings, type TimedFault } from './simulate-readings.js';
import type { MissedCheck, SimulatedCheck, SimulatedLineEvent } from './simulated.js';

const minute = 60_000;
const shareMissed = 0.015;
const shareLate = 0.01;
const shareTornHook = 0.003;

export type PlanContext = { seed: number; calendar: Calendar; line: SeedLine; events: readonly SimulatedLineEvent[]; faults: readonly TimedFault[] };

/** All checks of one plan, made and missed. Each check has a generator of its own: no check changes another. */
export function simulateChecks(context: PlanContext, plan: SeedCheckPlan): { checks: SimulatedCheck[]; missed: MissedCheck[] } {
  const { seed, calendar, events } = context;
  const checks: SimulatedCheck[] = [];
  const missed: MissedCheck[] = [];
  const downtime = downtimeOf(events);
  for (let day = calendar.firstDay; day < calendar.firstDay + calendar.days; day += 1) {
    if (!calendar.isRunningDay(day)) continue;
    const lastPick = calendar.at(day, runningHours) - 30 * minute;
    let number = 0;
    for (let after = plan.firstAfterMinutes; calendar.at(day) + after * minute <= lastPick; after += plan.everyMinutes) {
      number += 1;
      const dueAt = calendar.at(day) + after * minute;
      const key = `${plan.code}-d${String(day).padStart(2, '0')}-${String(number).padStart(2, '0')}`;
      const random = createRandom(seed, `check/${key}`);
      if (dueAt > calendar.endsAt) continue;
      if (random.chance(shareMissed)) {
        missed.push({ planCode: plan.code, dueAt, reason: random.pick([null, null, 'Nobody free at the bench', 'Line stood, then forgotten']) });
        continue;
      }
      const takenAt = afterStop(dueAt + random.whole(9 * 60) * 1000, downtime);
      if (takenAt > lastPick) missed.push({ planCode: plan.code, dueAt, reason: 'Line stood until the end of the shift' });
      else if (takenAt <= calendar.endsAt - 15 * minute) checks.push(check(context, plan, key, random, takenAt, (takenAt - calendar.at(day)) / 3_600_000, day));
    }
    if (plan.code.endsWith('-teardown')) checks.push(...afterJams(context, plan, day));
  }
  return { checks: checks.sort((a, b) => a.takenAt - b.takenAt), missed };
}

function afterJams(context: PlanContext, plan: SeedCheckPlan, day: number): SimulatedCheck[] {
  const { seed, calendar, events } = context;
  const jams = events.filter(({ text, at, machineCode }) =>
    text === recheckedJam && machineCode === plan.machineCode && at >= calendar.at(day) && at < calendar.at(day, runningHours));
  return jams.flatMap((jam, index) => {
    const key = `${plan.code}-d${String(day).padStart(2, '0')}-jam${index + 1}`;
    const random = createRandom(seed, `check/${key}`);
    const takenAt = (jam.until ?? jam.at) + (3 + random.whole(9)) * minute + random.whole(60) * 1000;
    if (takenAt > calendar.at(day, runningHours) - 30 * minute || takenAt > calendar.endsAt - 15 * minute) return [];
    return [{ ...check(context, plan, key, random, takenAt, (takenAt - calendar.at(day)) / 3_600_000, day), note: 'Extra teardown after the jam' }];
  });
}

function check(
  { seed, calendar, line, faults }: PlanContext, plan: SeedCheckPlan, key: string, random: Random, takenAt: number, hour: number, day: number,
): SimulatedCheck {
  const cans = cansOf(plan, line);
  const late = random.chance(shareLate);
  const delay = late ? random.between(120, 330) : random.between(3, 13);
  const readings: SimulatedCheck['readings'] = {};
  for (const code of plan.characteristics) readings[code] = simulateReadings(random, { seed, plan, takenAt, cans }, code, faults);
  const torn = tearHooks(random, readings);
  const note = late ? 'Entered late from the paper sheet' : torn ? 'A hook tore at the stripping, not measured' : undefined;
  return {
    key, planCode: plan.code, machineCode: plan.machineCode, productCode: plan.productCode, takenAt,
    enteredAt: Math.min(calendar.endsAt, takenAt + Math.round(delay * 60) * 1000),
    inspector: inspectorOf(plan, line, day, hour), gaugeByCharacteristic: plan.gaugeByCharacteristic,
    cans, positions: plan.positions, readings, ...(note !== undefined && { note }),
  };
}

/** Unit by unit, lane by lane; a plan without either numbers the cans of the machine. */
function cansOf(plan: SeedCheckPlan, line: SeedLine): SimulatedCheck['cans'] {
  const places: { unitCode: string | null; laneCode: string | null }[] = plan.perUnit
    ? findMachine(plan.machineCode).units.map(({ code }) => ({ unitCode: code, laneCode: null }))
    : plan.perLane ? line.lanes.map(({ code }) => ({ unitCode: null, laneCode: code })) : [{ unitCode: null, laneCode: null }];
  return places.flatMap((place) => Array.from({ length: plan.cans }, () => place)).map((place, index) => ({ number: index + 1, ...place }));
}

// A torn hook gives neither hook reading at that point; the others stay.
function tearHooks(random: Random, readings: SimulatedCheck['readings']): boolean {
  const body = readings['body-hook'];
  const cover = readings['cover-hook'];
  if (body === undefined || cover === undefined) return false;
  let torn = false;
  for (let index = 0; index < body.length; index += 1) {
    if (!random.chance(shareTornHook)) continue;
    body[index] = null;
    cover[index] = null;
    torn = true;
  }
  return torn;
}

function inspectorOf(plan: SeedCheckPlan, line: SeedLine, day: number, hour: number): string {
  const early = hour < shiftHours;
  const technicians = Math.floor(day / 7) % 2 === 0 ? ['sedge', 'okoro'] : ['okoro', 'sedge'];
  if (plan.code.endsWith('-weld') || plan.code.endsWith('-flange')) return line.code === 'L3' ? 'asher' : early ? 'brandt' : 'lund';
  return line.code === 'L3' ? 'pellow' : (early ? technicians[0] : technicians[1]) ?? 'sedge';
}

// Nobody picks cans from a standing line: a check due in a stop follows it.
function afterStop(at: number, downtime: readonly Span[]): number {
  let moved = at;
  for (const { from, until } of downtime) if (moved >= from && moved < until + 2 * minute) moved = until + 4 * minute;
  return moved;
}
