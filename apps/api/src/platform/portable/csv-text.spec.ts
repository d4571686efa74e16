import fc from 'fast-check';
import { expect, it } from 'vitest';
import { CsvReader, csvRow } from './csv-text.js';

it('tells NULL from the empty text, and quotes what would end a field', () => {
  expect(csvRow([null, '', 'a', 'b,c', 'say "no"', 'two\nlines'])).toBe(',"",a,"b,c","say ""no""","two\nlines"\r\n');
});

it('reads back any row, wherever the pieces are cut', () => {
  const rows = fc.array(fc.array(fc.option(fc.string({ unit: fc.constantFrom('a', '"', ',', '\n', '\r', 'é', ' ') }), { nil: null }), { minLength: 2, maxLength: 4 }), { maxLength: 5 });
  fc.assert(fc.property(rows, fc.integer({ min: 1, max: 7 }), (given, size) => {
    const text = given.map(csvRow).join('');
    const reader = new CsvReader();
    const back: (string | null)[][] = [];
    for (let at = 0; at < text.length; at += size) back.push(...reader.read(text.slice(at, at + size)));
    reader.end();
    expect(back).toEqual(given);
  }));
});

it('refuses a cut file and a stray quotation mark, with the row', () => {
  const cut = new CsvReader();
  cut.read('a,b\r\nc,"d');
  expect(() => cut.end()).toThrow('row 2: needs an end of line');
  expect(() => new CsvReader().read('a,b"c\r\n')).toThrow('row 1: needs quotation marks around a whole field');
  expect(() => new CsvReader().read('"a"b\r\n')).toThrow('row 1: needs a comma');
});
