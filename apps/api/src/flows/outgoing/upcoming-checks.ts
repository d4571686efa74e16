import type { CalendarEvent } from '../../outgoing/calendar.js';
import type { Tx } from '../../platform/work.js';
import { listBoardMachines, listBoardPlans } from '../../production/board.store.js';
import { dueCheck, lineRunning } from '../../production/due-checks.js';

const MINUTE = 60_000;
const LONG_MS = 15 * MINUTE;

/**
 * The next check of every plan with an interval, as it looks now: what is due stands at the moment it fell due (where
 * running time decides, as if the line had run through), the rest at the moment it will if the line runs on.
 */
export async function upcomingChecks(tx: Tx, plantId: number, now: Date): Promise<CalendarEvent[]> {
  const [machines, plans] = await Promise.all([listBoardMachines(tx, plantId, now), listBoardPlans(tx, plantId, now)]);
  const running = new Map(machines.map((row) => [row.lineId, lineRunning(row.lineCountEnd?.getTime() ?? null, now.getTime()).state]));
  return plans.flatMap((plan) => {
    const state = running.get(plan.lineId) ?? 'unknown';
    const lastCheckAt = plan.lastCheckAt?.getTime() ?? null;
    const { due, basis, dueAt, minutesOver } = dueCheck({ everyMinutes: plan.everyMinutes, lastCheckAt, productRuns: plan.productRuns, running: state, minutesRun: plan.minutesRun }, now.getTime());
    if (!plan.productRuns || state === 'not-running') return [];
    const inMinutes = minutesOver !== null ? -minutesOver : basis === 'running' && plan.minutesRun !== null ? plan.everyMinutes - plan.minutesRun : 0;
    const start = new Date(Math.floor((dueAt ?? now.getTime() + inMinutes * MINUTE) / MINUTE) * MINUTE);
    return [{
      uid: `plan-${plantId}-${plan.planId}-${lastCheckAt ?? 'first'}`, start, end: new Date(start.getTime() + LONG_MS), changed: now,
      summary: `${due ? 'Due: ' : ''}${plan.plan} on ${plan.machine}`,
      description: `Line ${plan.line}, product ${plan.product}. Every ${plan.everyMinutes} min${basis === 'running' ? ' of running' : ''}; the interval is advice (${plan.intervalSource || 'no source given'}).`,
    }];
  });
}
