import type { SeedCanCodePattern } from '../../../../../seed/can-code-patterns.js';
import type { Tx } from '../../platform/work.js';
import { type DemoIds, need } from './demo-master.store.js';

/** How the lines of the demo plant write their codes, from before its oldest incident on. */
export async function insertDemoCanCodes(tx: Tx, ids: DemoIds, patterns: readonly (SeedCanCodePattern & { example: string })[], effectiveFrom: Date, authorId: number): Promise<void> {
  const { plantId } = ids;
  for (const { lineCode, codedAt, ...pattern } of patterns) {
    const lineId = need(ids.lines, lineCode);
    const step = await tx.step.findFirstOrThrow({ where: { plantId, lineId, kind: codedAt } });
    await tx.canCodePattern.create({ data: { plantId, lineId, ...pattern, codedAtStepId: step.id, effectiveFrom, authorId, createdAt: effectiveFrom } });
  }
}
