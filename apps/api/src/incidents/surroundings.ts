import { shiftAt } from '#canmaking/line/shifts';
import type { Surrounding, SurroundingsAnswer } from '#contract/incidents';
import { Problem } from '#contract/problem';
import type { Tx } from '../platform/work.js';
import { listIncidentRows } from './incident-rows.store.js';
import { missedChecks } from './missed-checks.js';
import { findShifts, listPlanChecks, listSurroundings } from './surroundings.store.js';

const HOUR = 3_600_000;
const MOST = 3000;
type Hours = { before: number; after: number };

/** What the plant has on record of the line from `before` hours before the cans were made to `after` hours after it. */
export async function surroundings(tx: Tx, plantId: number, incidentId: number, hours: Hours): Promise<SurroundingsAnswer> {
  const [incident] = await listIncidentRows(tx, plantId, { take: 1, skip: 0 }, incidentId);
  if (!incident) throw new Problem('not-found', `There is no incident ${incidentId}.`);
  return surroundingsOf(tx, plantId, { ...incident, incidentId }, hours);
}

/** The same of any cans of a line; `incidentId` says which signals are linked. */
export async function surroundingsOf(tx: Tx, plantId: number, { lineId, productId, madeAt, incidentId }: { lineId: number; productId: number; madeAt: string; incidentId: number | null }, hours: Hours): Promise<SurroundingsAnswer> {
  const made = Date.parse(madeAt);
  const span = { from: new Date(made - hours.before * HOUR), to: new Date(made + hours.after * HOUR) };
  const [plans, shifts] = await Promise.all([listPlanChecks(tx, plantId, lineId, productId, span), findShifts(tx, plantId)]);
  const byId = new Map(plans.map((plan) => [plan.planId, plan]));
  const missed = missedChecks(plans, span).flatMap(({ planId, from, until, due }): Surrounding[] => {
    const plan = byId.get(planId);
    return plan ? [{ kind: 'missed', at: from.toISOString(), until: until.toISOString(), machineId: plan.machineId, machine: plan.machine, machineName: plan.machineName, stepKind: plan.stepKind, plan: plan.plan, everyMinutes: plan.everyMinutes, due, shift: null }] : [];
  });
  const entries = [...(await listSurroundings(tx, plantId, incidentId ?? 0, lineId, span)), ...missed].sort((a, b) => Date.parse(a.at) - Date.parse(b.at))
    .map((entry) => ({ ...entry, shift: shiftAt(shifts.shifts, Date.parse(entry.at), shifts.timeZone) }));
  return { from: span.from.toISOString(), to: span.to.toISOString(), madeAt, entries: entries.slice(0, MOST), leftOut: Math.max(0, entries.length - MOST) };
}
