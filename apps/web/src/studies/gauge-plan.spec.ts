import { expect, it } from 'vitest';
import { linesOf, referencesOf, scaleOf, standardOf } from './gauge-plan.js';

const more = { steps: 1, least: '', reject: '' };
it('takes one a line', () => { expect(linesOf(' P1 \n\nhead  3\n')).toEqual(['P1', 'head 3']); });

it('takes rising numbers as grades in order and anything else as words', () => {
  expect(scaleOf('60\n70\n80', { ...more, least: '70' })).toEqual({ kind: 'ordinal', grades: [60, 70, 80], steps: 1, least: 70 });
  expect(scaleOf('80\n70', more)).toEqual({ kind: 'nominal', categories: ['80', '70'], reject: [] });
  expect(scaleOf('in order\nfalse seam', { ...more, reject: 'false seam' })).toEqual({ kind: 'nominal', categories: ['in order', 'false seam'], reject: ['false seam'] });
  expect(scaleOf('60', more)).toBeNull();
});

it('finds the place of each reference, and says where one does not fit', () => {
  const scale = scaleOf('60\n70\n80', more);
  expect(standardOf('80\n60', scale, 2)).toEqual([2, 0]);
  expect(standardOf('80', scale, 2)).toBe('wrong');
  expect(standardOf('80\n65', scale, 2)).toBe('wrong');
  expect(standardOf('', scale, 2)).toBeNull();
});

it('reads one reference for each master, and refuses words, gaps and masters that are all the same', () => {
  expect(referencesOf('2.00\n 4.00 \n\n6', 3)).toEqual([2, 4, 6]);
  for (const text of ['2\n4', '2\nfour\n6', '2\n2\n2', '']) expect(referencesOf(text, 3), text).toBe('wrong');
});
