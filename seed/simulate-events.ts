import type { StepKind } from '#canmaking/line/steps';
import { runningHours, shiftHours, type Calendar } from './calendar.js';
import { faultTruths, type FaultTruth, type LineEventKind, type Moment } from './faults.js';
import type { SeedLine } from './plant-types.js';
import { createRandom, type Random } from './random.js';
import type { SimulatedLineEvent } from './simulated.js';

const minute = 60_000;
const washDownMinutes = 22;

type Draft = Omit<SimulatedLineEvent, 'code'> & { code?: string };

/** Code of a fault's own log-book entry. */
export function faultEventCode(fault: FaultTruth, which: 'begin' | 'end'): string {
  return `${fault.code}-${which}`;
}

/** Faults that begin inside a shorter scenario, after its baseline. */
export function faultsWithin(calendar: Calendar): FaultTruth[] {
  return faultTruths.filter((fault) => calendar.at(fault.begins.day, fault.begins.hour) >= calendar.baselineEndsAt);
}

/** The log book of a line: what happens on any day, and what the faults left in it, by time. */
export function simulateEvents(seed: number, calendar: Calendar, line: SeedLine): SimulatedLineEvent[] {
  const drafts: Draft[] = [];
  for (let day = calendar.firstDay; day < calendar.firstDay + calendar.days; day += 1) {
    if (calendar.isRunningDay(day)) drafts.push(...dayEvents(createRandom(seed, `events/${line.code}/${day}`), calendar, line, day));
  }
  drafts.push(...machineCycles(seed, calendar, line));
  for (const fault of faultsWithin(calendar)) if (fault.lineCode === line.code) drafts.push(...faultEvents(calendar, fault));
  return drafts
    .filter((draft) => draft.at <= calendar.endsAt)
    .sort((a, b) => a.at - b.at)
    .map((draft, index) => ({
      ...draft, code: draft.code ?? `${line.code}-E${String(index + 1).padStart(4, '0')}`,
      ...(draft.until !== undefined && { until: Math.min(draft.until, calendar.endsAt) }),
    }));
}

function dayEvents(random: Random, calendar: Calendar, line: SeedLine, day: number): Draft[] {
  const events: Draft[] = [
    { lineCode: line.code, machineCode: null, kind: 'shift-change', at: calendar.at(day), text: 'Early shift takes over', by: 'brandt' },
    { lineCode: line.code, machineCode: null, kind: 'shift-change', at: calendar.at(day, shiftHours), text: 'Late shift takes over', by: 'lund' },
  ];
  const washDown = calendar.at(day, runningHours) - washDownMinutes * minute;
  events.push({ lineCode: line.code, machineCode: null, kind: 'wash-down', at: washDown, until: washDown + washDownMinutes * minute, text: 'Line run empty, wash-down', by: 'lund' });
  for (let stops = random.poisson(2.2); stops > 0; stops -= 1) {
    const reason = random.pick(stopReasons);
    const hour = random.between(0.3, 15.2);
    const at = toMinute(calendar.at(day, hour));
    const minutes = Math.min(60, Math.max(2, Math.round(Math.exp(1.9 + 0.7 * random.normal()))));
    events.push({
      lineCode: line.code, machineCode: machineOf(random, line, reason.step), kind: 'stop', at, until: at + minutes * minute, text: reason.text, by: operatorAt(hour),
    });
  }
  if (random.chance(0.14)) {
    const hour = random.between(1, 14.5);
    const at = toMinute(calendar.at(day, hour));
    events.push({
      lineCode: line.code, machineCode: machineOf(random, line, 'seamer'), kind: 'stop', at, until: at + (5 + random.whole(15)) * minute,
      text: recheckedJam, by: operatorAt(hour),
    });
  }
  if (random.chance(0.45)) {
    const hour = random.between(0.5, 15);
    const setting = random.pick(settings);
    events.push({
      lineCode: line.code, machineCode: machineOf(random, line, setting.step), kind: 'setting', at: toMinute(calendar.at(day, hour)),
      text: setting.text, by: operatorAt(hour),
    });
  }
  return events;
}

/** After such a jam an extra teardown is on record; the jam of fault F05 has another text and none. */
export const recheckedJam = 'Jam at the infeed, cans cleared, extra teardown asked for';

const stopReasons: [{ step: StepKind; text: string }, ...{ step: StepKind; text: string }[]] = [
  { step: 'palletizer', text: 'No empty pallets' },
  { step: 'palletizer', text: 'Layer sheet feed empty' },
  { step: 'body-maker', text: 'Blank feed, double blank' },
  { step: 'body-maker', text: 'Weld monitor stop, one body taken out' },
  { step: 'tester', text: 'Reject bin full' },
  { step: 'flanger', text: 'Can down in the infeed' },
  { step: 'curing-oven', text: 'Belt limit switch' },
  { step: 'seamer', text: 'End feed empty' },
];

