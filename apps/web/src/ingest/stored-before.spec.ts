import { expect, it } from 'vitest';
import { storedBefore } from './stored-before.js';

it('tells what a file brought that was stored already, once the import is through', () => {
  expect(storedBefore({ state: 'done', readings: 1678, stored: 0 })).toBe(1678);
  expect(storedBefore({ state: 'done', readings: 10, stored: 10 })).toBe(0);
  expect(storedBefore({ state: 'running', readings: 1678, stored: 400 })).toBe(0);
  expect(storedBefore({ state: 'stopped', readings: 1678, stored: 400 })).toBe(0);
});
