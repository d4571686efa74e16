import type { ChartRow } from './chart.store.js';
import { linesBySize } from './limits.view.js';

/** The answer of a chart as JSON text: what the database wrote is passed on as it is, only limits are computed. */
export function chartText({ stream, points, older, firings, events, limits, sizes }: ChartRow): string {
  const withLines = limits.map((entry) => ({ ...entry, bySize: linesBySize(entry, sizes.flatMap(({ limitsId, n }) => (limitsId === entry.id ? [n] : []))) }));
  return `{"stream":${stream},"points":${withMoments(points)},"older":${older},"firings":${firings},"limits":${JSON.stringify(withLines)},"events":${events}}`;
}

const AT = /^\{"at" : (\[[^\]]*\]), /;

/** The column of milliseconds as moments; the other columns stay the text that they are. */
function withMoments(points: string): string {
  const column = AT.exec(points);
  if (!column?.[1]) throw new RangeError(`chartText: the points begin with "${points.slice(0, 20)}", a column of milliseconds is expected`);
  const moments = (JSON.parse(column[1]) as number[]).map((milliseconds) => new Date(milliseconds).toISOString());
  return `{"takenAt":${JSON.stringify(moments)},${points.slice(column[0].length)}`;
}
