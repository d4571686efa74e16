import fc from 'fast-check';
import { expect, it } from 'vitest';
import { arrayText, textArray } from './array-text.js';
import { remember } from './remember.js';

it('writes numbers as they are read back, and NULL for what is missing', () => {
  expect(arrayText([])).toBe('{}');
  expect(arrayText([1, null, -0.5, 1e-7, 1e21])).toBe('{1,null,-0.5,1e-7,1e+21}');
  fc.assert(fc.property(fc.array(fc.option(fc.double({ noNaN: true, noDefaultInfinity: true }))), (values) => {
    const text = arrayText(values);
    expect(values.length === 0 ? [] : text.slice(1, -1).split(',').map((part) => (part === 'null' ? null : Number(part)))).toEqual(values.map((value) => (value === null ? null : value + 0)));
  }));
});

it('quotes texts, arrays of texts among them', () => {
  expect(textArray(['60°', null, 'a"b', 'c\\d', ''])).toBe('{"60°",NULL,"a\\"b","c\\\\d",""}');
  expect(textArray([textArray(['a"b', 'null'])])).toBe('{"{\\"a\\\\\\"b\\",\\"null\\"}"}');
});

it('makes a text once for the same object in a row', () => {
  let made = 0;
  const text = remember((list: readonly number[]) => { made += 1; return String(list); });
  const [one, other] = [[1], [2]];
  expect([one, one, other, one].map(text)).toEqual(['1', '1', '2', '1']);
  expect(made).toBe(3);
});
