import { assert, double, integer, nat, property } from 'fast-check';
import { expect, it } from 'vitest';
import { choicesOf, isComplete, isShorthand, meantText, placesOf, readCell } from './cell-typing.js';

const hook = { unit: 'mm', gaugeStep: 0.01, low: 0.5, high: 4 };
const film = { unit: 'µm', gaugeStep: 1, low: 2, high: 200 };

it.each([[0.01, 2], [0.001, 3], [0.25, 2], [0.5, 1], [1, 0], [5, 0], [10, 0]])('a step of %d has %d decimals', (step, places) => {
  expect(placesOf(step)).toBe(places);
});
it('refuses a step that is none', () => {
  for (const step of [0, -1, Number.NaN]) expect(() => placesOf(step)).toThrow('gaugeStep: needs a number above 0');
});

it.each([
  ['237', '2.37', 2.37], ['7', '0.07', 0.07], ['00237', '2.37', 2.37], ['-12', '-0.12', -0.12], ['2.37', '2.37', 2.37], ['2,37', '2,37', 2.37], ['237.', '237.', 237], ['', '', null], [' 237 ', '2.37', 2.37],
  ['2.37mm', '2.37', 2.37], ['2.37 MM', '2.37', 2.37], ['237 mm', '2.37', 2.37], ['2.37in', '2.37in', 'unreadable'], ['2.3.7', '2.3.7', 'unreadable'], ['2e1', '2e1', 'unreadable'],
] as const)('%j at a step of 0.01 mm is %j', (text, meant, value) => {
  expect(meantText(text, hook)).toBe(meant);
  expect(readCell(text, hook)).toBe(value);
});
it('takes digits as they stand where the step is whole, and the two signs for micro as one', () => {
  expect(readCell('12', film)).toBe(12);
  expect(isShorthand('12', film.gaugeStep)).toBe(false);
  for (const text of ['12 µm', '12μm', '12um']) expect(readCell(text, film)).toBe(12);
});

it('a point at any place means the same number as its digits alone, for every reading of a gauge', () => {
  assert(property(integer({ min: 0, max: 999_999 }), integer({ min: 1, max: 4 }), (digits, places) => {
    const step = 10 ** -places;
    const shown = (digits / 10 ** places).toFixed(places);
    expect(readCell(String(digits), { unit: 'mm', gaugeStep: step })).toBe(Number(shown));
    expect(readCell(shown, { unit: 'mm', gaugeStep: step })).toBe(Number(shown));
  }));
});
it('a settled cell keeps its meaning when it is read again', () => {
  assert(property(nat(99_999), (digits) => { expect(readCell(meantText(String(digits), hook), hook)).toBe(readCell(String(digits), hook)); }));
});

it.each([['2', false], ['23', false], ['237', true], ['050', true], ['49', false], ['4000', false], ['2.3', false], ['0', false], ['', false]])('%j is complete: %s', (text, complete) => {
  expect(isComplete(text, hook)).toBe(complete);
});
it('knows no complete number where the upper end is not known', () => {
  expect(isComplete('237', { ...hook, high: null })).toBe(false);
});
it('never takes a number for complete that a further digit could make plausible', () => {
  assert(property(nat(9999), nat(9), double({ min: 0.01, max: 50, noNaN: true }), (digits, next, high) => {
    const typed = { ...hook, low: 0, high };
    if (!isComplete(String(digits), typed)) return;
    expect(Number(readCell(`${digits}${next}`, typed))).toBeGreaterThan(high);
  }));
});

it('offers buttons for a rating of few values, and none for a measured length', () => {
  expect(choicesOf({ unit: '%', gaugeStep: 5, low: 0, high: 100 })).toHaveLength(21);
  expect(choicesOf({ unit: '', gaugeStep: 1, low: 0, high: 3 })).toEqual([0, 1, 2, 3]);
  expect(choicesOf(hook)).toBeNull();
  expect(choicesOf(film)).toBeNull();
  expect(choicesOf({ ...film, high: null })).toBeNull();
});
