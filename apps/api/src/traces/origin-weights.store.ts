import { z } from 'zod';
import { originWeight, type OriginWeightsVersion } from '#contract/origin-weights';
import type { Tx } from '../platform/work.js';

const origins = z.array(originWeight);

/** Every version, or those of one defect; newest first within each defect. */
export async function listWeightVersions(tx: Tx, plantId: number, defect?: string): Promise<OriginWeightsVersion[]> {
  const rows = await tx.originWeights.findMany({ where: { plantId, ...(defect === undefined ? {} : { defect }) }, orderBy: [{ defect: 'asc' }, { version: 'desc' }] });
  return rows.map((row) => ({ id: row.id, defect: row.defect, version: row.version, origins: origins.parse(row.origins), author: row.author, at: row.at.toISOString(), reason: row.reason }));
}

/** One writer a plant at a time, so that two new versions cannot get one number. */
export async function lockOriginWeights(tx: Tx, plantId: number): Promise<void> {
  await tx.$executeRaw`SELECT pg_advisory_xact_lock(hashtext('origin_weights'), ${plantId}::int)`;
}

export async function insertWeights(tx: Tx, plantId: number, row: { defect: string; version: number; origins: OriginWeightsVersion['origins']; author: string; authorId: number; reason: string; at: Date }): Promise<OriginWeightsVersion> {
  const { id } = await tx.originWeights.create({ data: { plantId, ...row }, select: { id: true } });
  const { authorId: _person, at, ...said } = row;
  return { id, ...said, at: at.toISOString() };
}
