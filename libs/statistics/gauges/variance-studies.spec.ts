import fc from 'fast-check';
import { expect, it } from 'vitest';
import { agrees, agreesExactly } from '../../../test/published/agrees.js';
import aov from '../../../test/published/gauges-aov.json' with { type: 'json' };
import published from '../../../test/published/gauges.json' with { type: 'json' };
import oxide from '../../../test/published/oxide-thickness.json' with { type: 'json' };
import { expectWithin } from '../../../test/published/within.js';
import { gaugeAverageRange, rangeDivisor } from './average-range.js';
import { combinationInterval, ratioInterval, satterthwaite, type Term } from './combination-interval.js';
import { type GaugeCrossed, gaugeCrossed } from './crossed.js';
import { gaugeNested } from './nested.js';

const { manual, impedance, nested, houf } = published;
const MANUAL = { method: 'Crossed gauge study', source: 'automotive industry reference manual, chapter III (data; recomputed in Python and R)' };
const PRINTED = { method: 'Crossed gauge study', source: 'Montgomery & Runger 1993 (from memory, recomputed)' };
const NUMPY = { method: 'Crossed gauge study', source: published.programs };
const MLS = { method: 'Interval of a variance combination', source: published.programs };

it('the crossed study of the reference manual, interaction kept', () => {
  const study = gaugeCrossed(manual.readings, { poolAbove: null });
  const { anova, tests } = study;
  agrees(MANUAL, anova.part.ss, 88.3619344, { rel: 1e-8 }, 'part SS');
  agrees(MANUAL, anova.part.ms, 9.81799272, { rel: 1e-8 }, 'part MS');
  agrees(MANUAL, anova.appraiser.ss, 3.1672622, { rel: 1e-7 }, 'appraiser SS');
  agrees(MANUAL, anova.appraiser.ms, 1.58363111, { rel: 1e-8 }, 'appraiser MS');
  agrees(MANUAL, anova.interaction.ss, 0.35898222, { rel: 1e-7 }, 'interaction SS');
  agrees(MANUAL, anova.interaction.ms, 0.019943457, { rel: 1e-7 }, 'interaction MS');
  agrees(MANUAL, anova.repeatability.ss, 2.7589333, { rel: 1e-7 }, 'repeatability SS');
  agrees(MANUAL, anova.repeatability.ms, 0.045982222, { rel: 1e-7 }, 'repeatability MS');
  agrees(MANUAL, anova.total.ss, 94.6471122, { rel: 1e-8 }, 'total SS');
  agreesExactly(MANUAL, [anova.part.df, anova.appraiser.df, anova.interaction.df, anova.repeatability.df, anova.total.df], [9, 2, 18, 60, 89], 'df');
  agrees(MANUAL, tests.interaction?.f, 0.433721, { rel: 1e-5 }, 'F of the interaction');
  agrees(MANUAL, tests.interaction?.p, 0.97411, { rel: 1e-5 }, 'p of the interaction');
  agrees(MANUAL, tests.part?.f, 492.2914, { rel: 1e-6 }, 'F of the parts');
  agrees(MANUAL, tests.appraiser?.f, 79.40605, { rel: 1e-6 }, 'F of the appraisers');
  agrees(MANUAL, study.repeatability.variance, 0.045982222, { rel: 1e-7 }, 'repeatability');
  agrees(MANUAL, study.appraiser.variance, 0.052122922, { rel: 1e-7 }, 'appraiser');
  agrees(MANUAL, study.appraiserByPart?.raw, -0.008679588, { rel: 1e-6 }, 'interaction, raw');
  agreesExactly(MANUAL, study.appraiserByPart?.variance, 0, 'interaction, cut');
  agrees(MANUAL, study.part.variance, 1.08867214, { rel: 1e-8 }, 'part');
  agrees(MANUAL, study.total.variance, 1.186777284, { rel: 1e-8 }, 'total');
  agrees(MANUAL, study.gauge.ofStudy, 0.287516, { rel: 1e-5 }, 'gauge share of study variation');
  expect(study.interaction).toBe('kept');
});

