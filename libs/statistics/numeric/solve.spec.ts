import { expect, it } from 'vitest';
import { expectWithin } from '../../../test/published/within.js';
import { findRoot } from './find-root.js';
import { solveLinear } from './solve-linear.js';

it('finds the root of a function that bends, to the last digits', () => {
  expectWithin(findRoot((x) => x ** 3 - 2, 0, 2), Math.cbrt(2), { rel: 1e-15 }, 'cube root of 2');
  expectWithin(findRoot((x) => Math.cos(x) - x, 0, 1), 0.7390851332151607, { rel: 1e-15 }, 'fixed point of the cosine (from memory)');
  expectWithin(findRoot((x) => Math.exp(-x) - 1e-6, 0, 1e3), -Math.log(1e-6), { rel: 1e-14 }, 'far from both ends');
  expect(findRoot((x) => x, 0, 5)).toBe(0);
});

it('refuses an interval without a change of sign and a function that is no number', () => {
  expect(() => findRoot((x) => x * x + 1, -1, 1)).toThrow('findRoot: needs opposite signs');
  expect(() => findRoot((x) => Math.sqrt(x), -1, 1)).toThrow('a number everywhere');
  expect(() => findRoot((x) => x, Number.NaN, 1)).toThrow('finite interval');
});

it('solves what elimination without exchange would lose, and leaves its input alone', () => {
  const matrix = Object.freeze([Object.freeze([1e-20, 1]), Object.freeze([1, 1])]);
  const x = solveLinear(matrix, Object.freeze([1, 2]));
  expectWithin(x[0], 1, { rel: 1e-12 }, 'x');
  expectWithin(x[1], 1, { rel: 1e-12 }, 'y');
});

it('the Hilbert matrix of order 6 with row sums on the right gives ones', () => {
  const hilbert = Array.from({ length: 6 }, (_, i) => Array.from({ length: 6 }, (_unused, j) => 1 / (i + j + 1)));
  const x = solveLinear(hilbert, hilbert.map((row) => row.reduce((sum, value) => sum + value, 0)));
  for (const value of x) expectWithin(value, 1, { abs: 1e-8 }, 'one');
});

it('refuses a singular matrix and shapes that do not fit', () => {
  expect(() => solveLinear([[1, 2], [2, 4]], [1, 2])).toThrow('full rank');
  expect(() => solveLinear([[1, 2]], [1])).toThrow('square matrix');
  expect(() => solveLinear([[Number.NaN]], [1])).toThrow('finite numbers');
});
