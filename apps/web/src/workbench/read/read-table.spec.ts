import { zipSync, strToU8 } from 'fflate';
import { expect, it } from 'vitest';
import { guessLayout } from './guess-layout.js';
import { readNumber } from './read-number.js';
import { type DataTable, readTable } from './read-table.js';
import { sheetText } from './read-sheet.js';

const table = (text: string, fixed = {}): DataTable => {
  const answer = readTable(text, fixed);
  if ('fault' in answer) throw new Error(answer.fault.code);
  return answer.table;
};
const numbers = (text: string, place = 0, fixed = {}) => [...(table(text, fixed).columns[place]?.numbers ?? [])];
const faultOf = (text: string, fixed = {}) => { const answer = readTable(text, fixed); return 'fault' in answer ? answer.fault : null; };

it('reads numbers with a point or a comma, signs and powers, and takes nothing else for one', () => {
  expect(['1.25', '-3', '+.5', '1e-3', '2.', '−7'].map((cell) => readNumber(cell, '.'))).toEqual([1.25, -3, 0.5, 0.001, 2, -7]);
  expect(['1,25', '-3', ',5', '1,5e2'].map((cell) => readNumber(cell, ','))).toEqual([1.25, -3, 0.5, 150]);
  for (const cell of ['1,250.5', '1.2.3', 'abc', '0x10', '1 000', 'NaN', 'Infinity', '1e999', '--1', '12 mm']) expect(readNumber(cell, '.'), cell).toBe('text');
  expect(readNumber('1.25', ',')).toBe('text');
  expect(readNumber('  ', '.')).toBe('missing');
});

it('tells tab, semicolon, comma and blanks apart, and a decimal comma from a parting one', () => {
  const layout = (text: string) => { const { delimiter, decimal, header, doubtful } = guessLayout(text); return [delimiter, decimal, header, doubtful]; };
  expect(layout('1.1\t1.2\n1.3\t1.4')).toEqual(['tab', '.', false, false]);
  expect(layout('front;back\n1,10;1,20\n1,15;1,25')).toEqual(['semicolon', ',', true, false]);
  expect(layout('front,back\n1.10,1.20\n1.15,1.25')).toEqual(['comma', '.', true, false]);
  expect(layout('1.10 1.20 1.15\n1.11 1.22 1.16')).toEqual(['space', '.', false, false]);
  expect(layout('1.10\n1.20')).toEqual(['none', '.', false, false]);
  expect(layout('1,10\n1,20\n1,15')).toEqual(['none', ',', false, true]);
  expect(layout('a,b\n1,10\n1,20')).toEqual(['comma', '.', true, false]);
  expect(layout('hook\n1,10\n1,20')).toEqual(['none', ',', true, false]);
  expect(guessLayout('1,10\n1,20', { delimiter: 'comma' })).toMatchObject({ delimiter: 'comma', decimal: '.', doubtful: false });
});

it('keeps empty cells as missing readings, in a column and in a table', () => {
  expect(numbers('1\n\n3\n')).toEqual([1, Number.NaN, 3]);
  const [first, second] = table('a;b\n1;\n;4\n5').columns;
  expect([...(first?.numbers ?? [])]).toEqual([1, Number.NaN, 5]);
  expect([...(second?.numbers ?? [])]).toEqual([Number.NaN, 4, Number.NaN]);
  expect([first?.missing, second?.missing, first?.textCount]).toEqual([1, 2, 0]);
});

it('names row and column of a cell that holds text', () => {
  const rows = ['a,b', ...Array.from({ length: 9 }, (_none, row) => `1.${row},${row === 5 ? 'torn' : '2.5'}`)];
  const { columns, firstLine } = table(rows.join('\n'));
  expect(firstLine).toBe(2);
  expect(columns[1]).toMatchObject({ name: 'b', textCount: 1, firstTexts: [{ line: 7, text: 'torn' }] });
  expect(columns[1]?.numbers[5]).toBeNaN();
  expect(columns[0]).toMatchObject({ textCount: 0, texts: null, decimals: 1 });
});

it('names columns without a heading by letters, and no two alike', () => {
  expect(table('1;2;3\n4;5;6').columns.map(({ name }) => name)).toEqual(['a', 'b', 'c']);
  expect(table('x;x;\n1;2;3').columns.map(({ name }) => name)).toEqual(['x', 'x (2)', 'c']);
  const wide = Array.from({ length: 28 }, (_none, place) => place).join(';');
  expect(table(`${wide}\n${wide}`).columns.slice(25).map(({ name }) => name)).toEqual(['z', 'aa', 'ab']);
});

