import { expect, it } from 'vitest';
import { chart } from '#contract/workbench/charts';
import { type Choices, KINDS, START } from '../choices.js';
import type { FormedData } from '../form/form-data.js';
import { chartRequest, kindOf, kindsFor } from './chart-request.js';

const common = { names: null, readings: 4, missing: 0, decimals: 2 };
const VALUES: FormedData = { type: 'values', values: [1, 2, null, 4], products: null, ...common };
const SUBGROUPS: FormedData = { type: 'subgroups', subgroups: [[1, 2], [3, null], [2, 2]], heads: ['a', 'b'], incomplete: false, scattered: 0, products: null, ...common };
const counts = (sizes: number | number[] | null): FormedData => ({ type: 'counts', counts: [1, 0, null, 3], sizes, ...common });
const EVENTS: FormedData = { type: 'events', gaps: [10, 20, 30], ...common };
const SEVERAL: FormedData = { ...SUBGROUPS, products: { names: ['73', '99', '73'], nominals: [1.5, 2, 1.5] } } as FormedData;
const choices = (given: Partial<Choices> = {}): Choices => ({ ...START, ...given });

it('asks for every kind that it offers in the shape that the server takes', () => {
  const asked = new Set<string>();
  for (const [data, given] of [[VALUES, {}], [SUBGROUPS, {}], [SEVERAL, {}], [{ ...VALUES, products: { names: ['a', 'a', 'b', 'b'], nominals: [1, 1, 2, 2] } }, {}], [counts(50), {}], [counts([50, 40, 50, 60]), {}], [counts(null), { counted: 'defects' }], [counts([1.5, 2, 2, 1]), { counted: 'defects' }], [EVENTS, {}], [EVENTS, { event: 'times' }]] as [FormedData, Partial<Choices>][]) {
    for (const kind of kindsFor(data, choices(given))) {
      const request = chartRequest(data, choices(given), kind);
      expect(request, kind).toHaveProperty('body');
      if ('body' in request) expect(chart.body?.parse(request.body)).toMatchObject({ kind });
      asked.add(kind);
    }
  }
  expect([...asked].sort()).toEqual([...KINDS].sort());
});

it('takes the chosen kind, else the usual one, and never one that the data cannot show', () => {
  expect(kindOf(VALUES, choices())).toBe('i-mr');
  expect(kindOf(VALUES, choices({ kind: 'ewma' }))).toBe('ewma');
  expect(kindOf(SUBGROUPS, choices({ kind: 'p' }))).toBe('xbar-r');
  expect(kindOf(counts(50), choices({ kind: 'xbar-r' }))).toBe('p');
});

it('names unfinished fields instead of asking', () => {
  expect(chartRequest(VALUES, choices({ baseline: '9' }), 'i-mr')).toEqual({ faults: ['baseline'] });
  expect(chartRequest(VALUES, choices({ baseline: '3' }), 'i-mr')).toMatchObject({ body: { baseline: 3 } });
  expect(chartRequest(VALUES, choices({ baseline: 'x' }), 'ewma')).toMatchObject({ body: { lambda: 0.2 } });
  expect(chartRequest(VALUES, choices({ lambda: '1.5' }), 'ewma')).toEqual({ faults: ['lambda'] });
  expect(chartRequest(VALUES, choices({ allowance: '', interval: '0' }), 'cusum')).toEqual({ faults: ['allowance', 'interval'] });
  expect(chartRequest(SUBGROUPS, choices({ target: '1,25' }), 'cusum')).toMatchObject({ body: { target: 1.25, subgroups: [[1, 2], [3, null], [2, 2]] } });
});

it('makes the same lists for the same readings, so that nothing is asked twice', () => {
  const [one, two] = [chartRequest(SUBGROUPS, choices(), 'group'), chartRequest(SUBGROUPS, choices({ unit: 'mm' }), 'group')];
  if (!('body' in one && 'body' in two && one.body.kind === 'group' && two.body.kind === 'group')) throw new Error('no request');
  expect(two.body.checks).toBe(one.body.checks);
  expect(two.body.heads).toBe(one.body.heads);
});

it('charts deviations where every point has a product and a nominal, and offers that first', () => {
  expect(kindOf(SEVERAL, choices())).toBe('deviation-from-nominal');
  expect(chartRequest(SEVERAL, choices(), 'deviation-from-nominal')).toMatchObject({ body: { chart: 'xbar-r', checks: [{ product: '73', nominal: 1.5, readings: [1, 2] }, { product: '99', nominal: 2, readings: [3, null] }, { product: '73', readings: [2, 2] }] } });
});
