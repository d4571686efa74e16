import type { setCounter as contract } from '#contract/counters';
import type { AnswerOf, InputOf } from '#contract/endpoint';
import { Problem } from '#contract/problem';
import { type Actor, record } from '../platform/audit.js';
import type { Tx } from '../platform/work.js';
import { appendDecisions, findCountersOf, highestReading, lockCounts, upsertCounter } from './counters.store.js';
import { deriveCounts } from './derive-counts.js';

const LOOKED_AT_ANEW_MS = 31 * 86_400_000;

/** States what the counters of a machine are, and works out anew what they counted lately. */
export async function setCounter(tx: Tx, actor: Actor, machineId: number, stated: InputOf<typeof contract>['body'], now: Date): Promise<AnswerOf<typeof contract>> {
  await lockCounts(tx, actor.plantId);
  const before = (await findCountersOf(tx, actor.plantId, [machineId])).get(machineId);
  if (before === undefined) throw new Problem('not-found', `There is no machine ${machineId}.`);
  const highest = await highestReading(tx, actor.plantId, machineId);
  if (stated.rollsOverAt !== null && highest !== null && highest >= stated.rollsOverAt) throw new Problem('invalid-input', undefined, [{ field: 'rollsOverAt', expected: `more than ${highest}, the highest number that this machine's counters showed` }]);
  const counter = { machineId, ...stated };
  await upsertCounter(tx, actor.plantId, counter, actor.name, now);
  const { replaced, decisions } = await deriveCounts(tx, actor.plantId, counter, now.getTime() - LOOKED_AT_ANEW_MS, now.getTime());
  await appendDecisions(tx, actor.plantId, decisions, now, actor.name);
  await record(tx, actor, 'counter.stated', `machine ${machineId}`, { before: { rollsOverAt: before.rollsOverAt, mostPerMinute: before.mostPerMinute }, after: { ...stated, spans: replaced } });
  return { spans: replaced };
}
