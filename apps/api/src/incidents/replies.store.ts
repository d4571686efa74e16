import { type IncidentReply, type ReplyLanguage, replyLanguage } from '#contract/incident-life';
import { Problem } from '#contract/problem';
import type { Tx } from '../platform/work.js';

type Version = IncidentReply['versions'][number];
export type NewReply = { incidentId: number; version: number; text: string; language: ReplyLanguage; counts: boolean; authorId: number; createdAt: Date };

export async function insertReply(tx: Tx, plantId: number, reply: NewReply): Promise<void> {
  await tx.incidentReply.create({ data: { plantId, ...reply } });
}

/** Newest first. */
export async function listReplies(tx: Tx, plantId: number, incidentId: number): Promise<Version[]> {
  const rows = await tx.$queryRaw<(Omit<Version, 'createdAt' | 'language'> & { createdAt: Date; language: string })[]>`
    SELECT r.version, r.language, r.text, r.counts, coalesce(u.name, '') AS author, r.created_at AS "createdAt" FROM incident_reply r
    LEFT JOIN "user" u ON u.plant_id = r.plant_id AND u.id = r.author_id WHERE r.plant_id = ${plantId} AND r.incident_id = ${incidentId} ORDER BY r.version DESC`;
  return rows.map((row) => ({ ...row, language: replyLanguage.parse(row.language), createdAt: row.createdAt.toISOString() }));
}

export async function findReplyPlant(tx: Tx, plantId: number): Promise<{ name: string; timeZone: string }> {
  const plant = await tx.plant.findUnique({ where: { id: plantId }, select: { name: true, timeZone: true } });
  if (!plant) throw new Problem('not-found', `There is no plant ${plantId}.`);
  return plant;
}
