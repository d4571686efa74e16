import type { ChartCompared } from '#contract/specifications';

export type SmallFigure = { width: number; height: number; path: string; lines: { y: number; centre: boolean }[]; flags: { x: number; y: number }[] };

const WIDTH = 320;
const HEIGHT = 110;
const EDGE = 8;

/** One small chart as drawing instructions: the line breaks where a mean is missing; `scale` is the same for all of them. */
export function smallFigure({ mean, status, limits }: Pick<ChartCompared, 'mean' | 'status' | 'limits'>, scale: { low: number; high: number }): SmallFigure {
  const span = scale.high - scale.low;
  const y = (value: number) => Number((span > 0 ? HEIGHT - EDGE - ((value - scale.low) / span) * (HEIGHT - 2 * EDGE) : HEIGHT / 2).toFixed(1));
  const x = (index: number) => Number((EDGE + (mean.length < 2 ? 0.5 : index / (mean.length - 1)) * (WIDTH - 2 * EDGE)).toFixed(1));
  const path = mean.map((value, index) => (value === null ? '' : `${index > 0 && mean[index - 1] !== null ? 'L' : 'M'}${x(index)} ${y(value)}`)).join('');
  return {
    width: WIDTH, height: HEIGHT, path,
    lines: limits === null ? [] : [{ y: y(limits.upper), centre: false }, { y: y(limits.centre), centre: true }, { y: y(limits.lower), centre: false }],
    flags: mean.flatMap((value, index) => (value !== null && status[index] === 'signal' ? [{ x: x(index), y: y(value) }] : [])),
  };
}
