import { createHash } from 'node:crypto';
import type { NewCheck } from '#contract/inspections';
import type { PlacedReading } from './map-rows.js';

export type ImportCheck = { check: NewCheck; rows: number[] };

export const checkKey = (reading: PlacedReading): string => `${reading.machineId}/${reading.productId}/${reading.takenAt}`;
/** Where a reading stands inside its check: the same place twice is the same reading twice. */
export const placeKey = (reading: Pick<PlacedReading, 'characteristicId' | 'unitId' | 'laneId' | 'can' | 'position'>): string => [reading.characteristicId, reading.unitId ?? 0, reading.laneId ?? 0, reading.can, reading.position].join('/');

/** One check from the readings of one machine, product and moment. Places without a reading are missing ones, not zeros. */
export function groupCheck(readings: readonly PlacedReading[], asMeasured: boolean): ImportCheck {
  const first = readings[0];
  if (!first) throw new RangeError('groupCheck: a check needs at least one reading');
  const cans = new Map<string, { number: number; unitId: number | null; laneId: number | null }>();
  const positions = new Set<string>();
  const codes = new Map<string, number | null>();
  for (const reading of readings) {
    cans.set(`${reading.unitId ?? 0}/${reading.laneId ?? 0}/${reading.can}`, { number: reading.can, unitId: reading.unitId, laneId: reading.laneId });
    positions.add(reading.position);
    if (!codes.has(reading.characteristic)) codes.set(reading.characteristic, reading.gaugeId);
  }
  const canKeys = [...cans.keys()];
  const positionList = [...positions];
  const values = new Map(readings.map((reading) => [`${reading.characteristic}/${reading.unitId ?? 0}/${reading.laneId ?? 0}/${reading.can}/${reading.position}`, reading.value]));
  const characteristics = [...codes].map(([code, gaugeId]) => ({
    code, ...(gaugeId === null ? {} : { gaugeId }),
    readings: canKeys.flatMap((can) => positionList.map((position) => values.get(`${code}/${can}/${position}`) ?? null)),
  }));
  const places = readings.map((reading) => placeKey(reading)).sort().join(' ');
  const notes = [...new Set(readings.flatMap((reading) => (reading.note === null ? [] : [reading.note])))];
  return {
    rows: [...new Set(readings.map((reading) => reading.row))],
    check: {
      key: `import:${createHash('sha256').update(`${checkKey(first)} ${places}`).digest('hex').slice(0, 40)}`, machineId: first.machineId, productId: first.productId, takenAt: first.takenAt,
      cans: [...cans.values()].map(({ number, unitId, laneId }) => ({ number, ...(unitId === null ? {} : { unitId }), ...(laneId === null ? {} : { laneId }) })), positions: positionList, characteristics, confirmed: asMeasured,
      ...(first.inspector === null ? {} : { inspector: first.inspector }), ...(notes.length === 0 ? {} : { note: notes.join('; ').slice(0, 8000) }),
    },
  };
}
