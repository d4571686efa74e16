import { remember } from '../platform/remember.js';

/** A check with its references resolved, as far as placing its readings needs. */
export type CheckToPlace = {
  takenAt: Date;
  machineId: number;
  productId: number;
  cans: readonly { unitId: number | null; laneId: number | null }[];
  positions: readonly string[];
  characteristics: readonly { characteristicId: number; gaugeId: number | null; formula: string | null; readings: readonly (number | null)[] }[];
};

export type StreamIdentity = { characteristicId: number; productId: number; machineId: number; laneId: number | null; unitId: number | null };
export type PlacedReadings = { stream: StreamIdentity; takenAt: Date; cans: readonly number[]; readings: readonly (number | null)[]; gaugeId: number | null; formula: string | null };

/**
 * Which readings form one subgroup: those of one characteristic on the cans of one unit and one lane, since these are
 * kept apart. Readings stay in the order of can and position. A group without a single reading yields no subgroup.
 */
export function placeReadings(check: CheckToPlace): PlacedReadings[] {
  const groups = groupsOf(check.cans);
  const width = check.positions.length;
  return check.characteristics.flatMap((characteristic) => groups.flatMap((group) => {
    // The usual check is of one unit and lane: its readings are in order already.
    const readings = groups.length === 1 ? characteristic.readings : group.cans.flatMap((can) => characteristic.readings.slice(can * width, (can + 1) * width));
    if (readings.every((reading) => reading === null)) return [];
    return [{
      stream: { characteristicId: characteristic.characteristicId, productId: check.productId, machineId: check.machineId, laneId: group.laneId, unitId: group.unitId },
      takenAt: check.takenAt, cans: group.cans, readings, gaugeId: characteristic.gaugeId, formula: characteristic.formula,
    }];
  }));
}

type Group = { unitId: number | null; laneId: number | null; cans: number[] };

/** The cans of one unit and lane together, by index; found again for the next check of a batch, which often shares its list of cans. */
const groupsOf = remember((cans: CheckToPlace['cans']): Group[] => {
  const groups = new Map<string, Group>();
  cans.forEach(({ unitId, laneId }, index) => {
    const key = `${unitId}/${laneId}`;
    const group = groups.get(key) ?? { unitId, laneId, cans: [] };
    group.cans.push(index);
    groups.set(key, group);
  });
  return [...groups.values()];
});

export const streamKey = ({ characteristicId, productId, machineId, laneId, unitId }: StreamIdentity): string => `${characteristicId}/${productId}/${machineId}/${laneId ?? 0}/${unitId ?? 0}`;
