import type { InputOf } from '#contract/endpoint';
import type { compareCharts as compareEndpoint } from '#contract/specifications';
import { limitsForSize } from '#statistics/charts/limits';
import { isoMoments } from '../platform/iso-moments.js';
import type { Tx } from '../platform/work.js';
import { listSmallSeries, type SmallSeries } from './compare.store.js';

const MOST = 100;

/** The same characteristic over machines, units and lanes, on the one scale that all of them fit on; the answer as JSON text. */
export async function compareCharts(tx: Tx, plantId: number, { last, ...filter }: InputOf<typeof compareEndpoint>['query']): Promise<string> {
  const found = await listSmallSeries(tx, plantId, filter, last, MOST + 1);
  const shown = found.slice(0, MOST).map((series) => ({ series, limits: series.newest === null ? null : limitsForSize(series.newest.limits, series.newest.n).mean }));
  const values = shown.flatMap(({ series: { low, high }, limits }) => [low, high, limits?.lower ?? null, limits?.upper ?? null]).filter((value) => value !== null);
  const scale = values.length === 0 ? null : { low: Math.min(...values), high: Math.max(...values) };
  return `{"charts":[${shown.map(({ series, limits }) => chartText(series, limits)).join(',')}],"scale":${JSON.stringify(scale)},"more":${found.length > MOST}}`;
}

function chartText({ stream, hasLimits, openSignals, at, mean, status }: SmallSeries, limits: ReturnType<typeof limitsForSize>['mean'] | null): string {
  const takenAt = isoMoments(at);
  return `{"stream":${JSON.stringify({ ...stream, lastAt: takenAt.at(-1) ?? null, hasLimits, openSignals })},"takenAt":${JSON.stringify(takenAt)},"mean":${mean},"status":${status},"limits":${JSON.stringify(limits)}}`;
}
