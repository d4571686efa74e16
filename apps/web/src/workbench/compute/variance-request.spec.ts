import { expect, it } from 'vitest';
import { chart } from '#contract/workbench/charts';
import type { FormedData } from '../form/form-data.js';
import { varianceRequest, varianceRows } from './variance-request.js';

const data = (subgroups: (number | null)[][]): FormedData => ({ type: 'subgroups', subgroups, heads: null, incomplete: false, scattered: 0, products: null, names: null, readings: 4, missing: 0, decimals: 2 });

it('asks about subgroups that can tell spread between from spread within, and about nothing else', () => {
  const request = varianceRequest(data([[1, 2], [2, 4], [3]]));
  expect(request).toMatchObject({ kind: 'between-within', spread: 'range', rules: [] });
  expect(chart.body?.safeParse(request).success).toBe(true);
  expect(varianceRequest(data([Array.from({ length: 12 }, (_none, index) => index), [1, 2]]))).toMatchObject({ spread: 'sd' });
  expect(varianceRequest(data([[1, 2], [3, null]]))).toBeNull();
  expect(varianceRequest({ ...data([[1, 2], [2, 4]]), products: { names: ['a', 'b'], nominals: [1, 2] } } as FormedData)).toBeNull();
  expect(varianceRequest({ type: 'values', values: [1, 2], products: null, names: null, readings: 2, missing: 0, decimals: 0 })).toBeNull();
  expect(varianceRequest(null)).toBeNull();
});

it('gives components as shares that sum to one', () => {
  expect(varianceRows({ estimates: { sigmaBetween: 3, sigmaWithin: 4, sigmaTotal: 5 } })).toEqual([{ source: 'between', sigma: 3, share: expect.closeTo(0.36, 12) }, { source: 'within', sigma: 4, share: expect.closeTo(0.64, 12) }, { source: 'total', sigma: 5, share: 1 }]);
  expect(varianceRows({ estimates: { sigmaBetween: 0, sigmaWithin: 1e-200, sigmaTotal: 1e-200 } })?.map(({ share }) => share)).toEqual([0, 1, 1]);
  expect(varianceRows({ estimates: { sigmaWithin: 4 } })).toBeNull();
});
