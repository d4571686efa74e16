import { expect, it } from 'vitest';
import { plannerFigure, type PlannerWords } from './planner.figure.js';

const words: PlannerWords = { shift: 'Shift (mm)', until: 'Cans', point: (curve, shift, until) => `${curve}: ${shift}, ${until}` };
const curve = (name: string, until: (number | null)[]) => ({ name, shifts: [0.01, 0.02, 0.03].slice(0, until.length), until });

it('draws one line a plan, each with a dash, a mark and a name of its own', () => {
  const { data, layout } = plannerFigure([curve('Today', [9000, 800, 90]), curve('Plan 2', [4000, 300, 30])], words);
  expect(data).toMatchObject([{ name: 'Today', x: [0.01, 0.02, 0.03], y: [9000, 800, 90], text: ['Today: 0.01, 9000', 'Today: 0.02, 800', 'Today: 0.03, 90'] }, { name: 'Plan 2', y: [4000, 300, 30] }]);
  const styles = plannerFigure(['a', 'b', 'c', 'd'].map((name) => curve(name, [3, 2, 1])), words).data as { line: { dash: string; color: string }; marker: { symbol: string } }[];
  for (const of of [({ line }: (typeof styles)[number]) => line.dash, ({ line }: (typeof styles)[number]) => line.color, ({ marker }: (typeof styles)[number]) => marker.symbol]) expect(new Set(styles.map(of)).size).toBe(4);
  expect(layout.annotations?.map(({ text, x }) => [text, x])).toEqual([['Today', 0.03], ['Plan 2', 0.03]]);
  expect(layout.yaxis?.type).toBe('log');
});

it('moves names apart where lines end together, and leaves out what is beyond counting', () => {
  const { data, layout } = plannerFigure([curve('one', [null, 50, 10]), curve('two', [70, 20, 10]), curve('three', [70, 20, 10]), curve('none', [null, null])], words);
  expect(data[0]).toMatchObject({ x: [0.02, 0.03], y: [50, 10] });
  const heights = layout.annotations?.map(({ y }) => Number(y)) ?? [];
  expect(heights).toHaveLength(3);
  expect(heights[0]).toBeCloseTo(1, 12);
  for (const [index, height] of heights.slice(1).entries()) expect(height - (heights[index] as number)).toBeGreaterThan(0.15);
});
