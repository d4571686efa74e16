import { expect, it } from 'vitest';
import { smallFigure } from './small-chart.figure.js';

const scale = { low: 0, high: 10 };

it('puts the same value at the same height, whatever else a chart holds', () => {
  const one = smallFigure({ mean: [5, 6], status: ['steady', 'signal'], limits: { lower: 2, centre: 5, upper: 8 } }, scale);
  const other = smallFigure({ mean: [1, 6], status: ['steady', 'signal'], limits: null }, scale);
  expect(one.flags[0]?.y).toBe(other.flags[0]?.y);
  expect(one.lines.map(({ y, centre }) => [y, centre])).toEqual([[26.8, false], [55, true], [83.2, false]]);
  expect(other.lines).toEqual([]);
});

it('breaks the line at a missing mean', () => {
  expect(smallFigure({ mean: [0, null, 10, 10], status: ['steady', 'not-judged', 'steady', 'steady'], limits: null }, scale).path).toBe('M8 102M210.7 8L312 8');
});

it('draws a single point, and one that never moves, in the middle', () => {
  expect(smallFigure({ mean: [3], status: ['signal'], limits: null }, { low: 3, high: 3 }).flags).toEqual([{ x: 160, y: 55 }]);
});
