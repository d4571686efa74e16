import fc from 'fast-check';
import { expect, it } from 'vitest';
import published from '../../../test/published/zone-tests.json' with { type: 'json' };
import { agreesExactly } from '../../../test/published/agrees.js';
import { allowedRules } from './allowed-rules.js';
import { evaluateRules } from './evaluate.js';
import { ALL_RULES, LONGEST_PATTERN, NELSON, RULE_NAMES, runRules, WESTERN_ELECTRIC } from './run-rules.js';
import type { Firing, FiringSide, RuleName } from './verdict.js';

it.each(published.sequences)('$rules on $z (Western Electric 1956, as in Montgomery & Runger, p. 606)', ({ z, rules, firings }) => {
  const got = evaluateRules(Object.freeze([...z]), Object.freeze(rules as RuleName[]));
  agreesExactly({ method: 'zone tests', source: 'Western Electric 1956, as in Montgomery & Runger, p. 606' },
    got.map(({ rule, index, side }) => ({ rule, point: index + 1, side })), firings, z.join(' '));
});

it.each(published.nelson)('$rules on $z (Nelson 1984)', ({ z, rules, firings }) => {
  const got = evaluateRules(Object.freeze([...z]), Object.freeze(rules as RuleName[]));
  agreesExactly({ method: 'Nelson tests', source: 'Nelson 1984, definitions applied by hand' },
    got.map(({ rule, index, side }) => ({ rule, point: index + 1, side })), firings, z.join(' '));
});

const ZONE_RULES = {
  'beyond-limits': { size: 1, needed: 1, line: 3 }, 'two-of-three': { size: 3, needed: 2, line: 2 }, 'four-of-five': { size: 5, needed: 4, line: 1 },
  'eight-in-a-row': { size: 8, needed: 8, line: 0 }, 'nine-in-a-row': { size: 9, needed: 9, line: 0 },
} as const;

/** The patterns that are looked at as a whole: all of the last `size` points, as the paper words them. */
const PATTERNS: Readonly<Record<Exclude<RuleName, keyof typeof ZONE_RULES>, { size: number; met: (z: readonly number[]) => FiringSide | null }>> = {
  'six-in-a-trend': {
    size: 6, met: (z) => {
      if (pairs(z).every(([before, after]) => after - before > 1e-9)) return 'above';
      return pairs(z).every(([before, after]) => before - after > 1e-9) ? 'below' : null;
    },
  },
  'fourteen-alternating': {
    size: 14, met: (z) => {
      const steps = pairs(z).map(([before, after]) => (Math.abs(after - before) > 1e-9 ? Math.sign(after - before) : 0));
      return steps.every((step) => step !== 0) && pairs(steps).every(([before, after]) => before !== after) ? 'both' : null;
    },
  },
  'fifteen-inside': { size: 15, met: (z) => (z.some((value) => Math.abs(value) - 1 > 1e-9) ? null : 'both') },
  'eight-outside': { size: 8, met: (z) => (z.every((value) => Math.abs(value) - 1 > 1e-9) && z.some((value) => value > 0) && z.some((value) => value < 0) ? 'both' : null) },
};

function pairs(values: readonly number[]): [number, number][] {
  return values.slice(1).map((value, i) => [values[i] ?? Number.NaN, value]);
}

