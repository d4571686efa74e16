import type { ChartPoint } from '#contract/specifications';
import { limitsForSize } from '#statistics/charts/limits';
import type { PointRow } from './chart-point.store.js';

/** Readings by can, lines for its own size, and how many readings are outside the specification. */
export function pointView({ canNumbers, readings, basis, ...row }: PointRow): ChartPoint {
  const { specification: spec, positions, mean, n, firings } = row;
  const lines = basis === null || mean === null ? null : limitsForSize(basis, n);
  const outside = (reading: number | null) => reading !== null && spec !== null && ((spec.lsl !== null && reading < spec.lsl) || (spec.usl !== null && reading > spec.usl));
  return {
    ...row,
    cans: canNumbers.map((number, can) => ({ number, readings: readings.slice(can * positions.length, (can + 1) * positions.length) })),
    outsideSpecification: readings.filter(outside).length,
    limits: lines === null || basis === null ? null : { id: basis.id, mean: lines.mean, spread: lines.spread },
    status: lines === null ? 'not-judged' : firings.length > 0 ? 'signal' : 'steady',
  };
}
