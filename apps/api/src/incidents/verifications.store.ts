import { z } from 'zod';
import { type KeptVerification, keptVerification, type VerificationAnswer, type VerificationAsked } from '#contract/incident-shapes';
import type { Prisma } from '../platform/generated/client.js';
import type { Tx } from '../platform/work.js';

const json = (value: unknown) => JSON.parse(JSON.stringify(value)) as Prisma.InputJsonValue;
export type VerificationToKeep = { incidentId: number; asked: VerificationAsked; answer: VerificationAnswer; version: string; authorId: number; createdAt: Date };

/** @returns the id of the kept comparison; a trigger refuses any later change */
export async function insertVerification(tx: Tx, plantId: number, { asked, answer, ...kept }: VerificationToKeep): Promise<number> {
  const row = await tx.incidentVerification.create({ data: { plantId, ...kept, streamId: asked.streamId, asked: json(asked), answer: json(answer) }, select: { id: true } });
  return row.id;
}

export async function isVerificationOf(tx: Tx, plantId: number, incidentId: number, id: number): Promise<boolean> {
  return (await tx.incidentVerification.count({ where: { plantId, incidentId, id } })) > 0;
}

/** Newest first. */
export async function listVerifications(tx: Tx, plantId: number, incidentId: number): Promise<KeptVerification[]> {
  const rows = await tx.$queryRaw<unknown[]>`
    SELECT v.id, v.asked, v.answer, v.version, coalesce(u.name, '') AS author, to_char(v.created_at AT TIME ZONE 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"') AS "createdAt"
    FROM incident_verification v LEFT JOIN "user" u ON u.plant_id = v.plant_id AND u.id = v.author_id
    WHERE v.plant_id = ${plantId} AND v.incident_id = ${incidentId} ORDER BY v.id DESC`;
  return z.array(keptVerification).parse(rows);
}