it('the crossed study of the reference manual, interaction pooled', () => {
  const study = gaugeCrossed(manual.readings);
  expect(study.interaction).toBe('pooled');
  expect(study.appraiserByPart).toBeNull();
  agrees(MANUAL, study.repeatability.variance, 0.039973276, { rel: 1e-7 }, 'pooled mean square');
  agrees(MANUAL, study.appraiser.variance, 0.051455261, { rel: 1e-7 }, 'pooled, appraiser');
  agrees(MANUAL, study.gauge.variance, 0.091428538, { rel: 1e-7 }, 'pooled, gauge');
  agrees(MANUAL, study.part.variance, 1.086446604, { rel: 1e-9 }, 'pooled, part');
  agrees(MANUAL, study.total.variance, 1.177875142, { rel: 1e-9 }, 'pooled, total');
  agrees(MANUAL, study.gauge.ofStudy, 0.278607, { rel: 1e-5 }, 'pooled, share of study variation');
  agrees(MANUAL, study.gauge.ofVariance, 0.077622, { rel: 1e-5 }, 'pooled, share of variance');
  agreesExactly(MANUAL, study.distinctCategories, 4, 'distinct categories');
});

it('averages and ranges of the reference manual', () => {
  const study = gaugeAverageRange(manual.readings);
  const check = { method: 'Averages and ranges', source: MANUAL.source };
  agrees(check, study.meanRange, 0.3416667, { rel: 1e-6 }, 'mean range');
  agrees(check, study.appraiserDifference, 0.4446667, { rel: 1e-6 }, 'appraiser difference');
  agrees(check, study.partRange, 3.5111111, { rel: 1e-7 }, 'part range');
  agrees(check, study.repeatability.sd, 0.201863, { rel: 1e-5 }, 'repeatability');
  agrees(check, study.reproducibility.sd, 0.229684, { rel: 1e-5 }, 'reproducibility');
  agrees(check, study.gauge.sd, 0.305783, { rel: 1e-5 }, 'gauge');
  agrees(check, study.part.sd, 1.104455, { rel: 1e-5 }, 'part');
  agrees(check, study.total.sd, 1.146003, { rel: 1e-5 }, 'total');
  agrees(check, study.gauge.ofStudy, 0.266826, { rel: 1e-5 }, 'share of study variation');
  agreesExactly(check, study.distinctCategories, 5, 'distinct categories');
  const rounded = { ...check, source: 'automotive industry reference manual, printed with rounded factors (from memory)' };
  agrees(rounded, study.repeatability.sd, 0.20188, { abs: 5e-4 }, 'repeatability, printed');
  agrees(rounded, study.reproducibility.sd, 0.22963, { abs: 5e-4 }, 'reproducibility, printed');
  agrees(rounded, study.gauge.sd, 0.30575, { abs: 5e-4 }, 'gauge, printed');
  agrees(rounded, study.part.sd, 1.10456, { abs: 5e-4 }, 'part, printed');
  agrees(rounded, study.total.sd, 1.1461, { abs: 5e-4 }, 'total, printed');
  const factors = { method: 'Factor d2*', source: 'Duncan, table D3; factors of the reference manual (from memory)' };
  for (const [n, printed] of [[2, 141421], [3, 191154], [10, 317905]] as const) agrees(factors, rangeDivisor(n, 1) * 1e5, printed, { abs: 1 }, `one range of ${n}`);
  for (const [n, ranges, printed] of [[2, 1, 7071], [3, 1, 5231], [10, 1, 3146], [2, 30, 8862], [3, 30, 5908]] as const) {
    agrees(factors, 1e4 / rangeDivisor(n, ranges), printed, { abs: 0.5001 }, `${ranges} ranges of ${n}`);
  }
  expect(study.factors).toEqual({ trials: 1 / rangeDivisor(3, 30), appraisers: 1 / rangeDivisor(3, 1), parts: 1 / rangeDivisor(10, 1) });
  // The interval of a single mean range is that of its own effective df, so it holds the estimate.
  expect(study.gauge.interval?.low).toBeLessThan(study.gauge.sd);
  expect(study.gauge.interval?.high).toBeGreaterThan(study.gauge.sd);
  expect(study.reproducibility.interval).toBeNull();
});

