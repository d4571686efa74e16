import { ambiguousTerms, synonymGroups } from '#canmaking/defects/synonyms';
import type { AnswerOf, InputOf } from '#contract/endpoint';
import { Problem } from '#contract/problem';
import type { changeSynonymGroup, createSynonymGroup, listSynonyms as listContract } from '#contract/synonyms';
import { type Actor, record } from '../platform/audit.js';
import type { Tx } from '../platform/work.js';
import { findGroup, insertGroup, insertGroupRevision, listGroupViews, listPlantGroups, lockSynonyms, setGroup } from './synonym-groups.store.js';
import { synonymFaults } from './synonym-faults.js';

type Person = Actor & { userId: number };

export async function listSynonyms(tx: Tx, plantId: number): Promise<AnswerOf<typeof listContract>> {
  return {
    trade: synonymGroups.map(({ preferred, others }) => ({ preferred, others: [...others] })), own: await listGroupViews(tx, plantId),
    ambiguous: ambiguousTerms.map(({ term, meanings }) => ({ term, meanings: [...meanings] })),
  };
}

export async function addSynonyms(tx: Tx, actor: Person, { reason, ...group }: InputOf<typeof createSynonymGroup>['body'], now: Date): Promise<number> {
  await lockSynonyms(tx, actor.plantId);
  refuse(synonymFaults(group, await listPlantGroups(tx, actor.plantId)));
  const id = await insertGroup(tx, actor.plantId, group, actor.userId, now);
  await insertGroupRevision(tx, actor.plantId, id, { ...group, revision: 1, retired: false, author: actor.name, reason, at: now });
  await record(tx, actor, 'synonyms.made', `synonyms ${id}`, { after: { ...group, reason } });
  return id;
}

/** Writes the next revision. A retired group no longer counts in searches and may keep words that another one has now. */
export async function changeSynonyms(tx: Tx, actor: Person, id: number, { revision, retired, reason, ...group }: InputOf<typeof changeSynonymGroup>['body'], now: Date): Promise<void> {
  await lockSynonyms(tx, actor.plantId);
  const before = await findGroup(tx, actor.plantId, id);
  if (!retired) refuse(synonymFaults(group, (await listPlantGroups(tx, actor.plantId)).filter((other) => other.id !== id)));
  if (!(await setGroup(tx, actor.plantId, id, revision, { ...group, retiredAt: retired ? now : null }, now))) throw new Problem('changed-meanwhile', 'Load the synonyms again and put your change into the newest ones.');
  await insertGroupRevision(tx, actor.plantId, id, { ...group, revision: revision + 1, retired, author: actor.name, reason, at: now });
  await record(tx, actor, retired && !before.retired ? 'synonyms.retired' : 'synonyms.changed', `synonyms ${id}`, { before: { preferred: before.preferred, others: before.others, retired: before.retired }, after: { ...group, retired, reason } });
}

function refuse(errors: ReturnType<typeof synonymFaults>): void {
  if (errors.length > 0) throw new Problem('invalid-input', undefined, errors);
}
