import { expect, it } from 'vitest';
import published from '../../../test/published/chart-constants.json' with { type: 'json' };
import { agrees, agreesExactly } from '../../../test/published/agrees.js';
import { expectWithin } from '../../../test/published/within.js';
import { type ChartConstants, chartConstants, E2 } from './constants.js';

type Factor = keyof ChartConstants;
const factorsOf = (row: object): [Factor, number][] => Object.entries(row) as [Factor, number][];

it.each([...published.rows, ...published.beyondTheTable])('agrees with the factors of n = $n to six decimals (ASTM MNL 7, recomputed)', (row) => {
  const constants = chartConstants(row.n);
  for (const [factor, expected] of factorsOf(row)) agrees({ method: 'chart constants', source: 'ASTM MNL 7, recomputed with mpmath and R' }, constants[factor], expected, published.tolerance, `${factor}(${row.n})`);
});

it('rounds to the printed three decimals', () => {
  for (const row of published.printed.rows) {
    for (const [factor, printed] of factorsOf(row)) agreesExactly({ method: 'chart constants', source: 'ASTM MNL 7, printed to three decimals' }, chartConstants(row.n)[factor].toFixed(3), printed.toFixed(3), `${factor}(${row.n})`);
  }
});

it.each(published.misprints)('is not misled by the last digit of the printed $factor of n = $n', ({ factor, n, printed, exact }) => {
  const got = chartConstants(n)[factor as Factor];
  agrees({ method: 'chart constants', source: 'ASTM MNL 7, misprints recomputed with mpmath and R' }, got, exact, { abs: 1e-6 }, factor);
  expect(got.toFixed(3)).not.toBe(printed.toFixed(3));
});

it('has closed forms where there are any', () => {
  const CLOSED = { method: 'chart constants', source: 'closed forms for two and three readings' };
  agrees(CLOSED, chartConstants(2).d2, 2 / Math.sqrt(Math.PI), { rel: 1e-12 }, 'd2(2)');
  agrees(CLOSED, chartConstants(3).d2, 3 / Math.sqrt(Math.PI), { rel: 1e-12 }, 'd2(3)');
  agrees(CLOSED, chartConstants(2).d3, Math.sqrt(2 - 4 / Math.PI), { rel: 1e-11 }, 'd3(2)');
  agrees(CLOSED, chartConstants(2).c4, Math.sqrt(2 / Math.PI), { rel: 1e-13 }, 'c4(2)');
  expectWithin(E2, 3 / chartConstants(2).d2, { rel: 1e-12 }, 'E2');
  agrees({ method: 'chart constants', source: 'ASTM MNL 7, recomputed with mpmath and R' }, E2, published.E2.value, { abs: 1e-6 }, 'E2');
});

it('goes on growing past the end of every table, and never reuses a row', () => {
  for (let n = 3; n <= 200; n += 7) {
    const smaller = chartConstants(n - 1);
    const larger = chartConstants(n);
    expect(larger.d2).toBeGreaterThan(smaller.d2);
    expect(larger.c4).toBeGreaterThan(smaller.c4);
    expect(larger.A3).toBeLessThan(smaller.A3);
  }
});

it.each([1, 0, 2.5, 201, Number.NaN])('refuses a subgroup of %s', (n) => {
  expect(() => chartConstants(n)).toThrow(new RangeError(`chartConstants: needs a whole subgroup size from 2 to 200, ${n} given`));
});
