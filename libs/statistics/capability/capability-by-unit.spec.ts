import { expect, it } from 'vitest';
import flowWidth from '../../../test/published/flow-width.json' with { type: 'json' };
import { agrees } from '../../../test/published/agrees.js';
import { capability } from './capability.js';
import { capabilityByUnit } from './capability-by-unit.js';

const specification = Object.freeze({ ...flowWidth.specification });
const members = Object.freeze(flowWidth.subgroups.map((row) => Object.freeze([...row])));

it('pooled is the capability of all subgroups together (Montgomery, table 6.1, split in two)', () => {
  const got = capabilityByUnit([{ unit: 'chuck 1', members: members.slice(0, 12) }, { unit: 'chuck 2', members: members.slice(12) }], 'xbar-r', specification);
  const check = { method: 'Capability by unit, pooled', source: 'Montgomery, table 6.1; recomputed with R and NumPy' };
  agrees(check, got.pooled.cpk, flowWidth.capability.cpk, { rel: 1e-5 }, 'Cpk');
  agrees(check, got.pooled.ppk, flowWidth.capability.ppk, { rel: 1e-5 }, 'Ppk');
  expect(got.units[0]?.figures).toEqual(capability({ members: members.slice(0, 12), kind: 'xbar-r', ...specification }));
  expect(got.pooled.subgroups).toBe(25);
});

it('names the worst unit, which the pooled figure hides', () => {
  const good = Array.from({ length: 20 }, (_, i) => [10 + 0.01 * (i % 3), 10.01, 9.99 + 0.01 * (i % 2)]);
  // One seaming chuck with three times the spread.
  const bad = good.map((row) => row.map((value) => 10 + 3 * (value - 10)));
  const units = [...['1', '2', '3', '4', '5'].map((unit) => ({ unit, members: good })), { unit: '6', members: bad }];
  const got = capabilityByUnit(units, 'xbar-s', { lsl: 9.9, usl: 10.1, target: 10 });
  expect(got.worst?.unit).toBe('6');
  expect(got.worst?.ppk).toBe(Math.min(...got.units.map(({ figures }) => figures?.ppk ?? Number.POSITIVE_INFINITY)));
  expect(got.hidden).toBe((got.pooled.ppk ?? Number.NaN) - (got.worst?.ppk ?? Number.NaN));
  expect(got.hidden).toBeGreaterThan(0.1);
});

it('takes no moving range across two units, and gives nothing for a unit with one reading', () => {
  const got = capabilityByUnit([{ unit: 'a', members: [[1], [2], [1], [2]] }, { unit: 'b', members: [[11], [12], [11], [12]] }, { unit: 'c', members: [[5], [null]] }], 'i-mr', { lsl: 0, usl: 20, target: null });
  expect(got.pooled.sdWithin).toBeCloseTo(1 / 1.1283791671, 8);
  expect(got.units.map(({ figures }) => figures === null)).toEqual([false, false, true]);
});

it('refuses no units, a unit twice, and scales without an index', () => {
  expect(() => capabilityByUnit([], 'xbar-r', specification)).toThrow('at least one unit, none given');
  const unit = { unit: 'a', members };
  expect(() => capabilityByUnit([unit, unit], 'xbar-r', specification)).toThrow('every unit once, a given twice');
  expect(() => capabilityByUnit([unit], 'xbar-r', specification, 0.95, 'bounded')).toThrow('capabilityByUnit: needs a characteristic on an open scale');
  expect(() => capability({ members, kind: 'xbar-r', ...specification, scale: 'ordinal' })).toThrow('capability: needs a characteristic on an open scale, an ordinal one (a grade) given');
});
