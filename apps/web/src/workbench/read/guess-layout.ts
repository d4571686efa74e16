import { type DecimalMark, readNumber } from './read-number.js';

export const DELIMITERS = { tab: '\t', semicolon: ';', comma: ',', space: ' ', none: '\u0000' } as const;
export type Delimiter = keyof typeof DELIMITERS;
export type Layout = { delimiter: Delimiter; decimal: DecimalMark; header: boolean };
/** What a person fixed of the layout; the rest is guessed. */
export type FixedLayout = { [Part in keyof Layout]?: Layout[Part] | undefined };

/** This many lines are looked at: layout does not change further down. */
const LINES = 50;

/** How a text is most probably written. `doubtful`: a lone comma in each line may part two columns or be a decimal comma. */
export function guessLayout(text: string, fixed: FixedLayout = {}): Layout & { doubtful: boolean } {
  const lines = text.slice(0, 200_000).split(/\r\n|\n|\r/).filter((line) => line.trim() !== '').slice(0, LINES);
  const doubtful = fixed.delimiter === undefined && fixed.decimal === undefined && lines.every((line) => /\d/.test(line)) && isLoneComma(lines);
  const delimiter = fixed.delimiter ?? guessDelimiter(lines, fixed.decimal);
  const cells = lines.map((line) => line.split(DELIMITERS[delimiter]).map((cell) => cell.replace(/^\s*"(.*)"\s*$/, '$1').trim()));
  const decimal = fixed.decimal ?? (delimiter !== 'comma' && cells.flat().filter((cell) => /^[+-]?\d*,\d+(e[+-]?\d+)?$/i.test(cell)).length > cells.flat().filter((cell) => /^[+-]?\d*\.\d+(e[+-]?\d+)?$/i.test(cell)).length ? ',' : '.');
  const first = cells[0] ?? [];
  const header = fixed.header ?? (first.some((cell) => cell !== '') && first.every((cell) => typeof readNumber(cell, decimal) !== 'number') && cells.slice(1).flat().some((cell) => typeof readNumber(cell, decimal) === 'number'));
  return { delimiter, decimal, header, doubtful };
}

const isLoneComma = (lines: readonly string[]) => {
  const numbers = lines.filter((line) => /\d/.test(line));
  return numbers.length > 0 && numbers.every((line) => /^\s*[+-]?\d+,\d+\s*$/.test(line));
};

function guessDelimiter(lines: readonly string[], decimal: DecimalMark | undefined): Delimiter {
  const holds = (mark: string) => lines.length > 0 && lines.filter((line) => line.includes(mark)).length * 2 > lines.length;
  if (holds('\t')) return 'tab';
  if (holds(';')) return 'semicolon';
  // "1,25" alone on its line is a decimal comma, unless a heading is parted by a comma as well.
  if (decimal !== ',' && holds(',') && (!isLoneComma(lines) || lines[0]?.split(',').length === 2 && !/\d/.test(lines[0]))) return 'comma';
  const numbers = lines.filter((line) => /\d/.test(line));
  if (numbers.length > 0 && numbers.every((line) => /^[\s\d.,eE+-]+$/.test(line)) && numbers.some((line) => /\d\s+[-+.,\d]/.test(line.trim()))) return 'space';
  return 'none';
}
