import type { AnswerOf, InputOf } from '#contract/endpoint';
import type { compareCharts as compareEndpoint } from '#contract/specifications';
import { limitsForSize } from '#statistics/charts/limits';
import type { Tx } from '../platform/work.js';
import { listSmallSeries } from './compare.store.js';

const MOST = 100;

/** The same characteristic over machines, units and lanes, on the one scale that all of them fit on. */
export async function compareCharts(tx: Tx, plantId: number, { last, ...filter }: InputOf<typeof compareEndpoint>['query']): Promise<AnswerOf<typeof compareEndpoint>> {
  const found = await listSmallSeries(tx, plantId, filter, last, MOST + 1);
  const charts = found.slice(0, MOST).map(({ newest, ...small }) => ({ ...small, limits: newest === null ? null : limitsForSize(newest.limits, newest.n).mean }));
  const values = charts.flatMap(({ mean, limits }) => [...mean.filter((value) => value !== null), ...(limits === null ? [] : [limits.lower, limits.upper])]);
  return { charts, scale: values.length === 0 ? null : { low: values.reduce((a, b) => Math.min(a, b)), high: values.reduce((a, b) => Math.max(a, b)) }, more: found.length > MOST };
}