it('the impedance study of Montgomery & Runger 1993', () => {
  const { anova, ...study } = gaugeCrossed(impedance.readings, { tolerance: 55, multiplier: 5.15 });
  const { printed } = impedance;
  [anova.part, anova.appraiser, anova.interaction, anova.repeatability].forEach(({ ss }, i) => {
    agrees(PRINTED, ss, printed?.ss[i] ?? Number.NaN, { abs: 6e-4 }, `SS ${i + 1}`);
  });
  agrees(PRINTED, anova.total.ss, printed?.total ?? Number.NaN, { abs: 6e-4 }, 'total SS');
  agrees(PRINTED, study.repeatability.variance, printed?.repeatability ?? Number.NaN, { abs: 5e-3 }, 'repeatability');
  agrees(PRINTED, study.appraiser.variance, printed?.appraiser ?? Number.NaN, { abs: 5e-5 }, 'operator');
  agrees(PRINTED, study.part.variance, printed?.part ?? Number.NaN, { abs: 5e-5 }, 'part');
  agrees(PRINTED, study.tests.interaction?.f, 0.72, { abs: 5e-3 }, 'F of the interaction');
  expectWithin(study.gauge.ofTolerance, (5.15 * study.gauge.sd) / 55, { rel: 1e-14 }, 'share of the tolerance');
});

it.each([['manual', manual], ['impedance', impedance]] as const)('every row of the %s study and its interval as numpy and scipy have them', (_name, set) => {
  for (const [poolAbove, expected, ratio] of [[null, set.kept, set.keptRatio], [0, set.pooled, set.pooledRatio]] as const) {
    const study = gaugeCrossed(set.readings, { poolAbove });
    const rows: Record<string, GaugeCrossed['gauge'] | null> = { repeatability: study.repeatability, appraiser: study.appraiser, interaction: study.appraiserByPart, part: study.part, gauge: study.gauge, total: study.total };
    for (const [name, [estimate, low, high]] of Object.entries(expected) as [string, number[]][]) {
      const row = rows[name];
      agrees(NUMPY, row?.raw, estimate ?? Number.NaN, { rel: 1e-9, abs: 1e-12 }, `${name}, raw`);
      agrees(MLS, row?.interval.low, Math.sqrt(Math.max(0, low ?? Number.NaN)), { rel: 1e-8 }, `${name}, low`);
      agrees(MLS, row?.interval.high, Math.sqrt(high ?? Number.NaN), { rel: 1e-8 }, `${name}, high`);
    }
    const [low, high] = ratio as [number, number];
    agrees(MLS, study.gaugeOfStudyInterval?.low, Math.sqrt(1 / (1 + high)), { rel: 1e-7 }, 'gauge share, low');
    agrees(MLS, study.gaugeOfStudyInterval?.high, Math.sqrt(1 / (1 + low)), { rel: 1e-7 }, 'gauge share, high');
    agreesExactly(MLS, study.distinctCategoriesInterval, { low: Math.floor(Math.sqrt(2 * low)), high: Math.floor(Math.sqrt(2 * high)) }, 'distinct categories');
  }
  const [part, appraiser, interaction] = set.tests as [number[], number[], number[]];
  const { tests } = gaugeCrossed(set.readings, { poolAbove: null });
  agrees(NUMPY, tests.part?.p, part[1] ?? Number.NaN, { rel: 1e-8 }, 'p of the parts');
  agrees(NUMPY, tests.appraiser?.p, appraiser[1] ?? Number.NaN, { rel: 1e-8 }, 'p of the appraisers');
  agrees(NUMPY, tests.interaction?.p, interaction[1] ?? Number.NaN, { rel: 1e-8 }, 'p of the interaction');
});

it('intervals of Burdick, Borror & Montgomery for the thermal data of Houf & Berman', () => {
  const check = { method: 'Interval of a variance combination', source: 'Burdick, Borror & Montgomery 2005, data of Houf & Berman 1988 (from memory, recomputed)' };
  const of = (...coefficients: readonly number[]): Term[] => coefficients.map((coefficient, i) => ({ coefficient, ms: houf.ms[i] ?? 0, df: houf.df[i] ?? 1 }));
  const part = combinationInterval(of(1 / 9, 0, -1 / 9, 0));
  agrees(check, part.low, 22.69, { abs: 5e-3 }, 'part, low');
  agrees(check, part.high, 161.64, { abs: 5e-3 }, 'part, high');
  const gauge = combinationInterval(of(0, 1 / 30, 9 / 30, 20 / 30));
  agrees(check, gauge.low, 1.2, { abs: 1e-2 }, 'gauge, low');
  agrees(check, gauge.high, 27.02, { abs: 5e-3 }, 'gauge, high');
});

