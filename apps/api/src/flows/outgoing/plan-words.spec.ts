import { expect, it } from 'vitest';
import { checkAt, openerWord } from './plan-words.js';

it('names plan and machine once each', () => {
  expect(checkAt('Seam teardown', 'SM2')).toBe('Seam teardown on SM2');
  expect(checkAt('Seam teardown SM2', 'SM2')).toBe('Seam teardown SM2');
});

it('says events in words and not by their codes', () => {
  expect(['end-lot-change', 'setting', 'long-stop', undefined].map(openerWord)).toEqual(['end lot change', 'adjustment', 'long stop', 'a line event']);
});
