import type { StepKind } from '#canmaking/line/steps';
import { runningHours, type Calendar } from './calendar.js';
import { downtimeOf, upTime } from './downtime.js';
import type { SeedLine } from './plant-types.js';
import { createRandom } from './random.js';
import type { TimedFault } from './simulate-readings.js';
import type { SimulatedCount, SimulatedLineEvent } from './simulated.js';

const bucketMinutes = 5;
const bucketMs = bucketMinutes * 60_000;

/** Spans of five minutes in which the line ran, with minutes of running since the records began, at both ends. */
type Bucket = { at: number; upMinutes: number; runningBefore: number };
/** Cans through a step: cumulative good at the end of each bucket. */
type Flow = { running: number[]; good: number[] };

/**
 * Counts of body makers, flanger, seamer and tester. A can meets each later step after a lag of running time that swings
 * between an empty and a full table, so cumulative counts of two steps match with that lag, stops included.
 */
export function simulateCounts(
  seed: number, calendar: Calendar, line: SeedLine, events: readonly SimulatedLineEvent[], faults: readonly TimedFault[],
): SimulatedCount[] {
  const buckets = runningBuckets(calendar, events);
  const counts: SimulatedCount[] = [];
  const random = createRandom(seed, `counts/${line.code}`);
  const makers = machinesOf(line, 'body-maker');
  const welded = buckets.map(({ at, upMinutes }) => {
    let total = 0;
    for (const machineCode of makers) {
      const good = Math.max(0, Math.round((line.cansPerMinute / makers.length) * upMinutes * (1 + 0.01 * random.normal())));
      counts.push({ machineCode, at, minutes: bucketMinutes, good, rejected: random.poisson(good * 0.0012) });
      total += good;
    }
    return total;
  });
  let flow = cumulative(buckets, welded);
  for (const { from, to, shortestSeconds, longestSeconds } of line.stretches) {
    const [machineCode] = machinesOf(line, to);
    if (machineCode === undefined || from === 'slitter' || to === 'palletizer') continue;
    const middle = (shortestSeconds + longestSeconds) / 120;
    const swing = (longestSeconds - shortestSeconds) / 120;
    // Tables fill and empty over some hours; each stretch in its own rhythm.
    const periodMinutes = 230 + 90 * random.uniform();
    let before = 0;
    const good = buckets.map(({ at, upMinutes, runningBefore }) => {
      const running = runningBefore + upMinutes;
      const lag = middle + 0.8 * swing * Math.sin((2 * Math.PI * running) / periodMinutes);
      const through = Math.max(before, Math.floor(goodAt(flow, running - lag)));
      const came = through - before;
      before = through;
      const rejected = Math.min(came, random.poisson((came * rejectPpm(to, at, line, faults)) / 1e6));
      counts.push({ machineCode, at, minutes: bucketMinutes, good: came - rejected, rejected });
      return came - rejected;
    });
    flow = cumulative(buckets, good);
  }
  return counts.sort((a, b) => a.at - b.at);
}

function runningBuckets(calendar: Calendar, events: readonly SimulatedLineEvent[]): Bucket[] {
  const downtime = downtimeOf(events);
  const buckets: Bucket[] = [];
  let runningBefore = 0;
  for (let day = calendar.firstDay; day < calendar.firstDay + calendar.days; day += 1) {
    if (!calendar.isRunningDay(day)) continue;
    const dayEnd = Math.min(calendar.at(day, runningHours), calendar.endsAt);
    const today = downtime.filter(({ from, until }) => until > calendar.at(day) && from < dayEnd);
    for (let at = calendar.at(day); at + bucketMs <= dayEnd; at += bucketMs) {
      const upMinutes = upTime({ from: at, until: at + bucketMs }, today) / 60_000;
      if (upMinutes <= 0) continue;
      buckets.push({ at, upMinutes, runningBefore });
      runningBefore += upMinutes;
    }
  }
  return buckets;
}

function cumulative(buckets: readonly Bucket[], good: readonly number[]): Flow {
  const flow: Flow = { running: [0], good: [0] };
  let sum = 0;
  buckets.forEach(({ runningBefore, upMinutes }, index) => {
    sum += good[index] ?? 0;
    flow.running.push(runningBefore + upMinutes);
    flow.good.push(sum);
  });
  return flow;
}

// Cumulative cans at a moment of running time, straight between bucket ends.
function goodAt({ running, good }: Flow, moment: number): number {
  let low = 0;
  let high = running.length - 1;
  if (moment <= 0) return 0;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if ((running[middle] ?? 0) <= moment) low = middle;
    else high = middle;
  }
  const [x0 = 0, x1 = x0] = [running[low], running[high]];
  const [y0 = 0, y1 = y0] = [good[low], good[high]];
  return x1 > x0 ? y0 + ((y1 - y0) * Math.min(1, (moment - x0) / (x1 - x0))) : y0;
}

// Ordinary rejects, invented on a scale that is common practice, no source; a fault adds to the tester's.
function rejectPpm(kind: StepKind, at: number, line: SeedLine, faults: readonly TimedFault[]): number {
  if (kind !== 'tester') return kind === 'flanger' ? 60 : 40;
  return faults.reduce((sum, { truth, from, until }) => sum + (truth.lineCode === line.code && at >= from && at < until ? truth.testerPpm : 0), 110);
}

function machinesOf(line: SeedLine, kind: StepKind): string[] {
  return line.steps.filter((step) => step.kind === kind).flatMap(({ machines }) => machines.map(({ code }) => code));
}
