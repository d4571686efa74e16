import fc from 'fast-check';
import { expect, it } from 'vitest';
import { parseNumber } from './parse-number.js';

it('reads numbers with the stated decimal sign', () => {
  expect(parseNumber('1.65', '.')).toBe(1.65);
  expect(parseNumber(' 1,65 ', ',')).toBe(1.65);
  expect(parseNumber('-.5', '.')).toBe(-0.5);
  expect(parseNumber('+12', ',')).toBe(12);
});

it('takes an empty cell or a dash as no reading, which is not zero', () => {
  for (const text of ['', '  ', '-', '–']) expect(parseNumber(text, '.')).toBeNull();
  expect(parseNumber('0', '.')).toBe(0);
});

it('refuses what could be meant in two ways: the other decimal sign, thousands marks, exponents, letters for digits', () => {
  for (const text of ['1,65', '1.234,5', '1 234', '1e3', '2.7O', '0x10', 'NaN', 'Infinity', '1.65 mm']) expect(parseNumber(text, '.')).toBeUndefined();
  for (const text of ['1.65', '1.234,5']) expect(parseNumber(text, ',')).toBeUndefined();
});

it('gives back any number that was written with the decimal sign', () => {
  fc.assert(fc.property(fc.double({ min: -1e9, max: 1e9, noNaN: true }), fc.constantFrom('.' as const, ',' as const), (value, decimal) => {
    const text = value.toFixed(6);
    expect(parseNumber(text.replace('.', decimal), decimal)).toBe(Number(text));
  }));
});

it('reads digits as the number nearest to them, however many there are', () => {
  const digits = fc.string({ unit: fc.constantFrom(...'0123456789'), minLength: 0, maxLength: 20 });
  fc.assert(fc.property(digits, digits, fc.constantFrom('', '+', '-'), (whole, places, sign) => {
    fc.pre(whole !== '' || places !== '');
    expect(parseNumber(`${sign}${whole}.${places}`, '.')).toBe(Number(`${sign}${whole}.${places}`));
  }), { numRuns: 2000 });
  for (const text of ['0.1', '0.3', '1.005', '4.35', '123456789012345', '1234567890123456', '9007199254740993', '0.000000000000001', '000000000000000000001']) expect(parseNumber(text, '.')).toBe(Number(text));
});

it('answers a finite number, null or undefined to any text', () => {
  fc.assert(fc.property(fc.string(), fc.constantFrom('.' as const, ',' as const), (text, decimal) => {
    const answer = parseNumber(text, decimal);
    expect(answer === null || answer === undefined || Number.isFinite(answer)).toBe(true);
  }));
});
