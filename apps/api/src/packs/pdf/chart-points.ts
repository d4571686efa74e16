import { chartedMembers, subgroupStatistics } from '#statistics/charts/subgroup';
import { limitsForSize } from '#statistics/charts/limits';
import type { LimitsBasis } from '#statistics/charts/limits-basis';
import { shewhartChart } from '#statistics/charts/shewhart';
import type { Panel } from '#statistics/charts/panel';
import type { PackLimits, PackStream, PeriodChart } from '../pack-content.js';

export type ChartPanels = { panels: readonly [Panel, Panel]; by: PackLimits | null; out: number; points: number };

/** What is drawn: both panels by the frozen limits that judged the last point, else by the limits of the period; null where there are none. */
export function chartPanels(stream: PackStream, chart: PeriodChart | null): ChartPanels | null {
  const statistics = stream.subgroups.map((group) => subgroupStatistics(chartedMembers(group[4], group[3], stream.basis)));
  const by = stream.limits.find(({ id }) => id === stream.subgroups.at(-1)?.[7]) ?? null;
  const basis: LimitsBasis | null = by ?? (chart && { kind: stream.chartKind, centre: chart.centre, sigma: chart.sigma, spreadCentre: chart.spreadCentre, subgroups: chart.subgroups, readings: chart.subgroups * chart.n });
  if (!basis) return null;
  try {
    for (const n of new Set(statistics.map((each) => each.n))) if (n > 0) limitsForSize(basis, n);
    const { panels } = shewhartChart(basis.kind, statistics, basis);
    return { panels, by, out: panels[0].out.length + panels[1].out.length, points: statistics.length };
  } catch (error) {
    if (error instanceof RangeError) return null;
    throw error;
  }
}
