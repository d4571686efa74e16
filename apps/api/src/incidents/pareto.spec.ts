import { expect, it } from 'vitest';
import { paretoBars } from './pareto.js';

const group = (value: string | null, incidents: number, cansComplained: number) => ({ value, name: null, incidents, cansComplained });

it('puts the largest first by what is weighed, and adds the shares up to one', () => {
  const groups = [group('a', 1, 90), group(null, 2, 0), group('b', 5, 10)];
  expect(paretoBars(groups, 'defect', 'incidents').map(({ value, cumulative }) => [value, cumulative])).toEqual([['b', 5 / 8], [null, 7 / 8], ['a', 1]]);
  expect(paretoBars(groups, 'defect', 'cans').map(({ value, share }) => [value, share])).toEqual([['a', 0.9], ['b', 0.1], [null, 0]]);
});

it('keeps months in their order, and gives shares of 0 where no can was complained of', () => {
  expect(paretoBars([group('2026-02', 9, 0), group('2025-12', 1, 0)], 'month', 'cans')).toMatchObject([{ value: '2025-12', share: 0, cumulative: 0 }, { value: '2026-02', share: 0 }]);
  expect(paretoBars([], 'defect', 'cans')).toEqual([]);
});