it('the intervals held the truth in 95 of 100 simulated studies', () => {
  for (const share of published.coverage['gauge, part, ratio']) expect(share).toBeGreaterThan(0.94);
  expect(published.coverage.turns).toBeGreaterThanOrEqual(4000);
});

it('the nested analysis of the e-Handbook', () => {
  const check = { method: 'Nested gauge study', source: 'NIST/SEMATECH e-Handbook 3.5.1.4' };
  const { anova, tests, ...study } = gaugeNested(oxide.readings);
  [anova.appraiser, anova.part, anova.repeatability].forEach((line, i) => {
    agrees(check, line.ss, oxide.ss[i] ?? Number.NaN, { rel: 1e-9 }, `SS ${i + 1}`);
    agrees(check, line.ms, oxide.ms[i] ?? Number.NaN, { rel: 1e-9 }, `MS ${i + 1}`);
    agreesExactly(check, line.df, oxide.df[i], `df ${i + 1}`);
  });
  agrees(check, tests.appraiser?.f, oxide.f[0] ?? Number.NaN, { rel: 1e-6 }, 'F of the runs');
  agrees(check, tests.part?.f, oxide.f[1] ?? Number.NaN, { rel: 1e-6 }, 'F of the zones');
  [study.appraiser, study.part, study.repeatability].forEach((row, i) => {
    agrees(check, row.variance, oxide.components[i] ?? Number.NaN, { rel: 1e-7 }, `component ${i + 1}`);
    agrees(check, row.ofVariance, oxide.shares[i] ?? Number.NaN, { abs: 5e-5 }, `share ${i + 1}`);
  });
});

it('a nested study and its intervals as numpy and scipy have them', () => {
  const check = { method: 'Nested gauge study', source: published.programs };
  const rows = impedance.readings.slice(0, 18).map((part) => part.flat());
  const study = gaugeNested([0, 6, 12].map((from) => rows.slice(from, from + 6)));
  agrees(check, study.anova.appraiser.ss, nested.ss[0] ?? Number.NaN, { rel: 1e-11 }, 'SS');
  for (const name of ['gauge', 'part', 'total'] as const) {
    const [estimate, low, high] = nested[name] as [number, number, number];
    agrees(check, study[name].raw, estimate, { rel: 1e-9 }, `${name}, raw`);
    agrees(check, study[name].interval.low, Math.sqrt(Math.max(0, low)), { rel: 1e-8 }, `${name}, low`);
    agrees(check, study[name].interval.high, Math.sqrt(high), { rel: 1e-8 }, `${name}, high`);
  }
});

it('crossed and nested sums of squares and tests as R has them', () => {
  const crossed = gaugeCrossed(impedance.readings);
  const check = { method: 'Crossed gauge study', source: aov.program };
  [crossed.anova.part, crossed.anova.appraiser, crossed.anova.interaction, crossed.anova.repeatability].forEach(({ ss }, i) => {
    agrees(check, ss, aov.crossed.ss[i] ?? Number.NaN, { rel: 1e-10 }, `SS ${i + 1}`);
  });
  agrees(check, crossed.tests.interaction?.f, aov.crossed.interaction[0] ?? Number.NaN, { rel: 1e-10 }, 'F of the interaction');
  agrees(check, crossed.tests.interaction?.p, aov.crossed.interaction[1] ?? Number.NaN, { rel: 1e-9 }, 'p of the interaction');
  const rows = impedance.readings.slice(0, 18).map((part) => part.flat());
  const { anova, tests } = gaugeNested([0, 6, 12].map((from) => rows.slice(from, from + 6)));
  const nestedCheck = { method: 'Nested gauge study', source: aov.program };
  [anova.appraiser, anova.part, anova.repeatability].forEach(({ ss, df }, i) => {
    agrees(nestedCheck, ss, aov.nested.ss[i] ?? Number.NaN, { rel: 1e-10 }, `SS ${i + 1}`);
    agreesExactly(nestedCheck, df, aov.nested.df[i], `df ${i + 1}`);
  });
  agrees(nestedCheck, tests.part?.f, aov.nested.part[0] ?? Number.NaN, { rel: 1e-10 }, 'F of the parts');
  agrees(nestedCheck, tests.part?.p, aov.nested.part[1] ?? Number.NaN, { rel: 1e-7 }, 'p of the parts');
});

const noNaN = (value: unknown): boolean => (typeof value === 'number' ? Number.isFinite(value) : value === null || typeof value !== 'object' || Object.values(value).every(noNaN));

