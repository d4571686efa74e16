import fc from 'fast-check';
import { expect, it } from 'vitest';
import { agrees, agreesExactly } from '../../../test/published/agrees.js';
import champWoodall from '../../../test/published/average-run-lengths.json' with { type: 'json' };
import reference from '../../../test/published/run-lengths.json' with { type: 'json' };
import { normalCdf } from '../distributions/normal.js';
import { ALL_RULES, NELSON, WESTERN_ELECTRIC } from '../rules/run-rules.js';
import type { RuleName } from '../rules/verdict.js';
import { runLengthOfRules } from './run-length-of-rules.js';
import { operatingCharacteristicOfRules } from './run-length-of-rules-operating.js';

const CHAMP_WOODALL = { method: 'run length of run rules', source: 'Champ & Woodall 1987, Technometrics 29(4), table 1' };
const NUMPY = { method: 'run length of run rules', source: 'NumPy, dense chain written apart (make-run-lengths.py)' };
const FELLER = { method: 'run length of one run rule', source: 'Feller 1968, vol. 1, XIII.7-8, success runs' };
const NELSON_1984 = { method: 'false alarms of one run rule', source: 'Nelson 1984, chances printed with the tests (from memory), recomputed' };

it.each(champWoodall.rows)('$rules run as long as Champ & Woodall 1987 found', ({ rules, arl }) => {
  champWoodall.shifts.forEach((shift, i) => {
    agrees(CHAMP_WOODALL, runLengthOfRules(rules as RuleName[], shift).arl, arl[i] ?? Number.NaN, champWoodall.tolerance, `${rules.join(' ')}, shift ${shift}`);
  });
});

it.each(reference.zone)('$rules at shift $shift as by linear solve and eigenvector', ({ rules, shift, arl, steadyStateArl, falseAlarm, percentiles, survivalAt10 }) => {
  const got = runLengthOfRules(Object.freeze(rules as RuleName[]), shift, { survivalAt: Object.freeze([10]) });
  const what = `${rules.join(' ')}, shift ${shift}`;
  agrees(NUMPY, got.arl, arl, { rel: 1e-9 }, `mean, ${what}`);
  agrees(NUMPY, got.steadyStateArl, steadyStateArl, { rel: 1e-9 }, `steady state, ${what}`);
  agrees(NUMPY, got.falseAlarm, falseAlarm, { rel: 1e-9 }, `false alarm, ${what}`);
  agreesExactly(NUMPY, got.percentiles.map(({ points }) => points), percentiles, `percentiles, ${what}`);
  if (survivalAt10 !== null) agrees(NUMPY, got.survival[0]?.share, survivalAt10, { rel: 1e-9 }, `survival, ${what}`);
});

it.each(reference.ranks)('$rules alone: no distribution matters, only the order of the points', ({ rules, arl, falseAlarm, survival }) => {
  const source = { method: 'run length of trend and alternation', source: 'exact recursion over ranks (make-run-lengths.py)' };
  for (const shift of [0, 1.7, -4, 25]) {
    const got = runLengthOfRules(rules as RuleName[], shift, { survivalAt: Object.keys(survival).map(Number) });
    agrees(source, got.arl, arl, { rel: 1e-10 }, `mean, ${rules[0]}, shift ${shift}`);
    agrees(source, got.falseAlarm, falseAlarm, { rel: 1e-9 }, `false alarm, ${rules[0]}, shift ${shift}`);
    for (const { points, share } of got.survival) agrees(source, share, survival[String(points) as keyof typeof survival], { rel: 1e-11 }, `survival of ${points}, ${rules[0]}`);
  }
});

it.each(reference.simulated)('$rules at shift $shift after $quiet quiet points as simulated', ({ rules, shift, quiet, mean, standardError }) => {
  const got = runLengthOfRules(rules as RuleName[], shift);
  // Four standard errors of the simulation: met by all but one in 16,000 right answers.
  agrees({ method: 'run length of run rules', source: 'simulation by sight (make-run-lengths.py), 300,000 series' }, quiet === 0 ? got.arl : got.steadyStateArl, mean, { abs: 4 * standardError }, `${rules.join(' ')}, shift ${shift}`);
});

