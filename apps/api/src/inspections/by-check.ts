/** What belongs to each check, in the order given; nothing for a check without any. */
export function byCheck<Part extends { checkId: number }>(parts: readonly Part[]): (checkId: number) => Part[] {
  const found = new Map<number, Part[]>();
  for (const part of parts) {
    const own = found.get(part.checkId);
    if (own) own.push(part);
    else found.set(part.checkId, [part]);
  }
  return (checkId) => found.get(checkId) ?? [];
}
