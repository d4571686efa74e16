import fc from 'fast-check';
import { expect, it } from 'vitest';
import flowWidth from '../../../test/published/flow-width.json' with { type: 'json' };
import intervals from '../../../test/published/capability-intervals.json' with { type: 'json' };
import individuals from '../../../test/published/individuals.json' with { type: 'json' };
import { agrees } from '../../../test/published/agrees.js';
import { expectWithin } from '../../../test/published/within.js';
import { type Capability, type CapabilityInput, capability } from './capability.js';
import { capabilityFigures } from './figures.js';
import { locationIndexInterval, locationIndexLowerBound, spreadIndexInterval } from './intervals.js';

const freeze = (members: readonly (readonly (number | null)[])[]) => Object.freeze(members.map((row) => Object.freeze([...row])));
const flow = (more: Partial<CapabilityInput> = {}): Capability =>
  capability(Object.freeze({ members: freeze(flowWidth.subgroups), kind: 'xbar-r', ...flowWidth.specification, ...more }));

it('indices, intervals and ppm of the flow widths (Montgomery, table 6.1; Cp 1.192 in print)', () => {
  const got = flow();
  const { capability: expected, tolerance, printed } = flowWidth;
  const check = { method: 'Capability indices', source: 'Montgomery, table 6.1; recomputed with R and NumPy' };
  for (const name of ['cp', 'cpu', 'cpl', 'cpk', 'sdOverall', 'pp', 'ppk', 'cpm', 'ppkLowerBound'] as const) agrees(check, got[name], expected[name], tolerance, name);
  const ends = [got.intervals.pp?.low, got.intervals.pp?.high, got.intervals.ppk?.low, got.intervals.ppk?.high];
  [...expected.ppInterval, ...expected.ppkInterval].forEach((value, i) => { agrees({ ...check, method: 'Capability intervals' }, ends[i], value, tolerance, `interval end ${i}`); });
  // The published ppm have two decimals.
  agrees({ ...check, method: 'Expected ppm' }, got.expectedPpm.within.below, expected.ppmBelow, { abs: 0.006 }, 'below');
  agrees({ ...check, method: 'Expected ppm' }, got.expectedPpm.within.above, expected.ppmAbove, { abs: 0.006 }, 'above');
  agrees({ ...check, source: 'Montgomery, example 6.1, print (from memory)' }, got.cp, printed.cp, printed.tolerance, 'Cp');
  expect([got.n, got.subgroups, got.withinGap]).toEqual([125, 25, null]);
});

it.each(intervals.cases)('interval of $index $value from $n readings ($source)', (example) => {
  const nu = example.n - 1;
  const value = example.usl === undefined ? example.value : (example.usl - example.lsl) / (6 * example.s);
  expectWithin(value, example.value, intervals.tolerance, 'index');
  const got = example.index === 'cp' ? spreadIndexInterval(value, nu) : locationIndexInterval(value, example.n, nu);
  const check = { method: 'Capability intervals', source: example.source };
  agrees({ ...check, source: 'SciPy and R from summary figures' }, got.low, example.low, intervals.tolerance, `${example.index} ${value}, low`);
  agrees({ ...check, source: 'SciPy and R from summary figures' }, got.high, example.high, intervals.tolerance, `${example.index} ${value}, high`);
  agrees(check, got.low, example.printed[0] ?? Number.NaN, intervals.printedTolerance, `${example.index} ${value}, printed low`);
  agrees(check, got.high, example.printed[1] ?? Number.NaN, intervals.printedTolerance, `${example.index} ${value}, printed high`);
});

