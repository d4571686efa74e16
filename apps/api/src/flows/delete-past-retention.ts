import { createHash } from 'node:crypto';
import { Problem } from '#contract/problem';
import type { RetentionView } from '#contract/retention';
import { listTheseAsStored } from '../inspections/check-seals.store.js';
import { countSubgroups, deleteChecks } from '../inspections/delete-checks.store.js';
import type { Signer } from '../platform/actor.js';
import { record } from '../platform/audit.js';
import { announce } from '../platform/outbox.js';
import type { Work } from '../platform/work.js';
import { MOST_IN_ACT, pastBefore, ruleOf } from '../records/retention.js';
import { countPast, freezeLegalHolds, insertAct, listPast, listRules } from '../records/retention.store.js';
import { listSeals } from '../records/seals.store.js';
import { confirmPassword } from '../users/confirm-password.js';

/**
 * Deletes the oldest checks past their retention as one act, after the person has proved anew who they are. The audit row names each
 * check with its newest seal, so that a later comparison knows what went, and by whom. What is not as it was sealed stays: deleting it would hide that.
 */
export async function deletePastRetention(work: Work, person: Signer, asked: { checks: number; password: string; reason: string }, now: Date): Promise<RetentionView['acts'][number]> {
  await confirmPassword(work, person, asked.password, now);
  const actor = { plantId: person.plantId, userId: person.userId, name: person.name };
  return work.run(async (tx) => {
    await freezeLegalHolds(tx);
    const rule = ruleOf(await listRules(tx, actor.plantId), 'check');
    if (!rule) throw new Problem('wrong-state', 'No rule says for how many years checks are kept: they are kept for ever. Nothing was deleted.');
    const takenBefore = pastBefore(rule.years, now);
    const { checks } = await countPast(tx, actor.plantId, takenBefore);
    if (checks !== asked.checks) throw new Problem('changed-meanwhile', `By now ${checks} checks are past their retention, not ${asked.checks}: look at the list again. Nothing was deleted.`);
    const ids = await listPast(tx, actor.plantId, takenBefore, MOST_IN_ACT);
    const sealed = await listSeals(tx, actor.plantId);
    const stored = await listTheseAsStored(tx, actor.plantId, ids);
    const doubtful = stored.filter(({ id, voided, seal }) => !voided && sealed.has(id) && sealed.get(id) !== seal);
    if (doubtful.length > 0) throw new Problem('wrong-state', `Check ${doubtful[0]?.id} is not as it was sealed (${doubtful.length} in all): compare everything with its seals under Records first. Nothing was deleted.`);
    const seals = Object.fromEntries(stored.map(({ id, seal }) => [String(id), sealed.get(id) ?? seal]));
    const hash = createHash('sha256').update(ids.toSorted((a, b) => a - b).map((id) => `${id}:${seals[String(id)]}`).join('\n')).digest('hex');
    const subgroups = await countSubgroups(tx, actor.plantId, ids);
    const act = await insertAct(tx, actor.plantId, { at: now, actor: actor.name, userId: actor.userId, takenBefore, checks: ids.length, subgroups, kind: 'check', records: 0, hash, reason: asked.reason }, ids);
    const streams = await deleteChecks(tx, actor.plantId, ids);
    await record(tx, actor, 'readings.deleted', `retention act ${act.id}`, { after: { checks: ids.length, subgroups, takenBefore, years: rule.years, rule: rule.version, hash, reason: asked.reason, seals } });
    await announce(tx, actor.plantId, streams.map((streamId) => ({ kind: 'stream.changed', payload: { streamId } })));
    return act;
  }, 120_000);
}
