import type { CanCodePattern } from '#contract/can-codes';

type Version = Pick<CanCodePattern, 'id' | 'lineId' | 'line' | 'pattern' | 'effectiveFrom'>;

/** Lines with at least two versions, each with its versions newest first. */
export function linesWithVersions<Row extends Version>(patterns: readonly Row[]): { lineId: number; line: string; versions: Row[] }[] {
  const lines = new Map<number, { lineId: number; line: string; versions: Row[] }>();
  for (const row of patterns) {
    const line = lines.get(row.lineId) ?? { lineId: row.lineId, line: row.line, versions: [] };
    line.versions.push(row);
    lines.set(row.lineId, line);
  }
  return [...lines.values()].filter(({ versions }) => versions.length > 1).map((line) => ({ ...line, versions: [...line.versions].sort((a, b) => Date.parse(b.effectiveFrom) - Date.parse(a.effectiveFrom) || b.id - a.id) }));
}

/** `at`: where it begins in the pattern. */
type PatternPiece = { text: string; at: number; differs: boolean };

/** The pattern in its fields and what is printed between them, each piece with whether the other version has it, in this order. */
export function piecesOf(pattern: string, other: string): PatternPiece[] {
  const [mine, theirs] = [split(pattern), split(other)];
  // The longest common run of pieces in order: what is left stands for a change.
  const lengths = mine.map(() => theirs.map(() => 0));
  const at = (row: number, column: number): number => lengths[row]?.[column] ?? 0;
  for (let row = mine.length - 1; row >= 0; row -= 1) {
    for (let column = theirs.length - 1; column >= 0; column -= 1) {
      const line = lengths[row];
      if (line) line[column] = mine[row] === theirs[column] ? 1 + at(row + 1, column + 1) : Math.max(at(row + 1, column), at(row, column + 1));
    }
  }
  let [column, begins] = [0, 0];
  return mine.map((text, row): PatternPiece => {
    while (column < theirs.length && theirs[column] !== text && at(row, column + 1) === at(row, column) && at(row, column) > at(row + 1, column)) column += 1;
    const common = column < theirs.length && theirs[column] === text && at(row, column) === 1 + at(row + 1, column + 1);
    if (common) column += 1;
    begins += text.length;
    return { text, at: begins - text.length, differs: !common };
  });
}

const split = (pattern: string): string[] => pattern.match(/\{[^}]*\}|[^{]+/g) ?? [];
