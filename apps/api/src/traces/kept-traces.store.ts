import type { Trace } from '#contract/traces';
import type { Prisma } from '../platform/generated/client.js';
import type { Tx } from '../platform/work.js';

export type TraceToKeep = { incidentId: number | null; signalId: number | null; keptAt: Date; keptBy: number; actor: string; chosen: number | null; comment: string; software: string; answer: Trace };

export async function insertKeptTrace(tx: Tx, plantId: number, { answer, ...row }: TraceToKeep): Promise<number> {
  return (await tx.keptTrace.create({ data: { plantId, ...row, answer: JSON.parse(JSON.stringify(answer)) as Prisma.InputJsonValue }, select: { id: true } })).id;
}

/** Newest first, with the rankings: there are a few of each incident or signal. */
export const listKept = (tx: Tx, plantId: number, of: { incidentId: number } | { signalId: number }) => tx.keptTrace.findMany({ where: { plantId, ...of }, orderBy: { id: 'desc' } });
export const findKept = (tx: Tx, plantId: number, id: number) => tx.keptTrace.findUnique({ where: { plantId_id: { plantId, id } } });
