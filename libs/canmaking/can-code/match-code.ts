import type { CodePattern, PatternPart } from './parse-pattern.js';
import { squeeze } from './parse-pattern.js';

/** A machine whose code, or whose units' codes, may stand in a can code. */
export type CodedMachine = { readonly id: number; readonly code: string; readonly stepId: number; readonly units: readonly { readonly id: number; readonly code: string }[] };
export type CodedLine = { readonly id: number; readonly code: string; readonly lanes: readonly { readonly id: number; readonly code: string }[]; readonly machines: readonly CodedMachine[] };

export type CodeReading = {
  readonly year: { readonly value: number; readonly digits: number } | null;
  readonly dayOfYear: number | null; readonly month: number | null; readonly day: number | null; readonly hour: number | null; readonly minute: number | null;
  readonly shift: string | null; readonly machineId: number | null; readonly unitId: number | null; readonly laneId: number | null;
  /** The code ended before the half or the head that the pattern puts at its end. */
  readonly markMissing: boolean;
};
/** Where the code stops fitting: `position` counts characters of the code without blanks, from 1. */
export type Misfit = { readonly position: number; readonly expected: string; readonly found: string };

const nothing: CodeReading = { year: null, dayOfYear: null, month: null, day: null, hour: null, minute: null, shift: null, machineId: null, unitId: null, laneId: null, markMissing: false };
const MOST_READINGS = 50;

type Step = { readonly length: number; readonly change: Partial<CodeReading> };

/**
 * Every way in which the code fits the pattern for this line; where there is none, how far the best attempt came.
 * Units are those of the machine that the code names, else those of the machines at the step that prints it.
 */
export function matchCode(pattern: CodePattern, code: string, line: CodedLine, printedAtStepId: number): { readings: CodeReading[]; misfit: Misfit } {
  const text = squeeze(code);
  const readings: CodeReading[] = [];
  let misfit: Misfit = { position: 0, expected: '', found: '' };
  const miss = (at: number, expected: string) => {
    if (at + 1 > misfit.position) misfit = { position: at + 1, expected, found: text.slice(at, at + 8) };
    else if (at + 1 === misfit.position && !misfit.expected.includes(expected)) misfit = { ...misfit, expected: `${misfit.expected} or ${expected}` };
  };
  const walk = (index: number, at: number, reading: CodeReading): void => {
    if (readings.length >= MOST_READINGS) return;
    const part = pattern.parts[index];
    if (part === undefined) {
      if (at === text.length) readings.push(reading);
      else miss(at, 'the end of the code');
      return;
    }
    if (at === text.length && pattern.parts.slice(index).every(isMark)) {
      // The mark of half or head at the end is often not legible: the rest of the code still stands, and the mark is not known.
      if (pattern.parts.slice(index).some(({ kind }) => kind === 'field')) readings.push({ ...reading, markMissing: true });
      else readings.push(reading);
      return;
    }
    const steps = stepsOf(part, text, at, line, printedAtStepId, reading);
    if (steps.length === 0) miss(at, wordsOf(part, line, printedAtStepId, reading));
    for (const { length, change } of steps) walk(index + 1, at + length, { ...reading, ...change });
  };
  walk(0, 0, nothing);
  return { readings, misfit };
}

const isMark = (part: PatternPart): boolean => (part.kind === 'literal' ? squeeze(part.text) === '' : part.field === 'lane' || part.field === 'unit');

function stepsOf(part: PatternPart, text: string, at: number, line: CodedLine, printedAtStepId: number, reading: CodeReading): Step[] {
  const starts = (code: string) => code !== '' && text.startsWith(squeeze(code), at);
  const coded = <Thing extends { id: number; code: string }>(things: readonly Thing[], change: (thing: Thing) => Partial<CodeReading>): Step[] =>
    things.filter(({ code }) => starts(code)).map((thing) => ({ length: squeeze(thing.code).length, change: change(thing) }));
  if (part.kind === 'literal') return squeeze(part.text) === '' ? [{ length: 0, change: {} }] : starts(part.text) ? [{ length: squeeze(part.text).length, change: {} }] : [];
  switch (part.field) {
    case 'line': return coded([line], () => ({}));
    case 'lane': return coded(line.lanes, ({ id }) => ({ laneId: id }));
    // A unit that was read before has said whose it is.
    case 'machine': return coded(line.machines.filter(({ id }) => reading.machineId === null || id === reading.machineId), ({ id }) => ({ machineId: id }));
    case 'unit': return machinesOf(line, printedAtStepId, reading).flatMap((machine) => coded(machine.units, ({ id }) => ({ unitId: id, machineId: machine.id })));
    case 'shift': return /^[A-Z]$/.test(text.charAt(at)) ? [{ length: 1, change: { shift: text.charAt(at) } }] : [];
    case 'text': {
      const longest = text.length - at;
      const lengths = part.size === null ? Array.from({ length: longest }, (_, index) => index + 1) : part.size <= longest ? [part.size] : [];
      return lengths.map((length) => ({ length, change: {} }));
    }
    default: {
      const size = part.size ?? 2;
      const digits = text.slice(at, at + size);
      if (digits.length < size || !/^\d+$/.test(digits)) return [];
      const value = Number(digits);
      return [{ length: size, change: part.field === 'year' ? { year: { value, digits: size } } : { [part.field === 'day-of-year' ? 'dayOfYear' : part.field]: value } }];
    }
  }
}

function machinesOf(line: CodedLine, printedAtStepId: number, reading: CodeReading): readonly CodedMachine[] {
  if (reading.machineId !== null) return line.machines.filter(({ id }) => id === reading.machineId);
  const printing = line.machines.filter(({ stepId }) => stepId === printedAtStepId);
  return printing.some(({ units }) => units.length > 0) ? printing : line.machines;
}

function wordsOf(part: PatternPart, line: CodedLine, printedAtStepId: number, reading: CodeReading): string {
  const list = (things: readonly { code: string }[], what: string) => (things.length === 0 ? `a ${what}, and line ${line.code} has none` : `a ${what} of line ${line.code}: ${things.map(({ code }) => code).slice(0, 12).join(', ')}`);
  if (part.kind === 'literal') return `“${part.text.trim()}”`;
  switch (part.field) {
    case 'line': return `the line code ${line.code}`;
    case 'lane': return list(line.lanes, 'lane');
    case 'machine': return list(line.machines, 'machine');
    case 'unit': return list(machinesOf(line, printedAtStepId, reading).flatMap(({ units }) => units), 'unit');
    case 'shift': return 'a shift letter';
    case 'text': return part.size === null ? 'some text' : `${part.size} characters of text`;
    default: return `${part.size} digits for the ${part.field.replaceAll('-', ' ')}`;
  }
}
