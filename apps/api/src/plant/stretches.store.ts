import type { Tx } from '../platform/work.js';

type Bounds = { fromStepId: number; toStepId: number; shortestSeconds: number; longestSeconds: number; leastCans: number | null; mostCans: number | null };

export const listStretches = (tx: Tx, plantId: number, lineId: number) => tx.stretch.findMany({
  where: { plantId, lineId }, orderBy: { fromStep: { position: 'asc' } }, select: { fromStepId: true, toStepId: true, shortestSeconds: true, longestSeconds: true, leastCans: true, mostCans: true },
});

export async function replaceStretches(tx: Tx, plantId: number, lineId: number, { clockMinutes, stretches }: { clockMinutes: number; stretches: readonly Bounds[] }): Promise<void> {
  await tx.stretch.deleteMany({ where: { plantId, lineId } });
  await tx.stretch.createMany({ data: stretches.map((stretch) => ({ plantId, lineId, ...stretch })) });
  await tx.line.update({ where: { plantId_id: { plantId, id: lineId } }, data: { clockMinutes } });
}
