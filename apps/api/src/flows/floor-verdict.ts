import type { FloorVerdict } from '#contract/inspections';
import type { ReactionPlan } from '#contract/reaction-plans';
import { Problem } from '#contract/problem';
import { listCounts } from '../inspections/check-extras.store.js';
import { findCheckHeader } from '../inspections/check-page.store.js';
import { listLinks } from '../knowledge/note-links.store.js';
import type { Tx } from '../platform/work.js';
import { type PlanDue, plansWithDue } from '../production/due-list.js';
import { plansOfStreams } from '../specifications/reaction-plans.js';
import { checkVerdict } from './check-verdict.js';

/** So many past fixes are shown: confirmed ones first, then those that fit best. */
const MOST_FIXES = 5;

/** What a person at the machine needs after a check: in control or not, what the plant wrote to do, what helped before, and when the next one is due. */
export async function floorVerdict(tx: Tx, plantId: number, checkId: number, now: Date): Promise<FloorVerdict> {
  const [verdict, header] = [await checkVerdict(tx, plantId, checkId, true), await findCheckHeader(tx, plantId, checkId)];
  if (!header) throw new Problem('not-found', `There is no check ${checkId}.`);
  const signalling = [...new Set(verdict.subgroups.filter(({ status }) => status === 'signal').map(({ streamId }) => streamId))];
  const plans = await plansOfStreams(tx, plantId, signalling);
  const signalIds = [...new Set(verdict.subgroups.flatMap(({ firings }) => firings.map(({ signalId }) => signalId)))];
  const links = signalIds.length === 0 ? [] : await listLinks(tx, plantId, { signalIds });
  const planned = header.planId === null ? undefined : (await plansWithDue(tx, plantId, now, header.machineId)).find(({ plan }) => plan.planId === header.planId);
  return {
    ...verdict, machineId: header.machineId, planId: header.planId,
    control: verdict.status === 'signal' ? 'out' : verdict.subgroups.length === 0 ? 'nothing' : verdict.status === 'steady' ? 'in' : 'unknown',
    counts: (await listCounts(tx, plantId, checkId)).map(({ name, inspected, nonconforming }) => ({ name, inspected, nonconforming })),
    reactions: grouped(signalling, plans), withoutReaction: signalling.filter((streamId) => !plans.has(streamId)),
    pastFixes: uniqueFixes(links), next: planned ? nextOf(planned) : null,
  };
}

/** One entry a plan: twelve heads of one characteristic share the steps. */
function grouped(streamIds: readonly number[], plans: ReadonlyMap<number, ReactionPlan>): FloorVerdict['reactions'] {
  const byPlan = new Map<number, FloorVerdict['reactions'][number]>();
  for (const streamId of streamIds) {
    const plan = plans.get(streamId);
    if (!plan) continue;
    const entry = byPlan.get(plan.id) ?? { streamIds: [], plan };
    entry.streamIds.push(streamId);
    byPlan.set(plan.id, entry);
  }
  return [...byPlan.values()];
}

function uniqueFixes(links: readonly { noteId: number; noteTitle: string; signalId: number | null; confirmedBy: string | null }[]): FloorVerdict['pastFixes'] {
  const seen = new Set<number>();
  return links.flatMap(({ noteId, noteTitle, signalId, confirmedBy }) => {
    if (seen.has(noteId) || signalId === null) return [];
    seen.add(noteId);
    return [{ noteId, title: noteTitle, signalId, confirmed: confirmedBy !== null }];
  }).slice(0, MOST_FIXES);
}

function nextOf({ plan, due }: PlanDue): NonNullable<FloorVerdict['next']> {
  const { planId, plan: name, everyMinutes, everyCans, minutesRun, cansRun, openedBy, intervalSource, cansSource, eventsSource } = plan;
  const basis = minutesRun === null ? 'clock' : 'running';
  const left = (every: number | null, made: number | null) => (every === null || made === null ? null : Math.max(0, Math.ceil(every - made)));
  return {
    planId, plan: name, everyMinutes, everyCans, basis, due: due.due, openedBy, source: intervalSource || cansSource || eventsSource,
    dueAt: basis === 'clock' && due.dueAt !== null ? new Date(due.dueAt).toISOString() : null, minutesLeft: left(everyMinutes, minutesRun), cansLeft: left(everyCans, cansRun),
  };
}