/** Mean wait for the first run of r successes of probability p. */
const wait = (p: number, r: number): number => (1 - p ** r) / ((1 - p) * p ** r);

it('runs on either side, within and beyond: mean waits for success runs', () => {
  for (const shift of [0, 0.3, 1.1]) {
    const above = normalCdf(shift);
    for (const [rule, r] of [['eight-in-a-row', 8], ['nine-in-a-row', 9]] as const) {
      const either = 1 / (1 / wait(above, r) + 1 / wait(1 - above, r));
      agrees(FELLER, runLengthOfRules([rule], shift).arl, either, { rel: 1e-9 }, `${rule}, shift ${shift}`);
    }
    agrees(FELLER, runLengthOfRules(['fifteen-inside'], shift).arl, wait(normalCdf(1 - shift) - normalCdf(-1 - shift), 15), { rel: 1e-9 }, `fifteen-inside, shift ${shift}`);
    agrees(FELLER, runLengthOfRules(['beyond-limits'], shift).arl, 1 / (normalCdf(-3 - shift) + normalCdf(-3 + shift)), { rel: 1e-9 }, `beyond-limits, shift ${shift}`);
  }
  agrees(FELLER, runLengthOfRules(['nine-in-a-row'], 0).arl, 511, { rel: 1e-12 }, 'nine of a fair coin: 2^9 - 1');
  agrees(FELLER, runLengthOfRules(['eight-in-a-row'], 0).arl, 255, { rel: 1e-12 }, 'eight of a fair coin: 2^8 - 1');
});

it('chances of the single tests, as their author prints them', () => {
  // Chance that the first full pattern is met, i.e. of a signal within as many points as the pattern has.
  const printed: readonly [RuleName, number, number][] = [
    ['beyond-limits', 1, 0.0027], ['nine-in-a-row', 9, 0.0039], ['six-in-a-trend', 6, 0.0028], ['fourteen-alternating', 14, 0.0046], ['fifteen-inside', 15, 0.0033], ['eight-outside', 8, 0.0001],
  ];
  for (const [rule, points, chance] of printed) agrees(NELSON_1984, operatingCharacteristicOfRules([rule], [0], points)[0]?.signalled, chance, { abs: 0.00005 }, rule);
});

it('orders of points: rising runs by factorials, alternating ones by zigzag numbers', () => {
  const andre = { method: 'chance of an order of points', source: 'André 1879, zigzag number E14 = 199360981' };
  agrees(andre, operatingCharacteristicOfRules(['fourteen-alternating'], [0.4], 14)[0]?.signalled, (2 * 199_360_981) / 87_178_291_200, { rel: 1e-12 }, '2 E14 / 14!');
  const orders = { method: 'chance of an order of points', source: 'counting of orders: 2 of 6! are monotone' };
  agrees(orders, operatingCharacteristicOfRules(['six-in-a-trend'], [-1.3], 6)[0]?.signalled, 2 / 720, { rel: 1e-12 }, '2 / 6!');
  // Of 7! orders: six rising at the start or at the end are 7 + 7 - 1, falling as many.
  agrees(orders, operatingCharacteristicOfRules(['six-in-a-trend'], [0], 7)[0]?.signalled, 26 / 5040, { rel: 1e-12 }, '26 / 7!');
});

const someRules = fc.subarray([...ALL_RULES], { minLength: 1 });
const shifts = fc.double({ min: -4, max: 4, noNaN: true });

it('is the same for a shift down as for one up, however rules are listed, and never longer with a rule more', () => {
  fc.assert(fc.property(someRules, shifts, fc.constantFrom(...ALL_RULES), (rules, shift, more) => {
    const up = runLengthOfRules(Object.freeze(rules), shift);
    const down = runLengthOfRules([...rules].reverse(), -shift);
    expect(up.arl === null).toBe(down.arl === null);
    if (up.arl !== null && down.arl !== null) expect(Math.abs(down.arl / up.arl - 1)).toBeLessThan(1e-8);
    const stricter = runLengthOfRules([...rules, more], shift);
    if (up.arl !== null && stricter.arl !== null) expect(stricter.arl).toBeLessThanOrEqual(up.arl * (1 + 1e-8));
    expect(stricter.falseAlarm).toBeGreaterThanOrEqual(up.falseAlarm * (1 - 1e-8));
  }), { numRuns: 8 });
}, 60_000);

