import { createHash } from 'node:crypto';
import { type NewCheck, newCheck } from '#contract/inspections';
import type { PlacedReading } from './map-rows.js';

export type ImportCheck = { check: NewCheck; rows: number[]; readings: number };

export const checkKey = (reading: Pick<PlacedReading, 'machineId' | 'productId' | 'takenAt'>): string => `${reading.machineId}/${reading.productId}/${reading.takenAt}`;
/** Where a reading stands inside its check: the same place twice is the same reading twice. */
export const placeKey = (reading: Pick<PlacedReading, 'characteristicId' | 'unitId' | 'laneId' | 'can' | 'position'>): string => [reading.characteristicId, reading.unitId ?? 0, reading.laneId ?? 0, reading.can, reading.position].join('/');

const hash = (text: string, digits: number) => createHash('sha256').update(text).digest('hex').slice(0, digits);
/** The check number of the file, as the key of its check carries it: a later file finds by it which of several checks of one moment is meant. */
export const numberTag = (checkNumber: string): string => (checkNumber === '' ? '-' : hash(checkNumber, 12));
/** Null: not the key of an imported check. */
export const tagOfKey = (key: string): string | null => /^import:([^:]+):/.exec(key)?.[1] ?? null;

/**
 * One check from the readings of one machine, product, moment and check number. Places without a reading are missing
 * ones, not zeros. The key is made of what the check holds and where, so that the same rows make the same key.
 * Answers, instead of a check that would be larger than a check may be, what is expected.
 */
export function groupCheck(readings: readonly PlacedReading[], asMeasured: boolean): ImportCheck | { expected: string; size: { cans: number; positions: number; characteristics: number } } {
  const first = readings[0];
  if (!first) throw new RangeError('groupCheck: a check needs at least one reading');
  const cans = new Map<string, { number: number; unitId: number | null; laneId: number | null }>();
  const positions = new Set<string>();
  const codes = new Map<string, number | null>();
  const values = new Map<string, number>();
  for (const reading of readings) {
    const can = `${reading.unitId ?? 0}/${reading.laneId ?? 0}/${reading.can}`;
    if (!cans.has(can)) cans.set(can, { number: reading.can, unitId: reading.unitId, laneId: reading.laneId });
    positions.add(reading.position);
    if (!codes.has(reading.characteristic)) codes.set(reading.characteristic, reading.gaugeId);
    values.set(`${reading.characteristic}/${can}/${reading.position}`, reading.value);
  }
  const expected = `at most 200 cans, 24 positions and 40 characteristics at one moment of one machine expected, not ${cans.size}, ${positions.size} and ${codes.size}: is the time missing, or is there a column with the number of the check?`;
  const size = { cans: cans.size, positions: positions.size, characteristics: codes.size };
  if (cans.size > 200 || positions.size > 24) return { expected, size };
  const canKeys = [...cans.keys()];
  const positionList = [...positions];
  const characteristics = [...codes].map(([code, gaugeId]) => ({
    code, ...(gaugeId === null ? {} : { gaugeId }),
    readings: canKeys.flatMap((can) => positionList.map((position) => values.get(`${code}/${can}/${position}`) ?? null)),
  }));
  const places = readings.map((reading) => placeKey(reading)).sort().join(' ');
  const notes = [...new Set(readings.flatMap((reading) => (reading.note === null ? [] : [reading.note])))];
  const parsed = newCheck.safeParse({
    key: `import:${numberTag(first.checkNumber)}:${hash(`${checkKey(first)} ${places}`, 40)}`, machineId: first.machineId, productId: first.productId, takenAt: first.takenAt,
    cans: [...cans.values()].map(({ number, unitId, laneId }) => ({ number, ...(unitId === null ? {} : { unitId }), ...(laneId === null ? {} : { laneId }) })), positions: positionList, characteristics, confirmed: asMeasured,
    ...(first.inspector === null ? {} : { inspector: first.inspector }), ...(notes.length === 0 ? {} : { note: notes.join('; ').slice(0, 8000) }),
  });
  return parsed.success ? { rows: [...new Set(readings.map((reading) => reading.row))], check: parsed.data, readings: values.size } : { expected, size };
}
