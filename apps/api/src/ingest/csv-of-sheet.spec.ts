import { expect, it } from 'vitest';
import { csvOfSheet } from './csv-of-sheet.js';

it('writes dates as the clock of the sheet shows them, to the second', () => {
  expect(csvOfSheet([['When'], [new Date('2026-02-03T08:30:01.999Z')], [new Date('2026-02-03T00:00:00Z')], [new Date('1899-12-30T14:05:00Z')]])).toBe('When\n2026-02-03 08:30:02\n2026-02-03\n14:05:00\n');
});
it('writes numbers without exponents and without the noise of the sixteenth digit', () => {
  expect(csvOfSheet([['a', 'b', 'c'], [0.41002999999999995, 1e-7, -3]])).toBe('a,b,c\n0.41003,0.000000100000000,-3\n');
});
it('keeps empty cells at the end, drops empty rows, and quotes what needs it', () => {
  expect(csvOfSheet([['a', 'b "c"', 'd'], [null, null, null], ['x,y'], [true, null, 'two\nlines', 'more']])).toBe('a,"b ""c""",d\n"x,y",,\ntrue,,"two\nlines",more\n');
});