it('without a shift the steady state signals at one rate: its mean is one over the false alarms', () => {
  for (const rules of [WESTERN_ELECTRIC, NELSON, ['six-in-a-trend'], ['fourteen-alternating', 'beyond-limits']] as const) {
    const { steadyStateArl, falseAlarm } = runLengthOfRules(rules, 0);
    expect(Math.abs((steadyStateArl ?? 0) * falseAlarm - 1)).toBeLessThan(1e-10);
  }
});

it('percentiles, survival and operating characteristic say the same', () => {
  fc.assert(fc.property(fc.subarray(WESTERN_ELECTRIC.concat('fifteen-inside', 'six-in-a-trend'), { minLength: 1 }), shifts, (rules, shift) => {
    const { percentiles } = runLengthOfRules(rules, shift);
    for (const { share, points } of percentiles) {
      if (points === null || points > 2000) continue;
      const [at, before] = runLengthOfRules(rules, shift, { survivalAt: [points, points - 1] }).survival;
      expect(1 - (at?.share ?? 1)).toBeGreaterThanOrEqual(share - 1e-9);
      expect(1 - (before?.share ?? 0)).toBeLessThan(share + 1e-9);
      expect(Math.abs((operatingCharacteristicOfRules(rules, [shift], points)[0]?.signalled ?? 0) - 1 + (at?.share ?? 0))).toBeLessThan(1e-9);
    }
  }), { numRuns: 8 });
}, 60_000);

it('what never signals within the range of numbers has no mean; what signals at once has 1', () => {
  const never = runLengthOfRules(['fifteen-inside'], 30);
  expect(never.arl).toBeNull();
  expect(never.percentiles.every(({ points }) => points === null)).toBe(true);
  expect(never.falseAlarm).toBeGreaterThan(0);
  const atOnce = runLengthOfRules(WESTERN_ELECTRIC, 1e308, { survivalAt: [0, 1, 1000] });
  expect(atOnce.arl).toBe(1);
  expect(atOnce.survival.map(({ share }) => share)).toEqual([1, 0, 0]);
  for (const shift of [1e308, -1e308, 40]) {
    for (const rule of ALL_RULES) {
      const { arl, steadyStateArl, percentiles } = runLengthOfRules([rule], shift);
      for (const value of [arl, steadyStateArl, ...percentiles.map(({ points }) => points)]) expect(value === null || Number.isFinite(value)).toBe(true);
    }
  }
});

it('the smallest and the largest sets of rules can be followed', () => {
  for (let set = 1; set < 2 ** ALL_RULES.length; set += 1) {
    const rules = ALL_RULES.filter((_, i) => (set >> i) % 2 === 1);
    if (rules.length > 1 && rules.length < ALL_RULES.length - 1) continue;
    // Two points are enough here: all memories of the set are found before the first.
    const [{ signalled } = { signalled: Number.NaN }] = operatingCharacteristicOfRules(rules, [2], 2);
    expect(signalled).toBeGreaterThanOrEqual(0);
    expect(signalled).toBeLessThan(1);
  }
}, 120_000);

it('says what it needs', () => {
  expect(() => runLengthOfRules([], 0)).toThrow('runLengthOfRules: needs at least one rule, none given');
  expect(() => runLengthOfRules(['no-rule' as RuleName], 0)).toThrow('"no-rule" given');
  for (const shift of [Number.NaN, Number.POSITIVE_INFINITY]) expect(() => runLengthOfRules(WESTERN_ELECTRIC, shift)).toThrow(`${shift} given`);
  for (const points of [-1, 0.5, Number.NaN, 1e308]) expect(() => runLengthOfRules(WESTERN_ELECTRIC, 0, { survivalAt: [3, points] })).toThrow(`${points} given at place 2`);
  expect(() => operatingCharacteristicOfRules(WESTERN_ELECTRIC, [0, Number.NaN], 5)).toThrow('NaN given as shift 2');
  for (const points of [0, 1.5, 100_001]) expect(() => operatingCharacteristicOfRules(WESTERN_ELECTRIC, [0], points)).toThrow(`${points} given`);
});
