import { expect, it } from 'vitest';
import { chart, chartAnswer, chartBody } from '#contract/workbench/charts';
import { chartsExamples } from './charts.examples.js';
import { chartsMethods } from './charts.js';

const answerTo = (body: unknown) => {
  const [method] = chartsMethods;
  if (method?.endpoint !== chart) throw new Error('the chart method is expected');
  return chartAnswer.parse(method.compute(body, () => undefined));
};

it('there is an example of every kind, and each answers as the contract says, with panels of one length', () => {
  const kinds = chartBody.options.map((option) => option.shape.kind.value);
  expect(chartsExamples.map(({ body }) => chartBody.parse(body).kind).sort()).toEqual([...kinds].sort());
  for (const { body } of chartsExamples) {
    const { panels } = answerTo(body);
    expect(panels.length).toBeGreaterThan(0);
    for (const { points, centre, lower, upper, sigma } of panels) expect(new Set([points, centre, lower, upper, sigma].map((list) => list.length)).size).toBe(1);
  }
});

it('the first subgroups set the limits, and all are judged by them', () => {
  const values = [10, 12, 11, 13, 10, 40, null, 11];
  const { panels, estimates } = answerTo({ kind: 'i-mr', values, baseline: 5 });
  expect(estimates.centre).toBe(11.2);
  expect(panels.map(({ firings }) => firings)).toEqual([[{ index: 5, rule: 'beyond-limits', side: 'above', firstIndex: 5 }], [{ index: 5, rule: 'beyond-limits', side: 'above', firstIndex: 5 }]]);
});

it('rules that do not suit a panel are left out of it, and that is noted', () => {
  const values = [1, 3, 1, 3, 1, 3, 1, 3, 2.1, 2.2, 2.1, 2.2, 2.1, 2.2, 2.1, 2.2];
  const rules = ['beyond-limits', 'eight-in-a-row'];
  const judged = answerTo({ kind: 'i-mr', values, rules });
  expect(judged.panels.map((panel) => panel.rules)).toEqual([rules, ['beyond-limits']]);
  expect(judged.panels[0]?.firings).toEqual([{ index: 14, rule: 'eight-in-a-row', side: 'above', firstIndex: 7 }, { index: 15, rule: 'eight-in-a-row', side: 'above', firstIndex: 8 }]);
  expect(judged.notes).toEqual(['rules-left-out']);
  expect(answerTo({ kind: 'i-mr', values, rules, patternsOnSkewed: true }).notes).toEqual([]);
});

it('says what a chart cannot say', () => {
  expect(answerTo({ kind: 'p', counts: [0, 0], sizes: 10 }).notes).toEqual(['no-variation']);
  expect(answerTo({ kind: 'g', gaps: [0, 1, 2, 1] }).notes).toEqual(['short-gap-cannot-signal']);
  expect(answerTo({ kind: 'g', gaps: [40_000, 31_000, 52_000] }).notes).toEqual(['below-means-more-often']);
  expect(answerTo({ kind: 't', times: [5, 900, 40, 3], method: 'power' }).notes).toEqual(['no-lower-limit']);
  expect(answerTo({ kind: 'between-within', subgroups: [[1, 30], [2, 29], [1, 31]] }).notes).toEqual(['no-between']);
  const check = (product: string, spread: number) => ({ product, nominal: 5, readings: [5 - spread, 5, 5 + 2 * spread, 5 + spread] });
  const checks = [1, 2, 3, 4].flatMap((factor) => [check('a', 0.01 * factor), check('b', factor)]);
  expect(answerTo({ kind: 'deviation-from-nominal', chart: 'xbar-s', checks }).notes).toEqual(['spreads-differ']);
  expect(answerTo({ kind: 'deviation-from-nominal', chart: 'i-mr', checks: [...checks.slice(0, 3), { product: 'c', nominal: 4, readings: [4.1] }] }).notes).toEqual(['spreads-unknown']);
});

it('averages and sums of means take their sigma from within the subgroups', () => {
  const subgroups = [[1, 3], [2, 4], [1, 5], [3, 3]];
  const { estimates, panels } = answerTo({ kind: 'ewma', subgroups, lambda: 1, factor: 3 });
  const means = answerTo({ kind: 'xbar-r', subgroups });
  expect(estimates.target).toBe(means.estimates.centre);
  panels[0]?.upper.forEach((limit, i) => { expect(limit).toBeCloseTo(means.panels[0]?.upper[i] ?? Number.NaN, 12); });
  expect(() => answerTo({ kind: 'cusum', subgroups: [[1, 3], [2, 4, 9], [1, 5]] })).toThrow('needs subgroups of one size');
  expect(chartBody.safeParse({ kind: 'ewma' }).error?.issues[0]?.message).toBe('either `values` or `subgroups` is expected');
  expect(chartBody.safeParse({ kind: 'cusum', subgroups, values: [1] }).success).toBe(false);
});

it('names heads, and refuses a check with another number of them', () => {
  const body = { kind: 'group', heads: ['chuck 1', 'chuck 2'], checks: [[[1, 2], [5, 6]], [[2, 1], [6, 6]]], run: 2 };
  expect(answerTo(body).group).toMatchObject({ highest: [['chuck 2'], ['chuck 2']], runs: [{ index: 1, head: 'chuck 2', side: 'above', length: 2, from: 0 }, { head: 'chuck 1', side: 'below' }], averageRunLength: 3, probability: 0.5 });
  expect(() => answerTo({ ...body, checks: [[[1, 2]]] })).toThrow('2 heads and 1 lists at check 1 given');
});
