import fc from 'fast-check';
import { expect, it } from 'vitest';
import { evaluateRules } from './evaluate.js';
import { CODE, fireCodes, NOT_JUDGED } from './evaluate-array.js';
import { RULE_NAMES } from './run-rules.js';

function bitsOf(z: readonly (number | null)[]): number[] {
  const codes: number[] = z.map((value) => (value === null ? NOT_JUDGED : 0));
  for (const { index, rule, side } of evaluateRules(z, RULE_NAMES)) codes[index] = (codes[index] ?? 0) | CODE[rule][side];
  return codes;
}

const point = fc.oneof(
  { weight: 5, arbitrary: fc.double({ min: -3.6, max: 3.6, noNaN: true }) },
  { weight: 3, arbitrary: fc.constantFrom(0, 1, 2, 3, -1, -2, -3, -0).chain((line) => fc.constantFrom(0, 1e-12, -1e-12, 1e-8, -1e-8).map((off) => line + off)) },
);
const series = fc.oneof(
  fc.array(fc.option(point, { freq: 15 }), { maxLength: 80 }),
  fc.array(fc.option(point.map((z) => Math.abs(z)), { freq: 25 }), { maxLength: 50 }),
  fc.array(fc.option(point.map((z) => -Math.abs(z)), { freq: 25 }), { maxLength: 50 }),
);

it('says in bits what the rules say in words', () => {
  fc.assert(fc.property(series, (z) => {
    const fast = fireCodes(Float64Array.from(z, (value) => value ?? Number.NaN));
    expect([...fast]).toEqual(bitsOf(Object.freeze(z)));
  }), { numRuns: 1000 });
});

it('takes plotted values with their centre line and sigma as well', () => {
  fc.assert(fc.property(fc.array(fc.integer({ min: -14, max: 14 }), { maxLength: 60 }), (steps) => {
    // Quarters of sigma: exact in binary, so the values fall exactly on the lines.
    const plotted = Float64Array.from(steps, (step) => 100 + 0.5 * (step / 4));
    expect([...fireCodes(plotted, 100, 0.5)]).toEqual(bitsOf(Object.freeze(steps.map((step) => step / 4))));
  }));
});

it('a gap is marked as not judged and cannot be taken for steady', () => {
  const run = [1, 1, 1, 1].map((z) => z / 2);
  const z = Float64Array.of(...run, Number.NaN, ...run, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY);
  expect([...fireCodes(z)]).toEqual([0, 0, 0, 0, NOT_JUDGED, 0, 0, 0, 0, NOT_JUDGED, NOT_JUDGED]);
  const everyFiring = RULE_NAMES.flatMap((rule) => [CODE[rule].above, CODE[rule].below]);
  expect(new Set(everyFiring).size).toBe(8);
});

it('leaves its input alone and refuses limits without width', () => {
  const z = Float64Array.of(1, 2, 3);
  fireCodes(z, 1, 2);
  expect([...z]).toEqual([1, 2, 3]);
  for (const sigma of [0, -1, Number.NaN, Number.POSITIVE_INFINITY]) expect(() => fireCodes(z, 0, sigma)).toThrow(`a positive sigma, 0 and ${sigma} given`);
  expect(() => fireCodes(z, Number.NaN, 1)).toThrow('finite centre');
});
