import { expect, it } from 'vitest';
import { chartToUse, memoryOfReadings, partOfVariation } from '#contract/workbench/choosing';
import type { FormedData } from '../form/form-data.js';
import type { ChartAnswer } from '../results/workbench-chart.figure.js';
import { memoryRequest, recommendRequest, varianceRequest } from './variance-request.js';

const data = (subgroups: (number | null)[][]): FormedData => ({ type: 'subgroups', subgroups, heads: null, incomplete: false, scattered: 0, products: null, names: null, readings: 4, missing: 0, decimals: 2 });
const nesting = { values: [1, 2, 2, 4], levels: [{ name: 'head', labels: ['a', 'a', 'b', 'b'] }] };

it('asks how variation parts where groups hold several readings, and about nothing else', () => {
  const request = varianceRequest(nesting, data([[1, 2], [2, 4]]), 0.9);
  expect(request).toEqual({ ...nesting, confidence: 0.9 });
  expect(partOfVariation.body?.safeParse(request).success).toBe(true);
  expect(varianceRequest({ ...nesting, levels: [{ name: 'head', labels: ['a', 'b', 'c', 'd'] }] }, data([[1], [2]]), 0.95)).toBeNull();
  expect(varianceRequest({ ...nesting, levels: [{ name: 'head', labels: ['a', 'a', 'a', 'a'] }] }, data([[1, 2, 2, 4]]), 0.95)).toBeNull();
  expect(varianceRequest(nesting, { ...data([[1, 2], [2, 4]]), products: { names: ['a', 'b'], nominals: [1, 2] } } as FormedData, 0.95)).toBeNull();
  expect(varianceRequest(null, null, 0.95)).toBeNull();
});

it('asks which chart suits subgroups, places round one piece and several products', () => {
  const request = recommendRequest(data([[1, 2], [3, null]]), 'positions');
  expect(request).toEqual({ subgroups: [[1, 2], [3, null]], members: 'positions', products: 1 });
  expect(chartToUse.body?.safeParse(request).success).toBe(true);
  expect(recommendRequest({ type: 'values', values: [1, 2], products: { names: ['a', 'b'], nominals: [1, 1] }, names: null, readings: 2, missing: 0, decimals: 0 }, 'pieces')).toMatchObject({ products: 2 });
  expect(recommendRequest({ type: 'counts', counts: [1], sizes: null, names: null, readings: 1, missing: 0, decimals: 0 }, 'pieces')).toBeNull();
});

it('asks what plotted means remember from eight on, and never about ranges or constants', () => {
  const answer = (statistic: string, points: (number | null)[]) => ({ panels: [{ statistic, points }] }) as unknown as ChartAnswer;
  const request = memoryRequest(answer('mean', [1, 2, 3, null, 4, 5, 6, 7, 8]));
  expect(request).toEqual({ values: [1, 2, 3, null, 4, 5, 6, 7, 8] });
  expect(memoryOfReadings.body?.safeParse(request).success).toBe(true);
  expect(memoryRequest(answer('mean', [1, 2, 3]))).toBeNull();
  expect(memoryRequest(answer('c', [1, 2, 3, 4, 5, 6, 7, 8]))).toBeNull();
  expect(memoryRequest(undefined)).toBeNull();
});
