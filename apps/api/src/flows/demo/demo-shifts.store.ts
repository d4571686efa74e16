import { wallClock } from '#canmaking/can-code/plant-clock';
import type { Tx } from '../../platform/work.js';

const DAY = 1440;

/** The two shifts of the demo plant, by the clocks of its zone: its days begin wherever the moment of seeding puts them. */
export async function insertDemoShifts(tx: Tx, plantId: number, timeZone: string, dayBegins: number, shiftHours: number): Promise<void> {
  const { hour, minute } = wallClock(dayBegins, timeZone);
  const begin = hour * 60 + minute;
  const after = (hours: number): number => (begin + hours * 60) % DAY;
  const days = [1, 2, 3, 4, 5, 6, 7];
  await tx.shift.createMany({ data: [
    { plantId, name: 'Early', beginMinute: begin, endMinute: after(shiftHours), days },
    { plantId, name: 'Late', beginMinute: after(shiftHours), endMinute: after(2 * shiftHours), days },
  ] });
}