it('the worked example and the table of NIST/SEMATECH e-Handbook 6.1.6 (from memory)', () => {
  const source = 'NIST/SEMATECH e-Handbook 6.1.6 (from memory)';
  const at = (mean: number, sigma: number, lsl: number, usl: number) =>
    capabilityFigures({ n: 50, subgroups: 10, mean, sdOverall: sigma, within: { sigma, nu: 40, gap: null } }, { lsl, usl, target: null }, 0.95);
  const example = at(16, 2, 8, 20);
  agrees({ method: 'Capability indices', source }, example.cp, 1, { rel: 1e-12 }, 'Cp');
  agrees({ method: 'Capability indices', source }, example.cpu, 0.6667, { abs: 5e-5 }, 'Cpu');
  agrees({ method: 'Capability indices', source }, example.cpl, 1.3333, { abs: 5e-5 }, 'Cpl');
  agrees({ method: 'Capability indices', source }, example.cpk, 0.6667, { abs: 5e-5 }, 'Cpk');
  // Rejects of a centred process 6, 8, 10 and 12 sigma wide: 0.27 %, 64 ppm, 0.6 ppm, 2 ppb.
  for (const [sigmas, ppm, rounding] of [[6, 2700, 50], [8, 64, 0.7], [10, 0.6, 0.05], [12, 0.002, 0.0005]] as const) {
    const { below, above } = at(0, 1, -sigmas / 2, sigmas / 2).expectedPpm.within;
    agrees({ method: 'Expected ppm', source }, (below ?? Number.NaN) + (above ?? Number.NaN), ppm, { abs: rounding }, `${sigmas} sigma`);
  }
});

it('the one-sided bound lies above the low end of the two-sided interval', () => {
  expect(locationIndexLowerBound(1.33, 50, 49)).toBeGreaterThan(locationIndexInterval(1.33, 50, 49).low);
});

it('intervals of the indices within use fewer degrees of freedom than readings, and so are wider', () => {
  const { intervals: got, nuWithin, cp } = flow();
  expect(nuWithin).toBeGreaterThan(90);
  expect(nuWithin).toBeLessThan(100);
  const asIfOverall = spreadIndexInterval(cp ?? Number.NaN, 124);
  expect((got.cp?.high ?? 0) - (got.cp?.low ?? 0)).toBeGreaterThan(asIfOverall.high - asIfOverall.low);
});

it('a one-sided specification has no two-sided index', () => {
  const upper = flow({ lsl: null });
  expect([upper.cp, upper.pp, upper.cpl, upper.cpm, upper.intervals.cp, upper.intervals.pp]).toEqual([null, null, null, null, null, null]);
  expect(upper.cpk).toBe(upper.cpu);
  expect(upper.ppk).toBe(upper.ppu);
  expect(upper.expectedPpm.within.below).toBeNull();
  const lower = flow({ usl: null, target: null });
  expect([lower.cpk, lower.cpu]).toEqual([lower.cpl, null]);
  expect(lower.ppkLowerBound).not.toBeNull();
});

it('without a target there is no Cpm', () => {
  expect(flow({ target: null }).cpm).toBeNull();
});

it('a mean outside the limits gives negative Cpk and Ppk, reported as they are', () => {
  const got = flow({ lsl: 1.6, usl: 2 });
  expect(got.cpk).toBeLessThan(0);
  expect(got.ppk).toBeLessThan(0);
  expect(got.cp).toBeGreaterThan(0);
});

it('readings that do not vary leave every index undefined, never infinite', () => {
  const got = capability({ members: freeze([[0.3, 0.3], [0.3, 0.3], [0.3, 0.3]]), kind: 'xbar-r', lsl: 0, usl: 1, target: 0.5 });
  expect([got.sdWithin, got.withinGap, got.sdOverall]).toEqual([null, 'no-variation', null]);
  expect([got.cp, got.cpk, got.pp, got.ppk, got.cpm, got.ppkLowerBound, got.expectedPpm.overall.below]).toEqual(Array(7).fill(null));
});

it('subgroups that do not vary within leave Cp undefined and Pp defined', () => {
  const got = capability({ members: freeze([[0.3, 0.3], [0.4, 0.4]]), kind: 'xbar-s', lsl: 0, usl: 1, target: null });
  expect([got.cp, got.withinGap]).toEqual([null, 'no-variation']);
  expect(got.pp).not.toBeNull();
});

it('too few subgroups leave sigma within undefined', () => {
  const got = capability({ members: freeze([[1, 2, 3], [4], [null, null]]), kind: 'xbar-r', lsl: 0, usl: 9, target: null });
  expect([got.sdWithin, got.withinGap, got.subgroups, got.n]).toEqual([null, 'too-few-subgroups', 2, 4]);
  expect(capability({ members: freeze([[1], [null], [2]]), kind: 'i-mr', lsl: 0, usl: 9, target: null }).withinGap).toBe('too-few-subgroups');
});

