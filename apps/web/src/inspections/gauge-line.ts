import { meantText, readCell, type Typed } from './cell-typing.js';

/** What a gauge sent: the text for the cell, or why it cannot be taken. */
export type GaugeReading = { is: 'reading'; text: string } | { is: 'fault'; what: 'no-number' | 'other-unit' | 'bad-pattern'; line: string };

/** A number with sign and decimals, and the unit behind it where the gauge says one. Line protocols differ in what stands before. */
const USUAL = /([+-]?\s*\d+(?:[.,]\d+)?)\s*(\p{L}{1,3}|%)?\s*$/u;
const LONGEST_LINE = 200;
const UNIT = /^(\p{L}{1,3}|%)$/u;

/** Whether a pattern can be used: it compiles and marks the number by its first group. */
export function isPattern(pattern: string): boolean {
  try {
    // An alternative that matches nothing tells how many groups there are.
    return (new RegExp(`${pattern}|`, 'u').exec('')?.length ?? 1) > 1;
  } catch {
    return false;
  }
}

/**
 * One line of a serial gauge. `pattern` is a regular expression whose first group is the number and whose second, if
 * any, is the unit; empty means a number at the end of the line. The gauge's own point counts, as it stands there:
 * digits without one are taken by the step of the characteristic, as those of a hand are.
 */
export function readGaugeLine(line: string, typed: Pick<Typed, 'gaugeStep' | 'unit'>, pattern = ''): GaugeReading {
  const plain = printable(line).trim().slice(0, LONGEST_LINE);
  let match: RegExpExecArray | null;
  try {
    match = (pattern === '' ? USUAL : new RegExp(pattern, 'u')).exec(plain);
  } catch {
    return { is: 'fault', what: 'bad-pattern', line: plain };
  }
  const number = (match?.[1] ?? '').replace(/\s/g, '');
  const unit = match?.[2] ?? '';
  if (!/^[+-]?\d+(?:[.,]\d+)?$/.test(number)) return { is: 'fault', what: 'no-number', line: plain };
  const text = meantText(UNIT.test(unit) ? `${number}${unit}` : number, typed).replace(/^\+/, '').replace(/^(-?)0+(?=\d)/, '$1');
  return typeof readCell(text, typed) === 'number' ? { is: 'reading', text } : { is: 'fault', what: 'other-unit', line: plain };
}

/** Control characters that frame a message say nothing about the number. */
const printable = (line: string) => [...line].filter((sign) => { const code = sign.codePointAt(0) ?? 0; return code >= 32 && code !== 127; }).join('');

/** Cuts what arrives in pieces into lines; a line ends by carriage return, line feed or both. What is left waits for its end. */
export function cutLines(rest: string, piece: string): { lines: string[]; rest: string } {
  const parts = (rest + piece).split(/[\r\n]+/);
  const left = parts.pop() ?? '';
  // A stream without any end of line is no gauge's: it must not grow without bound.
  return { lines: parts.filter((line) => line.trim() !== ''), rest: left.slice(-LONGEST_LINE) };
}
