import { createHash } from 'node:crypto';
import { Problem } from '#contract/problem';
import { type DeletableKind, MOST_RECORDS_IN_ACT, type RetentionView } from '#contract/retention';
import { deletePacks, findWholePack } from '../packs/packs.store.js';
import type { Signer } from '../platform/actor.js';
import { record } from '../platform/audit.js';
import type { Tx, Work } from '../platform/work.js';
import { pastBefore, ruleOf } from '../records/retention.js';
import { freezeLegalHolds, insertAct, listRules } from '../records/retention.store.js';
import { countPastRecords, listPastRecords, nameRecords } from '../records/retention-records.store.js';
import { compareWithTold, hashesOf } from '../records/told-records.store.js';
import { deleteStudies } from '../studies/kept-studies.store.js';
import { deleteStudyRecords } from '../studies/study-records.store.js';
import { confirmPassword } from '../users/confirm-password.js';

const remove: Record<DeletableKind, (tx: Tx, plantId: number, ids: readonly number[]) => Promise<void>> = { pack: deletePacks, study: deleteStudies, 'study-record': deleteStudyRecords };

/**
 * Deletes the oldest packs or studies past their retention as one act, after the person has proved anew who they are. The audit row names each with the SHA-256 of
 * its content, so that a later comparison knows what went, and by whom. What is not as the trail told it stays: deleting it would hide that.
 */
export async function deleteRecordsPast(work: Work, person: Signer, asked: { kind: DeletableKind; records: number; password: string; reason: string }, now: Date): Promise<RetentionView['acts'][number]> {
  await confirmPassword(work, person, asked.password, now);
  const actor = { plantId: person.plantId, userId: person.userId, name: person.name };
  const { kind } = asked;
  return work.run(async (tx) => {
    await freezeLegalHolds(tx);
    const rule = ruleOf(await listRules(tx, actor.plantId), kind);
    if (!rule) throw new Problem('wrong-state', `No rule says for how many years records of the kind ${kind} are kept: they are kept for ever. Nothing was deleted.`);
    const madeBefore = pastBefore(rule.years, now);
    const { records } = await countPastRecords(tx, actor.plantId, kind, madeBefore);
    if (records !== asked.records) throw new Problem('changed-meanwhile', `By now ${records} are past their retention, not ${asked.records}: look at the list again. Nothing was deleted.`);
    const ids = await listPastRecords(tx, actor.plantId, kind, madeBefore, MOST_RECORDS_IN_ACT);
    const doubtful = await notAsTold(tx, actor.plantId, kind, ids);
    if (doubtful.length > 0) throw new Problem('wrong-state', `${kind} ${doubtful[0]} is not as the audit trail told it (${doubtful.length} in all): compare everything under Records first. Nothing was deleted.`);
    const hashes = await hashesOf(tx, actor.plantId, kind, ids);
    const hash = createHash('sha256').update(ids.toSorted((a, b) => a - b).map((id) => `${kind} ${id}:${hashes.get(id)}`).join('\n')).digest('hex');
    const act = await insertAct(tx, actor.plantId, { at: now, actor: actor.name, userId: actor.userId, takenBefore: madeBefore, checks: 0, subgroups: 0, kind, records: ids.length, hash, reason: asked.reason }, []);
    await nameRecords(tx, actor.plantId, act.id, kind, ids);
    await remove[kind](tx, actor.plantId, ids);
    await record(tx, actor, 'records.deleted', `retention act ${act.id}`, { after: { kind, records: ids.length, madeBefore, years: rule.years, rule: rule.version, hash, reason: asked.reason, hashes: Object.fromEntries(hashes) } });
    return act;
  }, 120_000);
}

async function notAsTold(tx: Tx, plantId: number, kind: DeletableKind, ids: readonly number[]): Promise<number[]> {
  const faulty = new Set((await compareWithTold(tx, plantId, kind)).faults.map(({ id }) => id));
  // The trail tells the hash of a pack: whether its bytes are still those is a question of its own.
  for (const id of kind === 'pack' ? ids : []) if ((await findWholePack(tx, plantId, id)) === null) faulty.add(id);
  return ids.filter((id) => faulty.has(id));
}
