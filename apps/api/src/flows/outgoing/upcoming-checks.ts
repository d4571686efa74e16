import type { CalendarEvent } from '../../outgoing/calendar.js';
import type { Tx } from '../../platform/work.js';
import { plansWithDue } from '../../production/due-list.js';
import { checkAt, openerWord } from './plan-words.js';

const MINUTE = 60_000;
const LONG_MS = 15 * MINUTE;

/**
 * The next check of every plan that can fall due, as it looks now: what is due stands at the moment it fell due (where
 * running time decides, as if the line had run through), the rest at the moment it will if the line runs on. What only
 * cans or an event will open has no moment before it is due.
 */
export async function upcomingChecks(tx: Tx, plantId: number, now: Date): Promise<CalendarEvent[]> {
  const plans = await plansWithDue(tx, plantId, now);
  return plans.flatMap(({ plan, due: { due, basis, dueAt, minutesOver } }) => {
    if (!plan.productRuns || (!due && plan.everyMinutes === null)) return [];
    const left = plan.everyMinutes !== null && plan.minutesRun !== null ? plan.everyMinutes - plan.minutesRun : 0;
    const start = new Date(Math.floor((dueAt ?? now.getTime() + (due ? -(minutesOver ?? 0) : left) * MINUTE) / MINUTE) * MINUTE);
    const every = [plan.everyMinutes === null ? '' : `Every ${plan.everyMinutes} min${basis === 'running' ? ' of running' : ''}`, plan.everyCans === null ? '' : `every ${plan.everyCans} cans`].filter((part) => part !== '').join(' or ');
    const opened = due && basis === 'event' ? `Opened by ${openerWord(plan.causes[0]?.kind)}` : '';
    return [{
      uid: `plan-${plantId}-${plan.planId}-${plan.lastCheckAt?.getTime() ?? 'first'}`, start, end: new Date(start.getTime() + LONG_MS), changed: now,
      summary: `${due ? 'Due: ' : ''}${checkAt(plan.plan, plan.machine)}`,
      description: `Line ${plan.line}, product ${plan.product}. ${[opened, every].filter((part) => part !== '').join('. ')}; the interval is advice (${plan.intervalSource || plan.cansSource || plan.eventsSource || 'no source given'}).`,
    }];
  });
}
