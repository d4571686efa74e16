import type { ChartRow } from './chart.store.js';
import { linesBySize } from './limits.view.js';

/** The answer of a chart as JSON text: what the database wrote is passed on as it is, only limits are computed. */
export function chartText({ stream, points, older, firings, events, limits, sizes }: ChartRow): string {
  const withLines = limits.map((entry) => ({ ...entry, bySize: linesBySize(entry, sizes.flatMap(({ limitsId, n }) => (limitsId === entry.id ? [n] : []))) }));
  return `{"stream":${stream},"points":${points},"older":${older},"firings":${firings},"limits":${JSON.stringify(withLines)},"events":${events}}`;
}