it('keeps what names a can as it is written', () => {
  expect(table('can;hook\n007;1.1\n7;1.2').columns[0]?.texts).toEqual(['007', '7']);
  expect(table('can;hook\nA1;1.1\nA2;1.2').columns[0]?.texts).toEqual(['A1', 'A2']);
});

it('reads quoted cells with delimiters and line breaks in them, a byte order mark and Windows line ends', () => {
  const { columns, rows } = table('\uFEFFnote,hook\r\n"torn, twice",1.5\r\n"a ""b""\nc",1.6\r\n');
  expect(rows).toBe(2);
  expect(columns[0]?.texts).toEqual(['torn, twice', 'a "b"\nc']);
  expect([...(columns[1]?.numbers ?? [])]).toEqual([1.5, 1.6]);
});

it('says what is wrong with an empty text, an open quote and more cells than it takes', () => {
  expect(faultOf(' \n ')).toEqual({ code: 'empty' });
  expect(faultOf('a,b\n1,"2\n3,4')).toMatchObject({ code: 'quotes' });
  expect(faultOf(`1\t2\t3\n${'4\t5\t6\n'.repeat(400_000)}`)).toEqual({ code: 'too-many', found: 1_200_003 });
});

it('reads 200,000 values with their decimals, in one column and in ten', () => {
  const values = Array.from({ length: 200_000 }, (_none, index) => (1 + (index % 977) / 1000).toFixed(3));
  const column = table(values.join('\n'));
  expect([column.rows, column.columns.length, column.columns[0]?.decimals]).toEqual([200_000, 1, 3]);
  expect(column.columns[0]?.numbers[199_999]).toBe(Number(values[199_999]));
  const lines = Array.from({ length: 20_000 }, (_none, row) => values.slice(row * 10, row * 10 + 10).join(';').replaceAll('.', ','));
  const wide = table(lines.join('\n'));
  expect([wide.rows, wide.columns.length, wide.layout.decimal]).toEqual([20_000, 10, ',']);
  expect(wide.columns[9]?.numbers[19_999]).toBe(Number(values[199_999]));
});

it('takes the first sheet of a spreadsheet file as a table', async () => {
  const cells = '<row r="1"><c r="A1" t="inlineStr"><is><t>hook</t></is></c><c r="B1" t="inlineStr"><is><t>can</t></is></c></row><row r="2"><c r="A2"><v>1.125</v></c><c r="B2" t="inlineStr"><is><t>K1</t></is></c></row><row r="3"><c r="B3" t="inlineStr"><is><t>K2</t></is></c></row><row r="4"><c r="A4"><v>1.25</v></c></row>';
  const part = (text: string) => strToU8(`<?xml version="1.0" encoding="UTF-8"?>${text}`);
  const main = 'http://schemas.openxmlformats.org/spreadsheetml/2006/main';
  const links = 'http://schemas.openxmlformats.org/package/2006/relationships';
  const office = 'http://schemas.openxmlformats.org/officeDocument/2006/relationships';
  const file = zipSync({
    '[Content_Types].xml': part('<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="xml" ContentType="application/xml"/></Types>'),
    '_rels/.rels': part(`<Relationships xmlns="${links}"><Relationship Id="r1" Type="${office}/officeDocument" Target="xl/workbook.xml"/></Relationships>`),
    'xl/workbook.xml': part(`<workbook xmlns="${main}" xmlns:r="${office}"><sheets><sheet name="Hooks" sheetId="1" r:id="r1"/></sheets></workbook>`),
    'xl/_rels/workbook.xml.rels': part(`<Relationships xmlns="${links}"><Relationship Id="r1" Type="${office}/worksheet" Target="worksheets/sheet1.xml"/></Relationships>`),
    'xl/worksheets/sheet1.xml': part(`<worksheet xmlns="${main}"><sheetData>${cells}</sheetData></worksheet>`),
  });
  const text = await sheetText(file.buffer.slice(file.byteOffset, file.byteOffset + file.byteLength) as ArrayBuffer);
  expect(text.split('\n')).toEqual(['hook\tcan', '1.125\tK1', '\tK2', '1.25\t']);
  const { columns } = table(text);
  expect([...(columns[0]?.numbers ?? [])]).toEqual([1.125, Number.NaN, 1.25]);
  await expect(sheetText(new ArrayBuffer(30))).rejects.toThrow();
});
