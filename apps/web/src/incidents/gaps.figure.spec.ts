import { expect, it } from 'vitest';
import { gapsFigure } from './gaps.figure.js';

const words = { lower: 'low', centre: 'middle', upper: 'high', axis: 'cans', out: 'out' };
const lines = { lower: 100, centre: 5000, upper: 40_000, mean: 7000, below: 0.001, above: 0.001, out: [{ index: 2, side: 'below' as const }] };

it('breaks the line where a gap was not counted, and marks what is beyond a limit by shape as well', () => {
  const { data, layout } = gapsFigure([4000, null, 20], ['a', 'b', 'c'], lines, words);
  expect(data[0]).toMatchObject({ y: [4000, null, 20], connectgaps: false, marker: { symbol: ['circle', 'circle', 'diamond'] } });
  expect(layout.annotations?.map(({ text }) => text)).toEqual(['low', 'middle', 'high']);
  expect(layout.annotations?.[0]?.y).toBe(2);
});

it('draws a gap of 0 at the foot of the scale and leaves out a limit that does not exist', () => {
  const { data, layout } = gapsFigure([0, 400], ['a', 'b'], { ...lines, lower: null, out: [] }, words);
  expect(data[0]).toMatchObject({ y: [200, 400] });
  expect(layout.shapes).toHaveLength(2);
});
