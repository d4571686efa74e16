import fc from 'fast-check';
import { expect, it } from 'vitest';
import { decode, detectLayout, isText } from './detect-layout.js';

const detect = (text: string | Uint8Array) => detectLayout(typeof text === 'string' ? new TextEncoder().encode(text) : text, 'UTC');

it('tells UTF-8 from Windows-1252 by what cannot be UTF-8, and drops a byte-order mark', () => {
  expect(detect('Prüfer;Wert\nä;1\n').layout.encoding).toBe('utf-8');
  const western = Uint8Array.from([...'Pr'].map((letter) => letter.charCodeAt(0)).concat(0xfc, 0x3b, 0x41));
  expect(detect(western).layout.encoding).toBe('windows-1252');
  expect(decode(western, 'windows-1252')).toBe('Prü;A');
  expect(decode(new TextEncoder().encode('\uFEFFtime'), 'utf-8')).toBe('time');
});

it('finds the separator in the header line', () => {
  expect(detect('a,b,c\n1;2,3,4').layout.separator).toBe(',');
  expect(detect('a;b;c\n1,5;2;3').layout.separator).toBe(';');
  expect(detect('a\tb\n1,5\t2').layout.separator).toBe('\t');
});

it('finds the decimal sign in the cells; a comma that separates is none', () => {
  expect(detect('a;b\n1,5;2\n').layout.decimal).toBe(',');
  expect(detect('a;b\n1.5;2\n').layout.decimal).toBe('.');
  expect(detect('a,b\n1,5\n').layout.decimal).toBe('.');
  expect(detect('a;b\n"1,5";"2,5"\r\n').layout.decimal).toBe(',');
});

it('finds the order of the date where a number above 12 or a mark decides it', () => {
  const order = (text: string) => { const { layout, undecided } = detect(`time,value\n${text},1\n`); return [layout.dateOrder, ...undecided]; };
  expect(order('2024-02-06 06:26')).toEqual(['year-month-day']);
  expect(order('06.02.2024 06:26')).toEqual(['day-month-year']);
  expect(order('26/02/2024 06:26')).toEqual(['day-month-year']);
  expect(order('02/26/2024 06:26')).toEqual(['month-day-year']);
  expect(order('26/02/2024')).toEqual(['day-month-year']);
});

it('says so where the order of the date stays open: a wrong guess would move checks by months', () => {
  expect(detect('time,value\n02/06/2024 06:26,1\n03/06/2024 06:26,1\n').undecided).toEqual(['dateOrder']);
  expect(detect('time,value\n02/06/2024 06:26,1\n03/16/2024 06:26,1\n').undecided).toEqual([]);
});

it('takes for text what has no NUL byte anywhere', () => {
  expect(isText(new TextEncoder().encode('a,b'))).toBe(true);
  expect(isText(new Uint8Array())).toBe(false);
  const late = new Uint8Array(200_000).fill(65);
  late[199_999] = 0;
  expect(isText(late)).toBe(false);
});

it('answers a layout to any bytes', () => {
  fc.assert(fc.property(fc.uint8Array({ maxLength: 400 }), (bytes) => {
    const { layout } = detectLayout(bytes, 'UTC');
    expect([',', ';', '\t']).toContain(layout.separator);
    expect(typeof decode(bytes, layout.encoding)).toBe('string');
  }));
});