it.each([['crossed', gaugeCrossed], ['nested', gaugeNested], ['averages and ranges', gaugeAverageRange]] as const)('%s: readings of any size give finite figures or a RangeError', (_name, study) => {
  const reading = fc.constantFrom(0, 1, 1 + 1e-15, 5e-324, 1e-300, 1e-160, 1e75, 1e77, 1e150, 1e154, 1e308, -1e308);
  const cell = fc.array(reading, { minLength: 2, maxLength: 2 });
  fc.assert(fc.property(fc.array(fc.array(cell, { minLength: 2, maxLength: 2 }), { minLength: 2, maxLength: 3 }), (table) => {
    try {
      expect(noNaN(study(table, { tolerance: 1 }))).toBe(true);
    } catch (refusal) {
      expect(refusal).toBeInstanceOf(RangeError);
    }
  }), { numRuns: 300 });
});

it('one mean square has the exact chi-square interval, and Satterthwaite agrees with it', () => {
  // 5 and 95 % points of chi-square with 10 df are 3.94030 and 18.30704 (Abramowitz & Stegun, table 26.8).
  const check = { method: 'Interval of a variance combination', source: 'Abramowitz & Stegun 1964, table 26.8' };
  const term = [{ coefficient: 2, ms: 3, df: 10 }];
  agrees(check, combinationInterval(term, 0.9).low, 60 / 18.307, { rel: 1e-5 }, 'low');
  agrees(check, combinationInterval(term, 0.9).high, 60 / 3.9403, { rel: 1e-5 }, 'high');
  const { low, high, df } = satterthwaite(term, 0.9);
  agrees({ ...check, method: 'Satterthwaite interval' }, low, 60 / 18.307, { rel: 1e-5 }, 'low');
  agrees({ ...check, method: 'Satterthwaite interval' }, high, 60 / 3.9403, { rel: 1e-5 }, 'high');
  expectWithin(df, 10, { rel: 1e-14 }, 'df');
  expect(satterthwaite([{ coefficient: 1, ms: 0, df: 3 }])).toEqual({ low: 0, high: 0, df: null });
});

it('a ratio without an upper bound is null, and one without a gauge variance does not exist', () => {
  const term = (coefficient: number, ms: number, df: number): Term => ({ coefficient, ms, df });
  expect(ratioInterval([term(1, 5, 9), term(-1, 1, 2)], [term(0, 5, 9), term(0, 1, 2)])).toBeNull();
  expect(ratioInterval([term(1, 5, 9), term(0, 3, 2), term(0, 1, 6)], [term(0, 5, 9), term(1, 3, 2), term(-1, 1, 6)])).toMatchObject({ high: null });
});

const tableOf = (least: number) => fc.tuple(fc.integer({ min: 2, max: 4 }), fc.integer({ min: 2, max: 3 }), fc.integer({ min: 2, max: 3 })).chain(([p, o, r]) =>
  fc.array(fc.array(fc.array(fc.integer({ min: least, max: 500 }).map((step) => step / 100), { minLength: r, maxLength: r }), { minLength: o, maxLength: o }), { minLength: p, maxLength: p }));
const shifted = (table: readonly (readonly (readonly number[])[])[], a: number, b: number) => Object.freeze(table.map((row) => Object.freeze(row.map((cell) => Object.freeze(cell.map((value) => a * value + b))))));

it.each([['crossed', gaugeCrossed], ['nested', gaugeNested], ['averages and ranges', gaugeAverageRange]] as const)('%s: scale, shift and mirror leave the shares, a million more leaves the sds', (_name, study) => {
  fc.assert(fc.property(tableOf(-500), (table) => {
    const plain = study(table);
    for (const [a, b] of [[3, -7], [-1, 0], [1, 1e6]] as const) {
      const other = study(shifted(table, a, b));
      // Components are compared as sds: near 0 the root magnifies the rounding of a variance.
      expectWithin(other.part.sd, Math.abs(a) * plain.part.sd, { rel: 1e-6, abs: 1e-5 }, 'part');
      expectWithin(other.gauge.sd, Math.abs(a) * plain.gauge.sd, { rel: 1e-6, abs: 1e-5 }, 'gauge');
    }
  }), { numRuns: 40 });
});

