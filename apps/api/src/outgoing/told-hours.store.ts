import type { Shift } from '#canmaking/line/shifts';
import { Problem } from '#contract/problem';
import { Prisma } from '../platform/generated/client.js';
import type { Tx } from '../platform/work.js';
import type { ToldHours } from './told-hours.js';

/** As a webhook and a person's choice keep it. */
export type HoursRow = { shiftFrom: number | null; shiftUntil: number | null; shifts: string[]; days: number[]; quietFrom: number | null; quietUntil: number | null };
export const HOURS = Prisma.sql`shift_from AS "shiftFrom", shift_until AS "shiftUntil", shifts, days, quiet_from AS "quietFrom", quiet_until AS "quietUntil"`;

const spanOf = (from: number | null, until: number | null) => (from === null || until === null ? null : { from, until });
export const hoursOfRow = ({ shiftFrom, shiftUntil, shifts, days, quietFrom, quietUntil }: HoursRow) => ({ shift: spanOf(shiftFrom, shiftUntil), shifts, days, quiet: spanOf(quietFrom, quietUntil) });
export const rowOfHours = ({ shift, shifts, days, quiet }: ToldHours): HoursRow => ({ shiftFrom: shift?.from ?? null, shiftUntil: shift?.until ?? null, shifts: [...shifts], days: [...days], quietFrom: quiet?.from ?? null, quietUntil: quiet?.until ?? null });

export const listPlantShifts = (tx: Tx, plantId: number): Promise<Shift[]> => tx.shift.findMany({ where: { plantId }, orderBy: [{ beginMinute: 'asc' }, { id: 'asc' }], select: { name: true, beginMinute: true, endMinute: true, days: true } });

/** @throws Problem invalid-input where hours are given twice over, or a shift is none of the plant's */
export async function requireHours(tx: Tx, plantId: number, { shift, shifts }: ToldHours): Promise<void> {
  if (shift !== null && shifts.length > 0) throw new Problem('invalid-input', undefined, [{ field: 'shifts', expected: 'hours, or shifts of the plant, not both' }]);
  if (shifts.length === 0) return;
  const names = (await listPlantShifts(tx, plantId)).map(({ name }) => name);
  const errors = shifts.flatMap((name, index) => (names.includes(name) ? [] : [{ field: `shifts.${index}`, expected: names.length === 0 ? 'no shift: the plant has set up none' : `a shift of the plant: ${names.join(', ')}; not “${name}”` }]));
  if (errors.length > 0) throw new Problem('invalid-input', undefined, errors);
}
