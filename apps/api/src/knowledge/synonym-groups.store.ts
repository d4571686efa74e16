import type { SynonymGroup } from '#canmaking/defects/synonyms';
import type { AnswerOf } from '#contract/endpoint';
import type { listSynonymRevisions, SynonymGroupView } from '#contract/synonyms';
import { Problem } from '#contract/problem';
import type { Tx } from '../platform/work.js';

/** One writer a plant, so that two groups cannot take the same word at once. */
export async function lockSynonyms(tx: Tx, plantId: number): Promise<void> {
  await tx.$queryRaw`SELECT pg_advisory_xact_lock(hashtext('synonym_group'), ${plantId}::int)::text`;
}

/** The groups in use, in the order in which they were added. */
export async function listPlantGroups(tx: Tx, plantId: number): Promise<(SynonymGroup & { id: number })[]> {
  return tx.synonymGroup.findMany({ where: { plantId, retiredAt: null }, orderBy: { id: 'asc' }, select: { id: true, preferred: true, others: true } });
}

/** All of the plant's groups, those in use first; or the one with the id. */
export async function listGroupViews(tx: Tx, plantId: number, id: number | null = null): Promise<SynonymGroupView[]> {
  const rows = await tx.$queryRaw<{ id: number; preferred: string; others: string[]; retired: boolean; author: string; changedAt: Date; revision: number }[]>`
    SELECT g.id, g.preferred, g.others, g.retired_at IS NOT NULL AS retired, coalesce(u.name, '') AS author, g.changed_at AS "changedAt", g.revision
    FROM synonym_group g LEFT JOIN "user" u ON u.plant_id = g.plant_id AND u.id = g.author_id
    WHERE g.plant_id = ${plantId} AND (${id}::int IS NULL OR g.id = ${id}) ORDER BY (g.retired_at IS NOT NULL), lower(g.preferred), g.id`;
  return rows.map(({ changedAt, ...row }) => ({ ...row, changedAt: changedAt.toISOString() }));
}

export async function findGroup(tx: Tx, plantId: number, id: number): Promise<SynonymGroupView> {
  const [row] = await listGroupViews(tx, plantId, id);
  if (!row) throw new Problem('not-found', `There is no group of synonyms ${id}.`);
  return row;
}

export async function insertGroup(tx: Tx, plantId: number, { preferred, others }: SynonymGroup, authorId: number, now: Date): Promise<number> {
  return (await tx.synonymGroup.create({ data: { plantId, preferred, others: [...others], authorId, createdAt: now, changedAt: now }, select: { id: true } })).id;
}

/** False when another revision was written since. */
export async function setGroup(tx: Tx, plantId: number, id: number, revision: number, { preferred, others, retiredAt }: SynonymGroup & { retiredAt: Date | null }, now: Date): Promise<boolean> {
  const { count } = await tx.synonymGroup.updateMany({ where: { plantId, id, revision }, data: { preferred, others: [...others], retiredAt, changedAt: now, revision: revision + 1 } });
  return count > 0;
}

type Revision = Omit<AnswerOf<typeof listSynonymRevisions>['revisions'][number], 'at'> & { at: Date };
export async function insertGroupRevision(tx: Tx, plantId: number, groupId: number, row: Revision): Promise<void> {
  await tx.synonymRevision.create({ data: { plantId, groupId, ...row } });
}

/** Newest first. */
export async function listGroupRevisions(tx: Tx, plantId: number, groupId: number): Promise<Revision[]> {
  return tx.synonymRevision.findMany({ where: { plantId, groupId }, orderBy: { revision: 'desc' }, select: { revision: true, preferred: true, others: true, retired: true, author: true, reason: true, at: true } });
}
