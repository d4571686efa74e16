import type { AnswerOf } from '#contract/endpoint';
import type { getIncidentSurroundings, Surrounding } from '#contract/incidents';
import { Problem } from '#contract/problem';
import type { Tx } from '../platform/work.js';
import { listIncidentRows } from './incident-rows.store.js';
import { missedChecks } from './missed-checks.js';
import { listPlanChecks, listSurroundings } from './surroundings.store.js';

const HOUR = 3_600_000;
const MOST = 3000;

/** What the plant has on record of the line from `before` hours before the cans were made to `after` hours after it. */
export async function surroundings(tx: Tx, plantId: number, incidentId: number, hours: { before: number; after: number }): Promise<AnswerOf<typeof getIncidentSurroundings>> {
  const [incident] = await listIncidentRows(tx, plantId, { take: 1, skip: 0 }, incidentId);
  if (!incident) throw new Problem('not-found', `There is no incident ${incidentId}.`);
  const made = Date.parse(incident.madeAt);
  const span = { from: new Date(made - hours.before * HOUR), to: new Date(made + hours.after * HOUR) };
  const plans = await listPlanChecks(tx, plantId, incident.lineId, incident.productId, span);
  const byId = new Map(plans.map((plan) => [plan.planId, plan]));
  const missed = missedChecks(plans, span).flatMap(({ planId, from, until, due }): Surrounding[] => {
    const plan = byId.get(planId);
    return plan ? [{ kind: 'missed', at: from.toISOString(), until: until.toISOString(), machineId: plan.machineId, machine: plan.machine, machineName: plan.machineName, stepKind: plan.stepKind, plan: plan.plan, everyMinutes: plan.everyMinutes, due }] : [];
  });
  const entries = [...(await listSurroundings(tx, plantId, incidentId, incident.lineId, span)), ...missed].sort((a, b) => Date.parse(a.at) - Date.parse(b.at));
  return { from: span.from.toISOString(), to: span.to.toISOString(), madeAt: incident.madeAt, entries: entries.slice(0, MOST), leftOut: Math.max(0, entries.length - MOST) };
}
