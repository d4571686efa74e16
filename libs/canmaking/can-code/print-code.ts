import type { EpochMs } from '../units.js';
import type { CodePattern } from './parse-pattern.js';
import { wallClock } from './plant-clock.js';

/** Codes of what made the can; null where the pattern does not ask for it. */
export type CodedCan = { readonly line: string; readonly lane: string | null; readonly machine: string | null; readonly unit: string | null; readonly shift: string | null };

/**
 * What the printer puts on a can by the pattern, for an example beside it. Text of any length becomes `X`.
 * @returns null where the pattern names a lane, machine, unit or shift that the can does not have
 */
export function printCode(pattern: CodePattern, at: EpochMs, timeZone: string, can: CodedCan): string | null {
  const clock = wallClock(at, timeZone);
  const dayOfYear = (Date.UTC(clock.year, clock.month - 1, clock.day) - Date.UTC(clock.year, 0, 0)) / 86_400_000;
  const digits = (value: number, size: number) => String(value % 10 ** size).padStart(size, '0');
  const pieces = pattern.parts.map((part): string | null => {
    if (part.kind === 'literal') return part.text;
    switch (part.field) {
      case 'line': return can.line;
      case 'lane': return can.lane;
      case 'machine': return can.machine;
      case 'unit': return can.unit;
      case 'shift': return can.shift;
      case 'text': return 'X'.repeat(part.size ?? 1);
      case 'year': return digits(clock.year, part.size ?? 4);
      case 'day-of-year': return digits(dayOfYear, 3);
      case 'month': return digits(clock.month, 2);
      case 'day': return digits(clock.day, 2);
      case 'hour': return digits(clock.hour, 2);
      default: return digits(clock.minute, 2);
    }
  });
  return pieces.includes(null) ? null : pieces.join('');
}
