import { missedEvents, missedIntervals } from '#canmaking/line/missed-checks';
import type { Surrounding, SurroundingsAnswer } from '#contract/incidents';
import { type CansAt, type Hours, hoursAround, surroundingsOf } from '../incidents/surroundings.js';
import { type PlanOnRecord, plansOnRecord } from '../production/missed-list.js';
import type { Tx } from '../platform/work.js';

type Missed = Extract<Surrounding, { kind: 'missed' }>;

/** What is on record of a line around some cans: checks, signals and line events, and the checks that were due and are not there. */
export async function lineSurroundings(tx: Tx, plantId: number, cans: CansAt, hours: Hours, now: Date): Promise<SurroundingsAnswer> {
  const span = hoursAround(cans, hours);
  const plans = await plansOnRecord(tx, plantId, { ...span, line: cans.lineId }, now);
  return surroundingsOf(tx, plantId, cans, hours, plans.flatMap((plan) => missedOf(plan, { from: span.from.getTime(), to: Math.min(span.to.getTime(), now.getTime()) }, now)));
}

function missedOf({ plan: { plan, machineId, machine, machineName, stepKind }, history, period, events }: PlanOnRecord, span: { from: number; to: number }, now: Date): Missed[] {
  const entry = (from: number, until: number | null, rest: Pick<Missed, 'everyMinutes' | 'everyCans' | 'openedBy' | 'due'>): Missed[] => {
    const [at, end] = [Math.max(from, span.from), Math.min(until ?? span.to, span.to)];
    return end > at ? [{ kind: 'missed', shift: null, at: new Date(at).toISOString(), until: new Date(end).toISOString(), machineId, machine, machineName, stepKind, plan, ...rest }] : [];
  };
  return [
    ...missedIntervals(history, period).flatMap(({ from, until, every, unit, missed }) => entry(from, until, { everyMinutes: unit === 'minutes' ? every : null, everyCans: unit === 'cans' ? every : null, openedBy: null, due: missed })),
    ...missedEvents(history, period, now.getTime()).flatMap(({ from, until, eventId }) => entry(from, until, { everyMinutes: null, everyCans: null, openedBy: events.find(({ id }) => id === eventId)?.kind ?? null, due: 1 })),
  ];
}
