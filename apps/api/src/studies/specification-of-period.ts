type Effective = { effectiveFrom: Date };

/**
 * Which revisions were in force in a period, oldest first, and whether one was in force when it began.
 * @param revisions those that took effect before the period's end, in the order in which they replace each other
 */
export function specificationOfPeriod<Revision extends Effective>(revisions: readonly Revision[], from: Date): { inForce: Revision[]; used: Revision | null; fromTheStart: boolean } {
  const already = revisions.filter((revision) => revision.effectiveFrom.getTime() <= from.getTime()).length;
  // Two with the same beginning: the later one replaced the earlier before it could hold.
  const inForce = revisions.slice(Math.max(0, already - 1)).filter((revision, index, rest) => rest[index + 1]?.effectiveFrom.getTime() !== revision.effectiveFrom.getTime());
  return { inForce, used: inForce.at(-1) ?? null, fromTheStart: already > 0 };
}
