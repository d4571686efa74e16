import type { AnswerOf, InputOf } from '#contract/endpoint';
import type { compareCharts as compareEndpoint } from '#contract/specifications';
import { limitsForSize } from '#statistics/charts/limits';
import type { Tx } from '../platform/work.js';
import { listSmallSeries } from './compare.store.js';
import { listStreams } from './stream-list.store.js';

const MOST = 100;

/** The same characteristic over machines, units and lanes, on the one scale that all of them fit on. */
export async function compareCharts(tx: Tx, plantId: number, { last, ...filter }: InputOf<typeof compareEndpoint>['query']): Promise<AnswerOf<typeof compareEndpoint>> {
  const found = await listStreams(tx, plantId, filter, null, MOST + 1);
  const streams = found.slice(0, MOST);
  const series = await listSmallSeries(tx, plantId, streams.map(({ id }) => id), last);
  const charts = streams.flatMap((stream) => {
    const small = series.get(stream.id);
    if (!small) return [];
    const { takenAt, mean, status, newest } = small;
    return [{ stream, takenAt, mean, status, limits: newest === null ? null : limitsForSize(newest.limits, newest.n).mean }];
  });
  const values = charts.flatMap(({ mean, limits }) => [...mean.filter((value) => value !== null), ...(limits === null ? [] : [limits.lower, limits.upper])]);
  return { charts, scale: values.length === 0 ? null : { low: values.reduce((a, b) => Math.min(a, b)), high: values.reduce((a, b) => Math.max(a, b)) }, more: found.length > MOST };
}
