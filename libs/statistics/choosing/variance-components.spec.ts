import fc from 'fast-check';
import { expect, it } from 'vitest';
import { agrees, agreesExactly } from '../../../test/published/agrees.js';
import reference from '../../../test/published/choosing.json' with { type: 'json' };
import oxide from '../../../test/published/oxide-thickness.json' with { type: 'json' };
import type { NestedReadings } from './nesting.js';
import { varianceComponents } from './variance-components.js';

const flat = oxide.readings.flatMap((zones, run) => zones.flatMap((wafers, zone) => wafers.map((value) => ({ run, zone, value }))));
const thickness: NestedReadings = { names: ['run', 'zone'], labels: [flat.map(({ run }) => run), flat.map(({ zone }) => zone)], values: flat.map(({ value }) => value) };

it('parts oxide thickness into runs, zones and wafers', () => {
  const check = { method: 'Nested variance components', source: 'NIST e-Handbook 3.5.1.4' };
  const { components, balanced, n } = varianceComponents(thickness);
  agreesExactly(check, { n, balanced, df: components.map(({ df }) => df), groups: components.map(({ groups }) => groups) }, { n: 168, balanced: true, df: oxide.df, groups: [21, 84, 168] }, 'oxide thickness, freedom');
  components.forEach(({ ss, ms, test, raw, share, interval }, k) => {
    agrees(check, ss, oxide.ss[k] ?? Number.NaN, { rel: 1e-10 }, `sum of squares ${k + 1}`);
    agrees(check, ms, oxide.ms[k] ?? Number.NaN, { rel: 1e-9 }, `mean square ${k + 1}`);
    agrees(check, raw, oxide.components[k] ?? Number.NaN, { abs: 5e-6 }, `component ${k + 1}`);
    agrees(check, share, oxide.shares[k] ?? Number.NaN, { abs: 5e-5 }, `share ${k + 1}`);
    if (k < 2) agrees(check, test?.f, oxide.f[k] ?? Number.NaN, { abs: 5e-6 }, `F ${k + 1}`);
    expect(interval?.low).toBeLessThan(raw);
    expect(interval?.high).toBeGreaterThan(raw);
  });
});

it('solves uneven hierarchies by their own expected mean squares, and keeps a negative estimate', () => {
  const check = { method: 'Nested variance components, uneven', source: 'R 4.2.2 lm and projections' };
  for (const { values, outer, inner, df, ss, f, p, raw } of reference.uneven) {
    const answer = varianceComponents({ names: ['outer', 'inner'], labels: [outer, inner], values });
    agreesExactly(check, answer.components.map((component) => component.df), df, 'freedom');
    expect(answer.balanced).toBe(false);
    answer.components.forEach((component, k) => {
      agrees(check, component.ss, ss[k] ?? Number.NaN, { rel: 1e-12 }, `sum of squares ${k + 1}`);
      agrees(check, component.raw, raw[k] ?? Number.NaN, { rel: 1e-11 }, `component ${k + 1}`);
      expect(component.variance).toBe(Math.max(0, component.raw));
      expect(component.interval).toBeNull();
      if (k === 2) return;
      agrees(check, component.test?.f, f[k] ?? Number.NaN, { rel: 1e-11 }, `F ${k + 1}`);
      agrees(check, component.test?.p, p[k] ?? Number.NaN, { rel: 1e-10 }, `p ${k + 1}`);
    });
  }
  expect(reference.uneven[0]?.raw[1]).toBeLessThan(0);
});

it('one level is the one-way analysis, whatever is added to the readings or how they are scaled', () => {
  const groups = fc.array(fc.array(fc.integer({ min: -500, max: 500 }), { minLength: 2, maxLength: 5 }), { minLength: 3, maxLength: 6 });
  fc.assert(fc.property(groups, fc.constantFrom(1e6, -1e6, 0), fc.constantFrom(1, -1, 8), (lists, shift, scale) => {
    const labels = lists.flatMap((list, group) => list.map(() => `piece ${group}`));
    const parts = (values: number[]) => varianceComponents({ names: ['piece'], labels: [labels], values }).components.map(({ raw }) => raw);
    const plain = parts(lists.flat());
    const moved = parts(lists.flat().map((value) => scale * value + shift));
    moved.forEach((raw, k) => { expect(Math.abs(raw - scale ** 2 * (plain[k] ?? Number.NaN))).toBeLessThanOrEqual(1e-9 * scale ** 2 * (Math.abs(plain[k] ?? 0) + 1e5)); });
  }));
});

it('a level put round a hierarchy leaves the inner components of a balanced one alone, and gaps count as absent', () => {
  const labels = [thickness.values.map((_, i) => Math.floor(i / 56)), ...thickness.labels];
  const deep = varianceComponents({ names: ['week', 'run', 'zone'], labels, values: thickness.values });
  const shallow = varianceComponents(thickness);
  expect(deep.components).toHaveLength(4);
  expect(deep.balanced).toBe(true);
  // Zones and wafers do not see the weeks; the sums of squares of weeks and runs make up that of the runs before.
  [2, 3].forEach((k) => { expect(deep.components[k]?.raw).toBeCloseTo(shallow.components[k - 1]?.raw ?? Number.NaN, 8); });
  expect((deep.components[0]?.ss ?? 0) + (deep.components[1]?.ss ?? 0)).toBeCloseTo(shallow.components[0]?.ss ?? Number.NaN, 6);
  const padded = { names: thickness.names, labels: thickness.labels.map((list) => [...list, 0, 0]), values: [...thickness.values, null, null] };
  expect(varianceComponents(padded)).toEqual(shallow);
});

it('refuses what cannot be parted', () => {
  const one = (values: readonly (number | null)[], labels: readonly number[]) => () => varianceComponents({ names: ['can'], labels: [labels], values });
  expect(one([1, 2, 3], [1, 1, 1])).toThrow('varianceComponents: needs at least 2 groups of "can"');
  expect(one([1, 2, 3], [1, 2, 3])).toThrow('needs at least 2 readings in some group of "can"');
  expect(one([1, Number.NaN, 3], [1, 1, 2])).toThrow('NaN given at 2');
  expect(one([1, 2], [1])).toThrow('level 1 has 1 for 2');
  expect(one([1e308, -1e308, 1e308, 3], [1, 1, 2, 2])).toThrow('larger ones given');
  expect(one([], [])).toThrow('needs at least 2 groups');
  expect(() => varianceComponents(thickness, 1)).toThrow('confidence strictly between 0 and 1, 1 given');
  expect(() => varianceComponents({ names: [], labels: [], values: [1] })).toThrow('at least 1 level');
});

it('says that nothing varies by nulls, not by figures that are none', () => {
  const { components, total } = varianceComponents({ names: ['can'], labels: [[1, 1, 2, 2]], values: [7, 7, 7, 7] });
  expect({ total, shares: components.map(({ share }) => share), tests: components.map(({ test }) => test) }).toEqual({ total: 0, shares: [null, null], tests: [null, null] });
});
