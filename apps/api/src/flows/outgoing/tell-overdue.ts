import { insertOverdueTold } from '../../outgoing/notices.store.js';
import { tellOut } from '../../outgoing/tell-out.js';
import type { Work } from '../../platform/work.js';
import { listPlants } from '../../users/users.store.js';
import { nowBoard } from '../now-board.js';

/** Tells of every check that is over its interval, once for each interval that was missed. Answers how many were new. */
export async function tellOverdue(work: Work, now: Date): Promise<number> {
  let told = 0;
  for (const plant of await listPlants(work.read)) {
    const { due } = await nowBoard(work.read, plant.id, now);
    for (const { planId, plan, machineId, machine, line, product, lastCheckAt, everyMinutes, intervalSource, basis, minutesOver } of due) {
      const since = lastCheckAt ?? 'never';
      await work.run(async (tx) => {
        if (!(await insertOverdueTold(tx, plant.id, planId, since, now))) return;
        told += 1;
        const late = minutesOver === null ? 'was never made' : `is late by ${minutesOver} min${basis === 'running' ? ' of running' : ''}`;
        await tellOut(tx, plant, {
          key: `check-${planId}-overdue-${since}`, kind: 'check.overdue', topic: `plan ${planId}`, path: `/log?machine=${machineId}&plan=${planId}`, at: now,
          text: `Check "${plan}" on ${machine}, line ${line}, product ${product}, ${late}. The interval of ${everyMinutes} min is advice (${intervalSource || 'no source given'}).`,
          data: { planId, plan, machineId, machine, line, product, lastCheckAt, everyMinutes, minutesOver, basis },
        }, now);
      });
    }
  }
  return told;
}
