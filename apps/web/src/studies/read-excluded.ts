/** "1042 gauge was dropped", one a line. `badLine`: the first line (from 1) that is no check number with a reason; null when all are. */
export function readExcluded(text: string): { excluded: { checkId: number; reason: string }[]; badLine: number | null } {
  const excluded: { checkId: number; reason: string }[] = [];
  for (const [index, line] of text.split('\n').entries()) {
    if (line.trim() === '') continue;
    const found = /^\s*(\d{1,10})[\s,;:]+(\S.{2,})$/.exec(line.trimEnd());
    if (!found) return { excluded, badLine: index + 1 };
    excluded.push({ checkId: Number(found[1]), reason: (found[2] as string).trim() });
  }
  return { excluded, badLine: null };
}
