import type { ChartView } from '#contract/specifications';
import type { Scope } from '../platform/scope.js';

/**
 * A chart of an auditor's span: without line events (their words may name other customers), without limits that no shown point was
 * judged by, and without the first moving range where it reaches back to a point before the span.
 */
export function chartOf(chart: ChartView, scope: Scope, from: string): ChartView {
  const [{ points }, beginsTheSpan] = [chart, new Date(from) <= scope.from];
  const used = new Set(points.limitsId);
  const reachesBack = chart.stream.chartKind === 'i-mr' && chart.older && beginsTheSpan;
  return {
    ...chart, events: [], limits: chart.limits.filter(({ id }) => used.has(id)), older: chart.older && !beginsTheSpan,
    points: reachesBack ? { ...points, spread: [null, ...points.spread.slice(1)] } : points,
  };
}
