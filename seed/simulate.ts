import { plantCalendar, type Calendar, type CalendarOptions } from './calendar.js';
import { lineOfMachine, seedPlant } from './plant.js';
import { simulateChecks } from './simulate-checks.js';
import { simulateCounts } from './simulate-counts.js';
import { faultEventCode, faultsWithin, simulateEvents } from './simulate-events.js';
import type { TimedFault } from './simulate-readings.js';
import type { SimulatedCheck, SimulatedCorrection, SimulatedFault, SimulatedLineEvent, SimulatedPlant } from './simulated.js';

const minute = 60_000;
const hour = 60 * minute;

export type SimulationOptions = CalendarOptions & { seed: number };

/** The seed for which README and specs state what the faults look like. */
export const defaultSeed = 20_417;

/**
 * Checks, log book, production counts and true faults of the invented plant. The same seed and days give the same
 * scenario, shifted as a whole to `endsAt`. Derived seam figures are left to whoever stores the readings.
 * @throws RangeError for a seed, end or number of days that cannot be used.
 */
export function simulatePlant({ seed, ...options }: SimulationOptions): SimulatedPlant {
  const calendar = plantCalendar(options);
  const timed: TimedFault[] = faultsWithin(calendar).map((truth) => ({
    truth, from: calendar.at(truth.begins.day, truth.begins.hour),
    until: truth.ends === null ? calendar.endsAt + 1 : calendar.at(truth.ends.day, truth.ends.hour),
  }));
  const plant: SimulatedPlant = {
    startsAt: calendar.startsAt, baselineEndsAt: calendar.baselineEndsAt, endsAt: calendar.endsAt,
    checks: [], corrections: [], missedChecks: [], lineEvents: [], counts: [], faults: [],
  };
  for (const line of seedPlant.lines) {
    const events = simulateEvents(seed, calendar, line);
    for (const event of events) plant.lineEvents.push(event);
    for (const plan of seedPlant.checkPlans) {
      if (lineOfMachine(plan.machineCode) !== line) continue;
      const { checks, missed } = simulateChecks({ seed, calendar, line, events, faults: timed }, plan);
      for (const check of checks) plant.checks.push(check);
      for (const miss of missed) plant.missedChecks.push(miss);
    }
    for (const count of simulateCounts(seed, calendar, line, events, timed)) plant.counts.push(count);
    for (const fault of timed) if (fault.truth.lineCode === line.code) plant.faults.push(describe(fault, calendar, events));
  }
  plant.corrections = slipDecimals(plant.checks, calendar);
  plant.checks.sort((a, b) => a.takenAt - b.takenAt);
  plant.faults.sort((a, b) => a.code.localeCompare(b.code));
  return plant;
}

function describe({ truth, from }: TimedFault, calendar: Calendar, events: readonly SimulatedLineEvent[]): SimulatedFault {
  const { code, title, lineCode, machineCode, unitCodes, laneCode, trueCause, complaintIncident } = truth;
  const own = new Set([faultEventCode(truth, 'begin'), faultEventCode(truth, 'end')]);
  return {
    code, title, lineCode, machineCode, ...(unitCodes && { unitCodes }), ...(laneCode && { laneCode }),
    characteristicCodes: truth.effects.map(({ characteristicCode }) => characteristicCode), derivedCodes: truth.derived,
    beginsAt: from, endsAt: truth.ends === null ? null : calendar.at(truth.ends.day, truth.ends.hour),
    trueCause, complaintIncident,
    trueEvents: events.filter((event) => own.has(event.code)).map((event) => event.code),
    innocentEvents: events.filter((event) => event.at >= from - 24 * hour && event.at <= from + 8 * hour && !own.has(event.code)).map((event) => event.code),
  };
}

// Two readings that somebody typed ten times too large, confirmed, and put right within the hour.
const slips = [
  { planCode: 'SM1-teardown', day: 60, characteristicCode: 'seam-length', canIndex: 2, positionIndex: 1, by: 'okoro' },
  { planCode: 'FL2-flange', day: 71, characteristicCode: 'flange-width', canIndex: 0, positionIndex: 2, by: 'sedge' },
];

function slipDecimals(checks: SimulatedCheck[], calendar: Calendar): SimulatedCorrection[] {
  return slips.flatMap(({ planCode, day, characteristicCode, canIndex, positionIndex, by }) => {
    const check = checks.find((candidate) => candidate.planCode === planCode && candidate.takenAt >= calendar.at(day));
    const readings = check?.readings[characteristicCode];
    const index = canIndex * (check?.positions.length ?? 0) + positionIndex;
    const to = readings?.[index];
    if (check === undefined || readings === undefined || to === undefined || to === null) return [];
    const from = Number((to * 10).toPrecision(6));
    readings[index] = from;
    return [{
      checkKey: check.key, characteristicCode, canIndex, positionIndex, from, to, by,
      at: Math.min(calendar.endsAt, check.enteredAt + 50 * minute), reason: `Decimal slipped: the sheet says ${to}`,
    }];
  });
}
