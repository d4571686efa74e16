import { Problem } from '#contract/problem';
import type { Tx } from '../platform/work.js';

export async function insertPlant(tx: Tx, plant: { name: string; timeZone: string; demo: boolean }): Promise<number> {
  if (!isTimeZone(plant.timeZone)) throw new Problem('invalid-input', undefined, [{ field: 'timeZone', expected: 'a time zone of the IANA list, such as Europe/Lisbon' }]);
  const row = await tx.plant.create({ data: plant, select: { id: true } });
  return row.id;
}

function isTimeZone(name: string): boolean {
  try {
    return new Intl.DateTimeFormat('en', { timeZone: name }).resolvedOptions().timeZone !== '';
  } catch {
    return false;
  }
}