it('the sums of squares of both layouts add up to that of all readings', () => {
  fc.assert(fc.property(tableOf(-500), (table) => {
    const all = table.flat(2);
    const centre = all.reduce((sum, value) => sum + value, 0) / all.length;
    const total = all.reduce((sum, value) => sum + (value - centre) ** 2, 0);
    expectWithin(gaugeCrossed(table).anova.total.ss, total, { rel: 1e-10, abs: 1e-10 }, 'crossed');
    expectWithin(gaugeNested(table).anova.total.ss, total, { rel: 1e-10, abs: 1e-10 }, 'nested');
  }));
});

it('the order of parts, appraisers and trials does not matter', () => {
  const back = [...manual.readings].reverse().map((part) => [...part].reverse().map((cell) => [...cell].reverse()));
  expectWithin(gaugeCrossed(back).gauge.sd, gaugeCrossed(manual.readings).gauge.sd, { rel: 1e-12 }, 'crossed');
  expectWithin(gaugeAverageRange(back).gauge.sd, gaugeAverageRange(manual.readings).gauge.sd, { rel: 1e-12 }, 'averages and ranges');
});

it.each([['gaugeCrossed', gaugeCrossed], ['gaugeNested', gaugeNested], ['gaugeAverageRange', gaugeAverageRange]] as const)('%s: readings that are all alike leave nothing undefined but nulls', (_name, study) => {
  const alike = Array.from({ length: 3 }, () => [[0.1, 0.1], [0.1, 0.1]]);
  const { gauge, distinctCategories } = study(alike, { tolerance: 1 });
  expect(gauge).toMatchObject({ sd: 0, ofVariance: null, ofStudy: null, ofTolerance: 0 });
  expect(distinctCategories).toBeNull();
});

it.each([['gaugeCrossed', gaugeCrossed], ['gaugeNested', gaugeNested], ['gaugeAverageRange', gaugeAverageRange]] as const)('%s refuses what it cannot compute and names the place', (name, study) => {
  const good = [[[1, 2], [3, 4]], [[5, 6], [7, 9]]];
  expect(() => study([])).toThrow(new RegExp(`^${name}: needs at least 2 \\w+, 0 given`));
  expect(() => study([[[1, 2], [3, 4]], [[5, 6]]])).toThrow(/needs 2 \w+ throughout, 1 given at 2/);
  expect(() => study([[[1, 2], [3]], [[5, 6], [7, 9]]])).toThrow('needs 2 trials throughout, 1 given at 1, 2');
  expect(() => study([[[1], [3]], [[5], [7]]])).toThrow('needs at least 2 trials, 1 given');
  for (const bad of [Number.NaN, Number.POSITIVE_INFINITY]) expect(() => study([[[1, 2], [3, bad]], [[5, 6], [7, 9]]])).toThrow(`needs finite readings, ${bad} given at 1, 2, 2`);
  expect(() => study([[[1e308, -1e308], [3, 4]], [[5, 6], [7, 9]]])).toThrow(RangeError);
  expect(() => study(good, { confidence: 1 })).toThrow('confidence strictly between 0 and 1, 1 given');
  expect(() => study(good, { tolerance: 0 })).toThrow('tolerance above 0, 0 given');
  expect(() => study(good, { multiplier: -6 })).toThrow('multiplier above 0, -6 given');
  expect(() => study(good, { tolerance: 1e-320 })).toThrow(RangeError);
  const large = study(good.map((part) => part.map((cell) => cell.map((value) => value * 1e150))));
  expect([large.gauge.sd, large.part.sd].every(Number.isFinite)).toBe(true);
});

it('refuses a pooling p and terms that make no sense', () => {
  expect(() => gaugeCrossed([[[1, 2], [3, 4]], [[5, 6], [7, 9]]], { poolAbove: 2 })).toThrow('p to pool above from 0 to 1, 2 given');
  expect(() => combinationInterval([])).toThrow('at least 1 term');
  expect(() => combinationInterval([{ coefficient: 1, ms: -1, df: 3 }])).toThrow('term 1 is 1, -1, 3');
  expect(() => combinationInterval([{ coefficient: 1, ms: 1e308, df: 1 }])).toThrow('within the range of numbers');
  expect(() => satterthwaite([{ coefficient: -1, ms: 1, df: 3 }])).toThrow('term 1 is -1, 1, 3');
  expect(() => rangeDivisor(1, 3)).toThrow(RangeError);
  expect(() => rangeDivisor(2, 0)).toThrow('whole number of ranges');
});
