import fc from 'fast-check';
import { expect, it } from 'vitest';
import { evaluateRules } from './evaluate.js';
import { CODE, fireCodes, NOT_JUDGED } from './evaluate-array.js';
import { ALL_RULES, RULE_NAMES } from './run-rules.js';
import type { RuleName } from './verdict.js';

function bitsOf(z: readonly (number | null)[], rules: readonly RuleName[]): number[] {
  const codes: number[] = z.map((value) => (value === null ? NOT_JUDGED : 0));
  for (const { index, rule, side } of evaluateRules(z, rules)) codes[index] = (codes[index] ?? 0) | CODE[rule][side];
  return codes;
}

const point = fc.oneof(
  { weight: 5, arbitrary: fc.double({ min: -3.6, max: 3.6, noNaN: true }) },
  { weight: 3, arbitrary: fc.constantFrom(0, 1, 2, 3, -1, -2, -3, -0).chain((line) => fc.constantFrom(0, 1e-12, -1e-12, 1e-8, -1e-8).map((off) => line + off)) },
);
/** Sawtooth and slope, so that steps count; the size of a step is drawn, equal ones among them. */
const steps = fc.array(fc.integer({ min: -1, max: 6 }), { maxLength: 50 });
const series = fc.oneof(
  fc.array(fc.option(point, { freq: 15 }), { maxLength: 80 }),
  fc.array(fc.option(point.map((z) => Math.abs(z)), { freq: 25 }), { maxLength: 50 }),
  fc.array(fc.option(point.map((z) => -Math.abs(z)), { freq: 25 }), { maxLength: 50 }),
  fc.array(fc.option(fc.double({ min: -1.05, max: 1.05, noNaN: true }), { freq: 60 }), { maxLength: 60 }),
  fc.array(fc.option(fc.double({ min: -2, max: 2, noNaN: true }).map((z) => z + Math.sign(z)), { freq: 60 }), { maxLength: 60 }),
  steps.map((sizes) => sizes.map((size, i) => (i % 2 === 0 ? size : -size) / 4)),
  steps.map((sizes) => sizes.map((_, i) => sizes.slice(0, i).reduce((sum, size) => sum + size, 0) / 40 - 1)),
);
const someRules = fc.subarray([...ALL_RULES]);

it('says in bits what the rules say in words', () => {
  fc.assert(fc.property(series, someRules, (z, rules) => {
    const fast = fireCodes(Float64Array.from(z, (value) => value ?? Number.NaN), 0, 1, Object.freeze(rules));
    expect([...fast]).toEqual(bitsOf(Object.freeze(z), rules));
  }), { numRuns: 1500 });
});

it('judges by the four zone tests when no rules are named', () => {
  fc.assert(fc.property(series, (z) => {
    expect([...fireCodes(Float64Array.from(z, (value) => value ?? Number.NaN))]).toEqual(bitsOf(Object.freeze(z), RULE_NAMES));
  }), { numRuns: 300 });
});

it('takes plotted values with their centre line and sigma as well', () => {
  fc.assert(fc.property(fc.array(fc.integer({ min: -14, max: 14 }), { maxLength: 60 }), (quarters) => {
    // Quarters of sigma: exact in binary, so the values fall exactly on the lines.
    const plotted = Float64Array.from(quarters, (step) => 100 + 0.5 * (step / 4));
    expect([...fireCodes(plotted, 100, 0.5, ALL_RULES)]).toEqual(bitsOf(Object.freeze(quarters.map((step) => step / 4)), ALL_RULES));
  }));
});

it('a gap is marked as not judged and cannot be taken for steady', () => {
  const run = [1, 1, 1, 1].map((z) => z / 2);
  const z = Float64Array.of(...run, Number.NaN, ...run, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY);
  expect([...fireCodes(z)]).toEqual([0, 0, 0, 0, NOT_JUDGED, 0, 0, 0, 0, NOT_JUDGED, NOT_JUDGED]);
  const bits = ALL_RULES.flatMap((rule) => Object.values(CODE[rule])).filter((bit) => bit !== 0);
  expect(new Set(bits).size).toBe(15);
  expect(bits.every((bit) => Math.log2(bit) % 1 === 0 && bit < NOT_JUDGED)).toBe(true);
});

it('leaves its input alone and refuses limits without width and rules it does not know', () => {
  const z = Float64Array.of(1, 2, 3);
  fireCodes(z, 1, 2, ALL_RULES);
  expect([...z]).toEqual([1, 2, 3]);
  for (const sigma of [0, -1, Number.NaN, Number.POSITIVE_INFINITY]) expect(() => fireCodes(z, 0, sigma)).toThrow(`a positive sigma, 0 and ${sigma} given`);
  expect(() => fireCodes(z, Number.NaN, 1)).toThrow('finite centre');
  expect(() => fireCodes(z, 0, 1, ['seven-in-a-row' as RuleName])).toThrow('"seven-in-a-row" given');
});
