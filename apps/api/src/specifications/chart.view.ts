import type { ChartFiring } from '#contract/specifications';
import { isoMoments } from '../platform/iso-moments.js';
import type { ChartRow, Fired } from './chart.store.js';
import { linesBySize } from './limits.view.js';

/** The answer of a chart as JSON text: what the database wrote is passed on as it is, only moments, places of firings and limits are computed. */
export function chartText({ stream, older, firings, events, limits, ...columns }: ChartRow): string {
  const at = JSON.parse(columns.at) as number[];
  const sizes = sizesOf(JSON.parse(columns.limitsId) as (number | null)[], JSON.parse(columns.n) as number[]);
  const withLines = limits.map((entry) => ({ ...entry, bySize: linesBySize(entry, [...(sizes.get(entry.id) ?? [])]) }));
  const points = `{"takenAt":${JSON.stringify(isoMoments(at))},"sequence":${columns.sequence},"n":${columns.n},"mean":${columns.mean},"spread":${columns.spread},"limitsId":${columns.limitsId},"status":${columns.status}}`;
  return `{"stream":${stream},"points":${points},"older":${older},"firings":${JSON.stringify(placed(firings, at, columns.sequence))},"limits":${JSON.stringify(withLines)},"events":${events}}`;
}

/** The subgroup sizes that points judged by each limits have. */
function sizesOf(limitsId: readonly (number | null)[], n: readonly number[]): Map<number, Set<number>> {
  const sizes = new Map<number, Set<number>>();
  limitsId.forEach((id, index) => {
    const size = n[index] ?? 0;
    if (id === null || size <= 0) return;
    const known = sizes.get(id);
    if (known) known.add(size);
    else sizes.set(id, new Set([size]));
  });
  return sizes;
}

/** Firings by the index of their point; of one moment only the last subgroups may be shown, and firings of others are none of this chart. */
function placed(firings: readonly Fired[], at: readonly number[], sequences: string): ChartFiring[] {
  if (firings.length === 0) return [];
  const sequence = JSON.parse(sequences) as number[];
  const placeOf = new Map(at.map((milliseconds, index) => [`${milliseconds} ${sequence[index]}`, index]));
  return firings.flatMap(({ at: moment, sequence: own, ...firing }) => {
    const index = placeOf.get(`${moment} ${own}`);
    return index === undefined ? [] : [{ index, ...firing }];
  });
}