const settings: [{ step: StepKind; text: string }, ...{ step: StepKind; text: string }[]] = [
  { step: 'body-maker', text: 'Weld current trimmed by 10 A after window test' },
  { step: 'body-maker', text: 'Wire tension trimmed' },
  { step: 'stripe-applicator', text: 'Powder flow trimmed' },
  { step: 'curing-oven', text: 'Oven zone 2 set 3 °C lower' },
  { step: 'seamer', text: 'Infeed timing trimmed' },
  { step: 'tester', text: 'Test pressure trimmed, challenge cans rejected' },
];

type Cycle = { step: StepKind; kind: LineEventKind; everyHours: number; minutes: number; text: (random: Random, count: number) => string };

// Hours of running time between two entries, on average.
const cycles: Cycle[] = [
  { step: 'slitter', kind: 'coil-change', everyHours: 11, minutes: 9, text: (_, count) => `Coil ${5100 + count} on, certificate filed` },
  { step: 'body-maker', kind: 'coil-change', everyHours: 9, minutes: 2, text: (_, count) => `Blanks of coil ${5100 + count} on the feed table` },
  { step: 'body-maker', kind: 'wire-change', everyHours: 7.5, minutes: 5, text: (random) => `New wire spool, ${random.whole(40) + 10} m run in` },
  { step: 'seamer', kind: 'end-lot-change', everyHours: 12, minutes: 1, text: (_, count) => `New end lot ${3200 + count} on the end feed` },
  { step: 'seamer', kind: 'roll-change', everyHours: 260, minutes: 45, text: (random) => `Second-operation roll of head ${random.whole(4) + 1} renewed and set` },
  { step: 'flanger', kind: 'tooling-set', everyHours: 210, minutes: 30, text: (random) => `Spindle ${random.whole(4) + 1} cleaned, depth checked` },
];

function machineCycles(seed: number, calendar: Calendar, line: SeedLine): Draft[] {
  return line.steps.flatMap((step) => step.machines.flatMap((machine) =>
    cycles.filter((cycle) => cycle.step === step.kind).flatMap((cycle) => {
      const random = createRandom(seed, `cycle/${machine.code}/${cycle.kind}`);
      const events: Draft[] = [];
      // Running hours are laid end to end, so that the nightly rest does not count as wear.
      let running = calendar.firstDay * runningHours + random.between(0, cycle.everyHours);
      const last = (calendar.firstDay + calendar.days) * runningHours;
      for (let count = 0; running < last; count += 1) {
        const day = Math.floor(running / runningHours);
        const hour = Math.min(running - day * runningHours, 15.3);
        const at = toMinute(calendar.at(day, hour));
        if (calendar.isRunningDay(day)) {
          events.push({
            lineCode: line.code, machineCode: machine.code, kind: cycle.kind, at, until: at + cycle.minutes * minute,
            text: cycle.text(random, count), by: operatorAt(hour),
          });
        }
        running += cycle.everyHours * random.between(0.7, 1.3);
      }
      return events;
    })));
}

function faultEvents(calendar: Calendar, fault: FaultTruth): Draft[] {
  const draft = (which: 'begin' | 'end', event: FaultTruth['beginEvent'], moment: Moment): Draft[] => {
    if (event === undefined) return [];
    const at = calendar.at(moment.day, moment.hour);
    // What begins a fault is written when it happens; what ends it has been done by then.
    const minutes = event.minutes ?? 2;
    const from = which === 'begin' ? at : at - minutes * minute;
    return [{
      code: faultEventCode(fault, which), lineCode: fault.lineCode, machineCode: event.machineCode, kind: event.kind,
      at: from, until: from + minutes * minute, text: event.text, by: operatorAt(moment.hour),
    }];
  };
  return [...draft('begin', fault.beginEvent, fault.begins), ...(fault.ends === null ? [] : draft('end', fault.endEvent, fault.ends))];
}

function machineOf(random: Random, line: SeedLine, kind: StepKind): string | null {
  const machines = line.steps.find((step) => step.kind === kind)?.machines ?? [];
  return machines[random.whole(machines.length)]?.code ?? null;
}

const operatorAt = (hour: number) => (hour < shiftHours ? 'brandt' : 'lund');
const toMinute = (at: number) => Math.round(at / minute) * minute;
