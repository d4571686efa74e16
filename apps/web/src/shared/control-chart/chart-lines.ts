import type { ChartView } from '#contract/specifications';

type Band = { lower: number; centre: number; upper: number };
export type PointLines = { mean: (Band & { sigma: number }) | null; spread: Band | null };

/** The lines that each point was judged by, looked up by its limits and its own size. */
export function linesOfPoints({ points, limits }: Pick<ChartView, 'points' | 'limits'>): PointLines[] {
  const known = new Map(limits.map(({ id, bySize }) => [id, new Map(bySize.map((entry) => [entry.n, entry]))]));
  return points.limitsId.map((limitsId, index) => {
    const lines = limitsId === null ? undefined : known.get(limitsId)?.get(points.n[index] ?? 0);
    return { mean: lines?.mean ?? null, spread: lines?.spread ?? null };
  });
}

/** A line over time: broken where there is none, and where other limits begin. Of a level stretch only its two ends, which draw the same line. */
export function brokenLine(x: readonly string[], values: readonly (number | null)[], limitsId: readonly (number | null)[]): { x: (string | null)[]; y: (number | null)[] } {
  const line: { x: (string | null)[]; y: (number | null)[] } = { x: [], y: [] };
  const goesOn = (index: number, other: number) => values[index] === values[other] && limitsId[index] === limitsId[other];
  values.forEach((value, index) => {
    if (index > 0 && index < values.length - 1 && goesOn(index, index - 1) && goesOn(index, index + 1)) return;
    if (index > 0 && limitsId[index] !== limitsId[index - 1]) { line.x.push(null); line.y.push(null); }
    line.x.push(x[index] ?? null);
    line.y.push(value);
  });
  return line;
}
