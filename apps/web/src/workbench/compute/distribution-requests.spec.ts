import { expect, it } from 'vitest';
import { capabilityIndices, fitDistributions, fractionOutside, histogramOfValues, normality, probabilityPlotOfValues } from '#contract/workbench/capability';
import { START } from '../choices.js';
import type { FormedData } from '../form/form-data.js';
import { distributionBodies, membersOf, probabilityBody, readingsOf } from './distribution-requests.js';

const SUBGROUPS: FormedData = { type: 'subgroups', subgroups: [[1, 2, null], [3, 2, 1], [2, 2, 2]], heads: null, incomplete: false, scattered: 0, products: null, names: null, readings: 8, missing: 1, decimals: 2 };
const VALUES: FormedData = { type: 'values', values: [1, null, 3], products: null, names: null, readings: 2, missing: 1, decimals: 1 };
const COUNTS: FormedData = { type: 'counts', counts: [1, 2], sizes: 10, names: null, readings: 2, missing: 0, decimals: 0 };
const bodies = (data: FormedData, scale: 'open' | 'bounded' = 'open', specification = { lsl: 0, target: null, usl: 5 } as { lsl: number | null; target: number | null; usl: number | null } | null, kind: 'xbar-r' | 'i-mr' | 'xbar-s' | 'p' = 'xbar-r') =>
  distributionBodies(readingsOf(data), membersOf(data), data, kind, { ...START, scale }, specification);

it('asks in shapes that the server takes', () => {
  const asked = bodies(SUBGROUPS);
  for (const [endpoint, body] of [[histogramOfValues, asked.histogram], [normality, asked.normality], [fitDistributions, asked.fits], [capabilityIndices, asked.capability], [fractionOutside, asked.fraction], [probabilityPlotOfValues, probabilityBody(readingsOf(SUBGROUPS), 'weibull', 0.9)]] as const) expect(endpoint.body?.safeParse(body).success, endpoint.path).toBe(true);
  expect(asked.histogram).toEqual({ values: [1, 2, 3, 2, 1, 2, 2, 2], gaugeStep: 0.01 });
  expect(asked.capability).toMatchObject({ chart: 'xbar-r', lsl: 0, usl: 5, confidence: 0.95, subgroups: SUBGROUPS.type === 'subgroups' ? SUBGROUPS.subgroups : [] });
});

it('takes sigma within as the chart does', () => {
  expect(bodies(SUBGROUPS, 'open', undefined, 'xbar-s').capability?.chart).toBe('xbar-s');
  expect(bodies(VALUES, 'open', undefined, 'i-mr').capability).toMatchObject({ chart: 'i-mr', subgroups: [[1], [null], [3]] });
  const large: FormedData = { ...SUBGROUPS, subgroups: [Array.from({ length: 12 }, (_none, index) => index), [1, 2]] };
  expect(bodies(large).capability?.chart).toBe('xbar-s');
});

it('asks for no index of a share, without limits, or of counts', () => {
  expect(bodies(SUBGROUPS, 'bounded')).toMatchObject({ capability: null, fits: null, fraction: { lsl: 0, usl: 5 } });
  expect(bodies(SUBGROUPS, 'open', { lsl: null, target: 2, usl: null })).toMatchObject({ capability: null, fraction: null });
  expect(bodies(SUBGROUPS, 'open', null)).toMatchObject({ capability: null, fits: { lsl: null, usl: null } });
  expect(bodies(COUNTS, 'open', undefined, 'p')).toEqual({ histogram: null, normality: null, fits: null, capability: null, fraction: null });
  expect(bodies({ ...VALUES, products: { names: ['a', 'a', 'b'], nominals: [1, 1, 2] } } as FormedData)).toMatchObject({ capability: null, histogram: null, fits: null });
  expect(bodies(VALUES).normality).toBeNull();
  expect(probabilityBody([1, 2], 'normal', 0.95)).toBeNull();
});
