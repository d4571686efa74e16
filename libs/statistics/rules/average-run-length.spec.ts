import { expect, it } from 'vitest';
import published from '../../../test/published/average-run-lengths.json' with { type: 'json' };
import { expectWithin } from '../../../test/published/within.js';
import { normalCdf } from '../distributions/normal.js';
import { RUN_RULES } from './run-rules.js';
import type { RuleName } from './verdict.js';

/** One z in each zone, and the zone's bounds. */
const ZONES = [-3.5, -2.5, -1.5, -0.5, 0.5, 1.5, 2.5, 3.5].map((middle, i) => ({
  middle,
  from: i === 0 ? Number.NEGATIVE_INFINITY : i - 4,
  to: i === 7 ? Number.POSITIVE_INFINITY : i - 3,
}));

/**
 * Mean number of points up to the first signal, exactly: the memories of the rules as they are shipped are the states
 * of a Markov chain, a signal absorbs. Sum of the probabilities of surviving t points over all t; once the survivors
 * shrink by a constant factor the rest is a geometric series.
 */
function averageRunLength(names: readonly RuleName[], shift: number): number {
  const rules = names.map((name) => RUN_RULES[name]);
  const chances = ZONES.map(({ from, to }) => normalCdf(to - shift) - normalCdf(from - shift));
  const states = [rules.map((rule) => rule.start)];
  const numbers = new Map([[String(states[0]), 0]]);
  const moves: { to: number; chance: number }[][] = [];
  for (const state of states) {
    moves.push(ZONES.flatMap(({ middle }, zone) => {
      const reached = rules.map((rule, i) => rule.step(state[i] ?? Number.NaN, middle, null));
      if (rules.some((rule, i) => rule.fired(reached[i] ?? Number.NaN) !== null)) return [];
      const key = String(reached);
      const number = numbers.get(key) ?? states.push(reached) - 1;
      numbers.set(key, number);
      return [{ to: number, chance: chances[zone] ?? Number.NaN }];
    }));
  }

  let alive = new Float64Array(states.length);
  alive[0] = 1;
  let mass = 1;
  let total = 0;
  let settled = 0;
  let ratio = 0;
  for (let t = 0; t < 20_000 && settled < 30; t += 1) {
    total += mass;
    const next = new Float64Array(states.length);
    moves.forEach((list, from) => {
      for (const { to, chance } of list) next[to] = (next[to] ?? 0) + (alive[from] ?? 0) * chance;
    });
    alive = next;
    const left = alive.reduce((sum, chance) => sum + chance, 0);
    settled = Math.abs(left / mass - ratio) < 1e-12 ? settled + 1 : 0;
    ratio = left / mass;
    mass = left;
  }
  expect(settled).toBe(30);
  return total + mass / (1 - ratio);
}

it.each(published.rows)('$rules run as long as Champ & Woodall 1987 found', ({ rules, arl }) => {
  published.shifts.forEach((shift, i) => {
    expectWithin(averageRunLength(rules as RuleName[], shift), arl[i] ?? Number.NaN, published.tolerance, `shift ${shift}`);
  });
});

it('one point beyond three sigma alone has the run length of its tail, 1/p', () => {
  expectWithin(averageRunLength(['beyond-limits'], 1), 1 / (normalCdf(-4) + normalCdf(-2)), { rel: 1e-9 }, 'shift 1');
});