/** The rules as they are worded, point by point from scratch: slow and plain. */
function bySight(z: readonly (number | null)[], rules: readonly RuleName[], changes: readonly number[] = []): Firing[] {
  return z.flatMap((_, index) => ALL_RULES.filter((rule) => rules.includes(rule)).flatMap((rule): Firing[] => {
    const fresh = Math.max(0, z.slice(0, index + 1).lastIndexOf(null) + 1, ...changes.filter((change) => change <= index));
    if (rule in PATTERNS) {
      const { size, met } = PATTERNS[rule as keyof typeof PATTERNS];
      const firstIndex = index - size + 1;
      if (firstIndex < fresh) return [];
      const side = met(z.slice(firstIndex, index + 1).map((value) => value ?? Number.NaN));
      return side === null ? [] : [{ index, rule, side, firstIndex }];
    }
    const { size, needed, line } = ZONE_RULES[rule as keyof typeof ZONE_RULES];
    const from = Math.max(fresh, index - size + 1);
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
  // Too calm, empty in the middle, up and down in turn, drifting: what the longer patterns look for.
  fc.array(fc.option(fc.double({ min: -1.03, max: 1.03, noNaN: true }), { freq: 60 }), { maxLength: 50 }),
  fc.array(fc.option(fc.double({ min: -2, max: 2, noNaN: true }).map((z) => z + Math.sign(z)), { freq: 60 }), { maxLength: 40 }),
  fc.array(fc.integer({ min: -1, max: 9 }), { maxLength: 45 }).map((sizes) => sizes.map((size, i) => (i % 2 === 0 ? size : -size) / 4)),
  fc.array(fc.integer({ min: -1, max: 9 }), { maxLength: 45 }).map((sizes) => sizes.map((_, i) => sizes.slice(0, i).reduce((sum, size) => sum + size, 0) / 50 - 1.5)),
);
const someRules = fc.subarray([...ALL_RULES]);

it('agrees with the rules read off by sight', () => {
  fc.assert(fc.property(series, someRules, fc.array(fc.nat(60), { maxLength: 2 }), (z, rules, wanted) => {
    const changes = wanted.filter((index) => index < z.length);
    expect(evaluateRules(Object.freeze(z), Object.freeze(rules), Object.freeze(changes))).toEqual(bySight(z, rules, changes));
  }), { numRuns: 1500 });
});

it('a chart that grows point by point says what a replay says', () => {
  fc.assert(fc.property(series, (z) => {
    const judge = runRules(ALL_RULES);
    expect(z.flatMap((value, index) => judge(value, index))).toEqual(evaluateRules(Object.freeze(z), ALL_RULES));
  }));
});

it('the verdict on a point needs the longest pattern of points before it and never more', () => {
  fc.assert(fc.property(series, series, (a, b) => {
    const z = Object.freeze([...a, ...b]);
    const whole = evaluateRules(z, ALL_RULES);
    for (let last = LONGEST_PATTERN; last < z.length; last += 1) {
      const from = last - LONGEST_PATTERN + 1;
      const short = evaluateRules(z.slice(from, last + 1), ALL_RULES).filter(({ index }) => index === LONGEST_PATTERN - 1);
      expect(short.map((firing) => ({ ...firing, index: last, firstIndex: firing.firstIndex + from }))).toEqual(whole.filter(({ index }) => index === last));
    }
  }));
});

it('mirrored data swap the sides and keep the list', () => {
  const other: Record<FiringSide, FiringSide> = { above: 'below', below: 'above', both: 'both' };
  fc.assert(fc.property(series, (z) => {
    const mirrored = evaluateRules(Object.freeze(z.map((value) => (value === null ? null : -value))), ALL_RULES);
    expect(mirrored.map((firing) => ({ ...firing, side: other[firing.side] }))).toEqual(evaluateRules(Object.freeze(z), ALL_RULES));
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

it('refuses changes outside the series and rules it does not know', () => {
  for (const bad of [-1, 3, 0.5, Number.NaN]) expect(() => evaluateRules([0, 0, 0], RULE_NAMES, [bad])).toThrow(`points 0 to 2 of the series, ${bad} given`);
  expect(() => runRules(['seven-in-a-row' as RuleName])).toThrow('"seven-in-a-row" given');
});

it('reversed data swap rising and falling, and keep how often whole patterns are met', () => {
  const swapped: Record<FiringSide, FiringSide> = { above: 'below', below: 'above', both: 'both' };
  const whole: readonly RuleName[] = ['six-in-a-trend', 'fourteen-alternating', 'fifteen-inside', 'eight-outside'];
  fc.assert(fc.property(series, (z) => {
    const count = (list: readonly Firing[], turned: boolean) => list.map(({ rule, side }) => `${rule} ${turned && rule === 'six-in-a-trend' ? swapped[side] : side}`).sort();
    expect(count(evaluateRules(Object.freeze([...z].reverse()), whole), true)).toEqual(count(evaluateRules(Object.freeze(z), whole), false));
  }));
});

it('the lists of rules: the plant starts with the four zone tests, Nelson has eight', () => {
  expect(RULE_NAMES).toEqual(['beyond-limits', 'two-of-three', 'four-of-five', 'eight-in-a-row']);
  expect(WESTERN_ELECTRIC).toEqual(RULE_NAMES);
  expect(new Set(NELSON).size).toBe(8);
  expect(NELSON).not.toContain('eight-in-a-row');
  expect(new Set(ALL_RULES)).toEqual(new Set([...WESTERN_ELECTRIC, ...NELSON]));
});

it('skewed and dependent statistics get the limits only, unless somebody opts in', () => {
  for (const statistic of ['mean', 'median', 'individual'] as const) expect(allowedRules(statistic)).toEqual(ALL_RULES);
  for (const statistic of ['range', 'sd', 'moving-range', 'p', 'np', 'c', 'u', 'ewma', 'moving-average'] as const) {
    expect(allowedRules(statistic)).toEqual(['beyond-limits']);
    expect(allowedRules(statistic, true)).toEqual(ALL_RULES);
  }
});