it('individuals take sigma from the moving range, when an individual is one member', () => {
  const { values, expected, tolerance } = individuals.chemical;
  const got = capability({ members: freeze(values.map((value) => [value])), kind: 'i-mr', lsl: 90, usl: 110, target: 100 });
  agrees({ method: 'Sigma from moving ranges', source: 'Montgomery & Runger, table 16-3, recomputed' }, got.sdWithin, expected.sigma, tolerance, 'sigma');
  expect(got.nuWithin).toBeLessThan(19);
  const several = capability({ members: freeze([[1, 2], [2, 3], [1, 4]]), kind: 'i-mr', lsl: 0, usl: 9, target: null });
  expect([several.sdWithin, several.withinGap]).toEqual([null, 'several-members-an-individual']);
});

it('a missing member is not a zero', () => {
  const padded = flowWidth.subgroups.map((row) => [null, ...row, null]);
  expect(flow({ members: freeze(padded) })).toEqual(flow());
});

it('refuses a specification that is none', () => {
  expect(() => flow({ lsl: null, usl: null })).toThrow('capability: needs at least one specification limit, none given');
  expect(() => flow({ lsl: 2, usl: 1 })).toThrow('the lower specification limit 2 is expected below the upper one 1');
  expect(() => flow({ usl: Number.NaN })).toThrow('the upper specification limit is NaN');
  expect(() => flow({ target: Number.POSITIVE_INFINITY })).toThrow('the target is Infinity');
  expect(() => flow({ confidence: 1 })).toThrow('confidence strictly between 0 and 1, 1 given');
  expect(() => flow({ members: [[1.2]] })).toThrow('needs at least 2 members, 1 given');
  expect(() => flow({ members: [[1.2, Number.NaN]] })).toThrow('reading 2 of 2 is NaN');
});

const INDICES = ['cp', 'cpk', 'pp', 'ppk', 'cpm', 'ppkLowerBound', 'nuWithin'] as const;

it('shift and scale of data and specification together change no index; a mirror swaps the sides', () => {
  const rows = fc.array(fc.array(fc.integer({ min: 0, max: 40 }), { minLength: 2, maxLength: 5 }), { minLength: 2, maxLength: 12 });
  fc.assert(fc.property(rows, fc.constantFrom(0.5, 3, 0.0254), fc.integer({ min: -200, max: 200 }), fc.constantFrom('xbar-r' as const, 'xbar-s' as const), (data, a, b, kind) => {
    fc.pre(data.some((row) => new Set(row).size > 1));
    const at = (move: (x: number) => number, lsl: number, usl: number) => capability({ members: freeze(data.map((row) => row.map(move))), kind, lsl, usl, target: move(18) });
    const plain = at((x) => x, -5, 45);
    const moved = at((x) => a * x + b, a * -5 + b, a * 45 + b);
    const mirrored = at((x) => -x, -45, 5);
    for (const name of INDICES) {
      expectWithin(moved[name], plain[name] ?? Number.NaN, { rel: 1e-9, abs: 1e-9 }, name);
      expectWithin(mirrored[name], plain[name] ?? Number.NaN, { rel: 1e-9, abs: 1e-9 }, `mirrored ${name}`);
    }
    expectWithin(mirrored.cpu, plain.cpl ?? Number.NaN, { rel: 1e-9, abs: 1e-9 }, 'sides swapped');
  }));
});

it('a million added to readings and limits changes no figure in the eighth digit; the order of individuals reversed changes none', () => {
  const rows = flowWidth.subgroups;
  const plain = flow();
  const moved = capability({ members: rows.map((row) => row.map((value) => value + 1e6)), kind: 'xbar-r', lsl: 1e6 + 1, usl: 1e6 + 2, target: 1e6 + 1.5 });
  for (const name of [...INDICES, 'sdWithin', 'sdOverall', 'cpmLowerBound'] as const) expectWithin(moved[name], plain[name] ?? Number.NaN, { rel: 1e-8 }, name);
  const at = (values: readonly number[]) => capability({ members: values.map((value) => [value]), kind: 'i-mr', lsl: 90, usl: 110, target: 100 });
  const forwards = at(individuals.chemical.values);
  const backwards = at([...individuals.chemical.values].reverse());
  for (const name of INDICES) expectWithin(backwards[name], forwards[name] ?? Number.NaN, { rel: 1e-12 }, name);
});
