import { expect, it } from 'vitest';
import { csvFileName, csvText } from './csv-cell.js';

// RFC 4180 sections 2.6 and 2.7 for the quotes.
it('writes numbers whole, quotes what needs it and keeps text from being run as a formula', () => {
  expect(csvText([['a "b", c', 0.1 + 0.2, null, -4], ['=1+1', '-note', 'two\nlines', '']])).toBe('"a ""b"", c",0.30000000000000004,,-4\r\n\'=1+1,\'-note,"two\nlines",\r\n');
});

it('names a file with what every file system takes', () => {
  expect(csvFileName(['chart', 'SM-1/2', 'Überlapp "x"', '../..'])).toBe('chart_SM-1-2_-berlapp-x-_..-...csv');
});
