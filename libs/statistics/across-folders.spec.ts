import fc from 'fast-check';
import { expect, it } from 'vitest';
import { agrees } from '../../test/published/agrees.js';
import { expectWithin } from '../../test/published/within.js';
import { andersonDarling } from './capability/anderson-darling.js';
import { capability } from './capability/capability.js';
import { capabilityOfArray } from './capability/capability-of-array.js';
import { fitNormal } from './capability/fits/fit-normal.js';
import { goodnessOfFit } from './capability/fits/goodness.js';
import { fractionNonconforming } from './capability/fraction-nonconforming.js';
import { ewmaChart } from './charts/ewma.js';
import { judgePanel } from './charts/judge-panel.js';
import { baselineLimits, type ChartKind, limitsForSize } from './charts/limits.js';
import { shewhartChart } from './charts/shewhart.js';
import { subgroupStatistics } from './charts/subgroup.js';
import { varianceComponents } from './choosing/variance-components.js';
import { normalUpperTail } from './distributions/normal.js';
import { runLengthOfRules } from './power/run-length-of-rules.js';
import { NELSON } from './rules/run-rules.js';
import { exactFraction } from './sampling/exact-fraction.js';
import { upperBoundZeroFound } from './sampling/zero-found.js';

type Rows = readonly (readonly (number | null)[])[];

/** Steps of a gauge: hundredths, so that units and shifts below keep them exact or nearly so. */
const reading = fc.integer({ min: -400, max: 400 }).map((step) => step / 128);
const rows: fc.Arbitrary<Rows> = fc.array(fc.tuple(reading, reading, reading), { minLength: 12, maxLength: 25 }).filter((all) => all.filter((row) => new Set(row).size > 1).length > 3);
const kinds = fc.constantFrom<ChartKind>('xbar-r', 'xbar-s', 'i-mr');

const moved = (all: Rows, f: (x: number) => number): Rows => Object.freeze(all.map((row) => Object.freeze(row.map((value) => (value === null ? null : f(value))))));
const chartOf = (kind: ChartKind, all: Rows) => {
  const charted = kind === 'i-mr' ? all.map((row) => row.slice(0, 1)) : all;
  const subgroups = Object.freeze(charted.map(subgroupStatistics));
  const chart = shewhartChart(kind, subgroups);
  return { basis: chart.basis, location: judgePanel(chart.panels[0], NELSON), spread: judgePanel(chart.panels[1], NELSON), members: charted };
};
/** Individuals whose first readings are all alike have no limits, which is another test's matter. */
const charted = (kind: ChartKind, all: Rows): boolean => kind !== 'i-mr' || new Set(all.map((row) => row[0])).size > 1;

it('another unit and another origin move the limits along and change no signal, no index and no share', () => {
  fc.assert(fc.property(rows, kinds, fc.constantFrom(0.5, 4, 1024), fc.integer({ min: -64, max: 64 }), (all, kind, a, b) => {
    fc.pre(charted(kind, all));
    const f = (x: number): number => a * x + b;
    const [plain, other] = [chartOf(kind, all), chartOf(kind, moved(all, f))];
    expectWithin(other.basis.centre, f(plain.basis.centre), { rel: 1e-12, abs: 1e-9 }, 'centre');
    expectWithin(other.basis.sigma, a * plain.basis.sigma, { rel: 1e-12 }, 'sigma');
    expectWithin(other.basis.spreadCentre, a * plain.basis.spreadCentre, { rel: 1e-12 }, 'spread');
    expect(other.location).toEqual(plain.location);
    expect(other.spread).toEqual(plain.spread);
    const figures = (members: Rows, at: (x: number) => number) => capability({ members, kind, lsl: at(-3), usl: at(3.5), target: at(0.25) });
    const [before, after] = [figures(plain.members, (x) => x), figures(other.members, f)];
    for (const name of ['cp', 'cpk', 'pp', 'ppk', 'cpm'] as const) expectWithin(after[name], before[name] ?? Number.NaN, { rel: 1e-9, abs: 1e-12 }, name);
    expectWithin(after.expectedPpm.overall.above, before.expectedPpm.overall.above ?? Number.NaN, { rel: 1e-8, abs: 1e-9 }, 'ppm');
  }), { numRuns: 60 });
});

it('a mirror swaps the sides of every signal and both one-sided indices', () => {
  fc.assert(fc.property(rows, kinds, (all, kind) => {
    fc.pre(charted(kind, all));
    const [plain, other] = [chartOf(kind, all), chartOf(kind, moved(all, (x) => -x))];
    const swapped = { above: 'below', below: 'above', both: 'both' } as const;
    const sorted = (firings: typeof plain.location) => firings.map((one) => `${one.index} ${one.rule} ${one.side} ${one.firstIndex}`).sort();
    expect(sorted(other.location)).toEqual(sorted(plain.location.map((one) => ({ ...one, side: swapped[one.side] }))));
    expect(other.spread).toEqual(plain.spread);
    const [before, after] = [capability({ members: plain.members, kind, lsl: -3, usl: 3.5, target: null }), capability({ members: other.members, kind, lsl: -3.5, usl: 3, target: null })];
    expectWithin(after.cpu, before.cpl ?? Number.NaN, { rel: 1e-9, abs: 1e-12 }, 'cpu is cpl');
    expectWithin(after.ppl, before.ppu ?? Number.NaN, { rel: 1e-9, abs: 1e-12 }, 'ppl is ppu');
  }), { numRuns: 60 });
});

