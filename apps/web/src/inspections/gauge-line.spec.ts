import { array, assert, constantFrom, integer, nat, property, string } from 'fast-check';
import { expect, it } from 'vitest';
import { cutLines, isPattern, readGaugeLine } from './gauge-line.js';

const hook = { unit: 'mm', gaugeStep: 0.01 };

it.each([
  ['+0002.370mm', '2.370'], ['2.37', '2.37'], ['A01 +2,37 mm', '2,37'], ['- 0.05', '-0.05'], ['237', '2.37'], ['\u00022.37\u0003', '2.37'], ['N 01 00000.12', '0.12'], ['2.37MM', '2.37'],
])('reads %j as %s', (line, text) => {
  expect(readGaugeLine(line, hook)).toEqual({ is: 'reading', text });
});
it.each([['', 'no-number'], ['ERR', 'no-number'], ['2.37in', 'other-unit'], ['2.37 µm', 'other-unit'], ['1.2.3.', 'no-number']])('refuses %j: %s', (line, what) => {
  expect(readGaugeLine(line, hook)).toMatchObject({ is: 'fault', what });
});

it('takes the number where a pattern of the plant says it stands', () => {
  expect(readGaugeLine('DATA;1.23;2.37;OK', hook, '^DATA;[^;]+;([^;]+);')).toEqual({ is: 'reading', text: '2.37' });
  expect(readGaugeLine('2.37;mm;7', hook, '^([0-9.]+);(\\w+);')).toEqual({ is: 'reading', text: '2.37' });
  expect(readGaugeLine('2.37;in;7', hook, '^([0-9.]+);(\\w+);')).toMatchObject({ is: 'fault', what: 'other-unit' });
  expect(readGaugeLine('DATA', hook, '^DATA;(.)')).toMatchObject({ is: 'fault', what: 'no-number' });
  expect(readGaugeLine('2.37', hook, '([')).toMatchObject({ is: 'fault', what: 'bad-pattern' });
});
it('knows a pattern by its group for the number', () => {
  for (const pattern of ['([0-9.]+)', '^X(.+);(mm)$']) expect(isPattern(pattern), pattern).toBe(true);
  for (const pattern of ['[0-9.]+', '([', '', '(?:a)']) expect(isPattern(pattern), pattern).toBe(false);
});

it('reads every number that a gauge of this step can show, with sign, leading zeros, unit and frame', () => {
  assert(property(integer({ min: -99_999, max: 99_999 }), nat(4), constantFrom('', 'mm', ' mm', ' MM'), constantFrom('', 'A01 ', '\u0002'), (hundredths, zeros, unit, before) => {
    const shown = (Math.abs(hundredths) / 100).toFixed(2);
    const answer = readGaugeLine(`${before}${hundredths < 0 ? '-' : '+'}${'0'.repeat(zeros)}${shown}${unit}`, hook);
    expect(answer.is === 'reading' ? Number(answer.text) : answer).toBe(hundredths === 0 && answer.is === 'reading' ? Number(answer.text) : hundredths / 100);
  }));
});
it('answers any line at all, and never with something that is no number', () => {
  assert(property(string({ unit: 'binary', maxLength: 300 }), (line) => {
    const answer = readGaugeLine(line, hook);
    if (answer.is === 'reading') expect(answer.text).toMatch(/^-?\d+([.,]\d+)?$/);
    else expect(answer.line.length).toBeLessThanOrEqual(200);
  }));
});
it('cuts a stream into the same lines however it is torn', () => {
  assert(property(array(integer({ min: 0, max: 999 }), { maxLength: 12 }), array(nat(7), { maxLength: 30 }), constantFrom('\r', '\n', '\r\n'), (numbers, cuts, end) => {
    const stream = numbers.map((number) => `${number}${end}`).join('');
    let [at, rest] = [0, ''];
    const lines: string[] = [];
    for (const size of [...cuts, stream.length]) {
      const cut = cutLines(rest, stream.slice(at, at + size));
      at += size;
      rest = cut.rest;
      lines.push(...cut.lines);
    }
    expect(lines).toEqual(numbers.map(String));
    expect(rest).toBe('');
  }));
});
it('forgets what never ends', () => {
  expect(cutLines('', 'x'.repeat(10_000)).rest).toHaveLength(200);
});
