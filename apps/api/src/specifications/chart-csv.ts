import type { ChartView } from '#contract/specifications';
import { limitsForSize } from '#statistics/charts/limits';
import { type CsvCell, csvFileName, csvText } from '../platform/csv-cell.js';

const SPREAD = { 'xbar-r': 'range', 'xbar-s': 'sd', 'i-mr': 'moving range' } as const;

/** RFC 4180: one row a point with the limits it was judged by. Numbers with all their digits; an empty cell means "none". */
export function chartCsv({ stream, points, limits, firings }: ChartView): string {
  const { unit } = stream.characteristic;
  const spread = SPREAD[stream.chartKind];
  const head = ['taken at (UTC)', 'sequence', 'n', `mean (${unit})`, `${spread} (${unit})`, `lower limit of the mean (${unit})`, `centre line of the mean (${unit})`, `upper limit of the mean (${unit})`,
    `lower limit of the ${spread} (${unit})`, `centre line of the ${spread} (${unit})`, `upper limit of the ${spread} (${unit})`, 'limits id', 'status', 'rules'];
  const rules = new Map<number, string[]>();
  for (const { index, chart, rule, side } of firings) rules.set(index, [...(rules.get(index) ?? []), `${chart} ${rule} ${side}`]);
  const rows = points.takenAt.map((takenAt, index): CsvCell[] => {
    const basis = limits.find(({ id }) => id === points.limitsId[index]);
    const n = points.n[index] ?? 0;
    const lines = basis && n > 0 ? limitsForSize(basis, n) : null;
    return [takenAt, points.sequence[index] ?? null, n, points.mean[index] ?? null, points.spread[index] ?? null, lines?.mean.lower ?? null, lines?.mean.centre ?? null, lines?.mean.upper ?? null,
      lines?.spread?.lower ?? null, lines?.spread?.centre ?? null, lines?.spread?.upper ?? null, points.limitsId[index] ?? null, points.status[index] ?? null, (rules.get(index) ?? []).join('; ')];
  });
  return csvText([head, ...rows]);
}

export function chartFileName({ stream: { machine, unit, lane, characteristic, product } }: ChartView): string {
  return csvFileName(['chart', machine.code, unit?.code, lane?.code, characteristic.code, product.code].filter((part) => part !== undefined));
}
