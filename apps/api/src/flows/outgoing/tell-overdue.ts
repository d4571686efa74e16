import { insertOverdueTold } from '../../outgoing/notices.store.js';
import { tellOut } from '../../outgoing/tell-out.js';
import type { Work } from '../../platform/work.js';
import { listPlants } from '../../users/users.store.js';
import { dueView, type PlanDue, plansWithDue } from '../../production/due-list.js';
import { openerWord } from './plan-words.js';

/** Tells of every check that is due, once after the last check or skip of its plan: what stays due is not told again. Answers how many were new. */
export async function tellOverdue(work: Work, now: Date, publicUrl: string | null): Promise<number> {
  let told = 0;
  for (const plant of await listPlants(work.read)) {
    const due = (await plansWithDue(work.read, plant.id, now)).filter((entry) => entry.due.due);
    for (const entry of due) {
      const { planId, plan, machineId, machine, line, product, lastCheckAt, everyMinutes, basis, minutesOver } = dueView(entry);
      const last = Math.max(entry.plan.lastCheckAt?.getTime() ?? 0, entry.plan.lastSkipAt?.getTime() ?? 0);
      const since = last === 0 ? 'never' : new Date(last).toISOString();
      await work.run(async (tx) => {
        if (!(await insertOverdueTold(tx, plant.id, planId, since, now))) return;
        told += 1;
        await tellOut(tx, plant, {
          key: `check-${planId}-overdue-${since}`, kind: 'check.overdue', topic: `plan ${planId}`, path: `/log?machine=${machineId}&plan=${planId}`, at: now,
          text: `Check "${plan}" on ${machine}, line ${line}, product ${product}, ${lateness(entry)}`,
          data: { planId, plan, machineId, machine, line, product, lastCheckAt, everyMinutes, minutesOver, basis },
        }, now, publicUrl);
      });
    }
  }
  return told;
}

/** How late it is and by what, in the terms of what made it due. */
function lateness({ plan: { everyMinutes, intervalSource, everyCans, cansSource, causes, eventsSource }, due: { basis, minutesOver, cansOver } }: PlanDue): string {
  if (basis === 'event') return `has been waiting for ${minutesOver} min: it was opened by ${openerWord(causes[0]?.kind)} (${eventsSource || 'no source given'}).`;
  if (basis === 'cans') return `is late by ${cansOver} cans. The interval of ${everyCans} cans is advice (${cansSource || 'no source given'}).`;
  const late = minutesOver === null ? 'was never made' : `is late by ${minutesOver} min${basis === 'running' ? ' of running' : ''}`;
  return `${late}. The interval of ${everyMinutes} min is advice (${intervalSource || 'no source given'}).`;
}