it('the reverse order leaves the limits of means, ranges, sds, individuals and moving ranges, and not an exponential average', () => {
  fc.assert(fc.property(rows, kinds, (all, kind) => {
    fc.pre(charted(kind, all));
    const [plain, other] = [chartOf(kind, all).basis, chartOf(kind, [...all].reverse()).basis];
    for (const figure of ['centre', 'sigma', 'spreadCentre'] as const) expectWithin(other[figure], plain[figure], { rel: 1e-12, abs: 1e-13 }, figure);
  }), { numRuns: 60 });
  const series = Object.freeze([1, 2, 4, 8]);
  const average = (values: readonly number[]) => ewmaChart(values, { lambda: 0.2, factor: 3, target: 3, sigma: 1, limits: 'exact' }).panel.points;
  expect(average([...series].reverse())).not.toEqual([...average(series)].reverse());
});

it('rows padded with missing readings, and rows without any, leave the limits of means', () => {
  fc.assert(fc.property(rows, fc.constantFrom<ChartKind>('xbar-r', 'xbar-s'), (all, kind) => {
    const padded = all.flatMap((row, i) => [[null, ...row, null], ...(i % 4 === 0 ? [[null, null, null]] : [])]);
    expect(baselineLimits(kind, padded.map(subgroupStatistics))).toEqual(baselineLimits(kind, all.map(subgroupStatistics)));
  }), { numRuns: 60 });
});

it('a million added to all readings changes no sigma and no width of limits in the eighth digit', () => {
  fc.assert(fc.property(rows, kinds, (all, kind) => {
    fc.pre(charted(kind, all));
    const [plain, far] = [chartOf(kind, all).basis, chartOf(kind, moved(all, (x) => x + 1e6)).basis];
    expectWithin(far.sigma, plain.sigma, { rel: 1e-9 }, 'sigma');
    const width = (basis: typeof plain): number => limitsForSize(basis, 3).mean.upper - limitsForSize(basis, 3).mean.lower;
    expectWithin(width(far), width(plain), { rel: 1e-8 }, 'limits');
    const groups = (members: Rows) => varianceComponents({ names: ['check'], labels: [members.flatMap((row, i) => row.map(() => i))], values: members.flat() }).components;
    expectWithin(groups(moved(all, (x) => x + 1e6))[1]?.variance, groups(all)[1]?.variance ?? Number.NaN, { rel: 1e-8 }, 'variance within');
  }), { numRuns: 60 });
});

it('two ways to one figure give one figure', () => {
  fc.assert(fc.property(rows, (all) => {
    const specification = { lsl: -4, usl: 4.5, target: 0 };
    const flat = all.flat().filter((value) => value !== null);
    const figures = capability({ members: all, kind: 'xbar-r', ...specification });
    expectWithin(figures.sdWithin, baselineLimits('xbar-r', all.map(subgroupStatistics)).sigma, { rel: 1e-13 }, 'sigma of the chart and of the index');
    const fast = capabilityOfArray(Float64Array.from(flat), 3, specification);
    for (const name of ['cpk', 'ppk', 'cpm', 'ppkLowerBound'] as const) expectWithin(fast[name], figures[name] ?? Number.NaN, { rel: 1e-11, abs: 1e-13 }, name);
    expectWithin(goodnessOfFit(flat, fitNormal(flat))?.a2, andersonDarling(flat).a2, { rel: 1e-12 }, 'normal fit and normal test');
    const counted = fractionNonconforming(flat, specification.lsl, specification.usl);
    const outside = flat.filter((value) => value < specification.lsl || value > specification.usl).length;
    expect(counted.outside).toEqual(exactFraction(outside, flat.length));
  }), { numRuns: 40 });
  // Up to 1e6 units the incomplete beta holds eleven digits.
  for (const n of [10, 59, 300, 1e6]) expectWithin(exactFraction(0, n).upperBound, upperBoundZeroFound(n), { rel: 1e-9 }, `none found among ${n}`);
});

it('the run length of the limits alone is one over the chance of a point beyond them', () => {
  const check = { method: 'Average run length of the limits', source: 'Montgomery, Introduction to SQC, "average run length": 1/p, 370 and 44 rounded' };
  agrees(check, runLengthOfRules(['beyond-limits'], 0).arl, 1 / (2 * normalUpperTail(3)), { rel: 1e-9 }, 'in control');
  agrees(check, runLengthOfRules(['beyond-limits'], 0).arl, 370.4, { abs: 0.05 }, 'in control, printed');
  agrees(check, runLengthOfRules(['beyond-limits'], 1).arl, 43.9, { abs: 0.05 }, 'one sigma off, printed');
});
