import type { ChartAnswer } from '../results/workbench-chart.figure.js';

export type CsvHeadings = { point: string; name: string; panel: string; value: string; centre: string; lower: string; upper: string; sigma: string; signals: string };
/** A number or a word in a form that spreadsheets and programs read alike. Text that a spreadsheet would run as a formula is kept text by an apostrophe. */
function field(value: string | number | null): string {
  if (value === null) return '';
  if (typeof value === 'number') return String(value);
  const safe = /^[=+\-@\t\r]/.test(value) ? `'${value}` : value;
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}

/** Every point of every panel with its limits and the rules that fired at it: CSV (RFC 4180), decimal points, full precision, points counted from 1. */
export function pointsCsv({ panels }: Pick<ChartAnswer, 'panels'>, names: readonly string[] | null, headings: CsvHeadings, panelName: (statistic: ChartAnswer['panels'][number]['statistic']) => string): string {
  const lines = [Object.values(headings).map(field).join(',')];
  for (const panel of panels) {
    const rules = new Map<number, string[]>();
    for (const { index, rule, side } of panel.firings) rules.set(index, [...(rules.get(index) ?? []), `${rule} ${side}`]);
    const name = field(panelName(panel.statistic));
    panel.points.forEach((value, index) => {
      lines.push([index + 1, names?.[index] ?? null].map(field).concat(name, [value, panel.centre[index] ?? null, panel.lower[index] ?? null, panel.upper[index] ?? null, panel.sigma[index] ?? null, (rules.get(index) ?? []).join('; ') || null].map(field)).join(','));
    });
  }
  return `${lines.join('\r\n')}\r\n`;
}
