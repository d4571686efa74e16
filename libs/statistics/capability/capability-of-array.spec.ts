import { expect, it } from 'vitest';
import flowWidth from '../../../test/published/flow-width.json' with { type: 'json' };
import { agrees } from '../../../test/published/agrees.js';
import { expectWithin } from '../../../test/published/within.js';
import { capability } from './capability.js';
import { capabilityOfArray } from './capability-of-array.js';

const values = Float64Array.from(flowWidth.subgroups.flat());

it('gives what the subgroups give one by one (Montgomery, table 6.1)', () => {
  const got = capabilityOfArray(values, 5, flowWidth.specification);
  const plain = capability({ members: flowWidth.subgroups, kind: 'xbar-r', ...flowWidth.specification });
  agrees({ method: 'Capability of one array', source: 'Montgomery, table 6.1; recomputed with R and NumPy' }, got.cpk, flowWidth.capability.cpk, flowWidth.tolerance, 'Cpk');
  for (const name of ['cp', 'cpk', 'pp', 'ppk', 'cpm', 'nuWithin', 'ppkLowerBound', 'cpmLowerBound', 'mean'] as const) expectWithin(got[name], plain[name] ?? Number.NaN, { rel: 1e-12 }, name);
  expect([got.n, got.subgroups, got.withinGap]).toEqual([125, 25, null]);
});

it('leaves undefined what does not vary, and refuses parts of subgroups', () => {
  expect(capabilityOfArray(new Float64Array(10).fill(0.3), 5, { lsl: 0, usl: 1, target: null })).toMatchObject({ cp: null, ppk: null, withinGap: 'no-variation' });
  expect(capabilityOfArray(values.slice(0, 5), 5, { lsl: 0, usl: 3, target: null }).withinGap).toBe('too-few-subgroups');
  expect(() => capabilityOfArray(values.slice(0, 7), 5, { lsl: 0, usl: 1, target: null })).toThrow('whole subgroups of 5, 7 readings given');
  expect(() => capabilityOfArray(values, 5, { lsl: 2, usl: 1, target: null })).toThrow('expected below the upper one 1');
});
