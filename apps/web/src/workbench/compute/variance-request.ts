import type { FormedData } from '../form/form-data.js';
import type { ChartAnswer } from '../results/workbench-chart.figure.js';
import type { ChartBody } from './chart-request.js';

const NO_RULES: ('beyond-limits')[] = [];

/** Asks for the spread between and within subgroups; null where the data cannot tell them apart: single readings, one subgroup, several products. */
export function varianceRequest(data: FormedData | null): ChartBody | null {
  if (data?.type !== 'subgroups' || data.products !== null) return null;
  const found = data.subgroups.map((members) => members.reduce<number>((sum, value) => sum + (value === null ? 0 : 1), 0));
  if (found.filter((n) => n >= 2).length < 2) return null;
  return { kind: 'between-within', subgroups: data.subgroups, spread: found.some((n) => n > 10) ? 'sd' : 'range', rules: NO_RULES };
}

export type VarianceRow = { source: 'between' | 'within' | 'total'; sigma: number; share: number };
/** The components as shares of their sum; null where the answer does not hold them. */
export function varianceRows({ estimates: { sigmaBetween, sigmaWithin, sigmaTotal } }: Pick<ChartAnswer, 'estimates'>): VarianceRow[] | null {
  if (sigmaBetween == null || sigmaWithin == null || sigmaTotal == null || sigmaTotal <= 0) return null;
  // Ratios before squares: the square of a very small or large sigma is no number any more.
  const share = (sigma: number) => (sigma / sigmaTotal) ** 2;
  return [{ source: 'between', sigma: sigmaBetween, share: share(sigmaBetween) }, { source: 'within', sigma: sigmaWithin, share: share(sigmaWithin) }, { source: 'total', sigma: sigmaTotal, share: 1 }];
}
