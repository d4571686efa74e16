import fc from 'fast-check';
import { expect, it } from 'vitest';
import published from '../../../test/published/zone-tests.json' with { type: 'json' };
import { evaluateRules } from './evaluate.js';
import { LONGEST_PATTERN, RULE_NAMES, runRules } from './run-rules.js';
import type { Firing, RuleName, Side } from './verdict.js';

it.each(published.sequences)('$rules on $z (Western Electric 1956, as in Montgomery & Runger, p. 606)', ({ z, rules, firings }) => {
  const got = evaluateRules(Object.freeze([...z]), Object.freeze(rules as RuleName[]));
  expect(got.map(({ rule, index, side }) => ({ rule, point: index + 1, side }))).toEqual(firings);
});

/** The rules as the handbook words them, point by point from scratch: slow and plain. */
function bySight(z: readonly (number | null)[], rules: readonly RuleName[]): Firing[] {
  return z.flatMap((_, index) => RULE_NAMES.filter((rule) => rules.includes(rule)).flatMap((rule) => {
    const { size, needed, line } = { 'beyond-limits': { size: 1, needed: 1, line: 3 }, 'two-of-three': { size: 3, needed: 2, line: 2 }, 'four-of-five': { size: 5, needed: 4, line: 1 }, 'eight-in-a-row': { size: 8, needed: 8, line: 0 } }[rule];
    const gap = z.slice(0, index + 1).lastIndexOf(null);
    const from = Math.max(gap + 1, index - size + 1);
    return (['above', 'below'] as const).flatMap((side) => {
      const places: number[] = [];
      for (let i = from; i <= index; i += 1) {
        const value = z[i] ?? Number.NaN;
        if ((side === 'above' ? value : -value) - line > 1e-9) places.push(i);
      }
      const [first] = places;
      return first !== undefined && places.length >= needed && places.at(-1) === index ? [{ index, rule, side, firstIndex: first }] : [];
    });
  }));
}

/** Points on, just beside and far from every line, with gaps: where the rules can go wrong. */
const point = fc.oneof(
  { weight: 6, arbitrary: fc.double({ min: -3.6, max: 3.6, noNaN: true }) },
  { weight: 3, arbitrary: fc.constantFrom(0, 1, 2, 3, -1, -2, -3).chain((line) => fc.constantFrom(0, 1e-12, -1e-12, 1e-8, -1e-8).map((off) => line + off)) },
  { weight: 2, arbitrary: fc.double({ min: 0.9, max: 3.2, noNaN: true }) },
);
const series = fc.oneof(
  fc.array(fc.option(point, { freq: 15 }), { maxLength: 60 }),
  // Streams that have moved to one side, so that runs do come about.
  fc.array(fc.option(point.map((z) => Math.abs(z)), { freq: 30 }), { maxLength: 40 }),
);
const someRules = fc.subarray([...RULE_NAMES]);

it('agrees with the rules read off by sight', () => {
  fc.assert(fc.property(series, someRules, (z, rules) => {
    expect(evaluateRules(Object.freeze(z), Object.freeze(rules))).toEqual(bySight(z, rules));
  }), { numRuns: 600 });
});

it('a chart that grows point by point says what a replay says', () => {
  fc.assert(fc.property(series, (z) => {
    const judge = runRules(RULE_NAMES);
    expect(z.flatMap((value, index) => judge(value, index))).toEqual(evaluateRules(Object.freeze(z), RULE_NAMES));
  }));
});

it('the verdict on a point needs the longest pattern of points before it and never more', () => {
  fc.assert(fc.property(series, (z) => {
    fc.pre(z.length > LONGEST_PATTERN);
    const last = z.length - 1;
    const short = evaluateRules(Object.freeze(z.slice(-LONGEST_PATTERN)), RULE_NAMES).filter(({ index }) => index === LONGEST_PATTERN - 1);
    const whole = evaluateRules(Object.freeze(z), RULE_NAMES).filter(({ index }) => index === last);
    expect(short.map(({ rule, side, firstIndex }) => ({ rule, side, back: LONGEST_PATTERN - 1 - firstIndex })))
      .toEqual(whole.map(({ rule, side, firstIndex }) => ({ rule, side, back: last - firstIndex })));
  }));
});

it('mirrored data swap the sides and keep the list', () => {
  const other: Record<Side, Side> = { above: 'below', below: 'above' };
  fc.assert(fc.property(series, (z) => {
    const mirrored = evaluateRules(Object.freeze(z.map((value) => (value === null ? null : -value))), RULE_NAMES);
    expect(mirrored.map((firing) => ({ ...firing, side: other[firing.side] }))).toEqual(evaluateRules(Object.freeze(z), RULE_NAMES));
  }));
});

it('a run of ten fires at its 8th, 9th and 10th point: nothing restarts', () => {
  const firings = evaluateRules(Object.freeze(Array.from({ length: 10 }, () => 0.5)), ['eight-in-a-row']);
  expect(firings.map(({ index, firstIndex }) => [index, firstIndex])).toEqual([[7, 0], [8, 1], [9, 2]]);
});

it('a point exactly on a line is beyond it by nothing, and rounding does not push it over', () => {
  expect(evaluateRules(Object.freeze([3, -3, 3 + 1e-10]), ['beyond-limits'])).toEqual([]);
  expect(evaluateRules(Object.freeze([0.1 + 0.2 - 0.3, 1, 1, 1, 1, 1, 1, 1]), ['eight-in-a-row'])).toEqual([]);
  expect(evaluateRules(Object.freeze([3 + 1e-8]), ['beyond-limits'])).toEqual([{ index: 0, rule: 'beyond-limits', side: 'above', firstIndex: 0 }]);
});

it('a rule named twice fires once', () => {
  expect(evaluateRules(Object.freeze([4]), ['beyond-limits', 'beyond-limits'])).toHaveLength(1);
});

it('no points, or no rules, fire nothing', () => {
  expect(evaluateRules([], RULE_NAMES)).toEqual([]);
  expect(evaluateRules([9, 9, 9], [])).toEqual([]);
});

it('refuses NaN and infinities: neither may read as steady', () => {
  for (const bad of [Number.NaN, Number.POSITIVE_INFINITY]) expect(() => evaluateRules(Object.freeze([0, bad]), RULE_NAMES)).toThrow(`point 2 is ${bad}`);
});
