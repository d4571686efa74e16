import type { ToldHours } from '#contract/told-hours';
import { spanOf, timeOf } from './time-of-day.js';

/** Hours as they are being chosen. */
export type HoursDraft = { kind: 'any' | 'typed' | 'shifts'; from: string; until: string; shifts: readonly string[]; days: readonly number[]; quietFrom: string; quietUntil: string };
export type HoursFault = 'noHours' | 'noShift' | 'noDay' | 'half';

export const EVERY_DAY: readonly number[] = [1, 2, 3, 4, 5, 6, 7];
export const draftOf = (hours: ToldHours | null): HoursDraft => ({
  kind: hours?.shift ? 'typed' : hours && hours.shifts.length > 0 ? 'shifts' : 'any',
  from: timeOf(hours?.shift?.from), until: timeOf(hours?.shift?.until), shifts: hours?.shifts ?? [], days: hours?.days ?? EVERY_DAY, quietFrom: timeOf(hours?.quiet?.from), quietUntil: timeOf(hours?.quiet?.until),
});

export function hoursFaults({ kind, from, until, shifts, days, quietFrom, quietUntil }: HoursDraft): HoursFault[] {
  const faults: [HoursFault, boolean][] = [
    ['noHours', kind === 'typed' && spanOf(from, until) === null], ['noShift', kind === 'shifts' && shifts.length === 0], ['noDay', days.length === 0], ['half', (quietFrom === '') !== (quietUntil === '')],
  ];
  return faults.flatMap(([fault, isThere]) => (isThere ? [fault] : []));
}

/** What is chosen; what was typed for another kind of hours is left out. */
export const hoursOfDraft = ({ kind, from, until, shifts, days, quietFrom, quietUntil }: HoursDraft): ToldHours => ({
  shift: kind === 'typed' ? spanOf(from, until) : null, shifts: kind === 'shifts' ? [...shifts] : [], days: [...days], quiet: spanOf(quietFrom, quietUntil),
});

/** Names of shifts that are chosen and not set up any more. */
export const goneShifts = (chosen: readonly string[], setUp: readonly { name: string }[] | undefined): string[] => (setUp === undefined ? [] : chosen.filter((name) => !setUp.some((shift) => shift.name === name)));
