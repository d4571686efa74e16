import { expect, it } from 'vitest';
import { readExcluded } from './read-excluded.js';

it('reads a check and its reason a line, and passes empty lines', () => {
  expect(readExcluded('1042 gauge was dropped\n\n 7: can was dented ')).toEqual({ excluded: [{ checkId: 1042, reason: 'gauge was dropped' }, { checkId: 7, reason: 'can was dented' }], badLine: null });
  expect(readExcluded('')).toEqual({ excluded: [], badLine: null });
});

it('names the first line that says too little', () => {
  expect(readExcluded('12 ok then\n13').badLine).toBe(2);
  expect(readExcluded('gauge was dropped').badLine).toBe(1);
  expect(readExcluded('12 x').badLine).toBe(1);
});
