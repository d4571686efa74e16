import { overlappingShifts, type Shift } from '#canmaking/line/shifts';
import { type FieldError, Problem } from '#contract/problem';
import type { ShiftView } from '#contract/shifts';
import { type Actor, record } from '../platform/audit.js';
import type { Tx, Work } from '../platform/work.js';
import { listShiftRows, replaceShifts } from './shifts.store.js';

const minutesOf = (clock: string): number => Number(clock.slice(0, 2)) * 60 + Number(clock.slice(3));
const clockOf = (minutes: number): string => `${String(Math.floor(minutes / 60)).padStart(2, '0')}:${String(minutes % 60).padStart(2, '0')}`;
const toShift = ({ name, begins, ends, days }: ShiftView): Shift => ({ name, beginMinute: minutesOf(begins), endMinute: minutesOf(ends), days: [...new Set(days)].sort((a, b) => a - b) });

export const shiftsOf = async (tx: Tx, plantId: number): Promise<ShiftView[]> => (await listShiftRows(tx, plantId)).map(({ name, beginMinute, endMinute, days }) => ({ name, begins: clockOf(beginMinute), ends: clockOf(endMinute), days: [...days] }));

/** Replaces the shifts of the plant. @throws Problem invalid-input naming the shift that does not fit */
export function putShifts(work: Work, actor: Actor, given: readonly ShiftView[]): Promise<ShiftView[]> {
  return work.run(async (tx) => {
    const faults = faultsOf(given);
    if (faults.length > 0) throw new Problem('invalid-input', undefined, faults);
    const before = await shiftsOf(tx, actor.plantId);
    await replaceShifts(tx, actor.plantId, given.map(toShift));
    await record(tx, actor, 'plant.shifts', 'shifts', { before, after: given });
    return shiftsOf(tx, actor.plantId);
  });
}

function faultsOf(given: readonly ShiftView[]): FieldError[] {
  const faults = given.flatMap(({ name, begins, ends }, row): FieldError[] => [
    ...(given.findIndex((other) => other.name === name) < row ? [{ field: `shifts.${row}.name`, expected: 'each name once' }] : []),
    ...(begins === ends ? [{ field: `shifts.${row}.ends`, expected: 'another time than its beginning' }] : []),
  ]);
  const both = faults.length > 0 ? null : overlappingShifts(given.map(toShift));
  return both ? [{ field: `shifts.${both.second}.begins`, expected: `a time at which “${given[both.first]?.name}” is not on` }] : faults;
}
