import { expect, it } from 'vitest';
import { placeReadings } from './place-readings.js';

const base = { takenAt: new Date('2026-03-01T08:00:00Z'), machineId: 1, productId: 2, positions: ['front', 'back'] };
const none = { unitId: null, laneId: null };

it('keeps the cans of one machine together, in the order of can and position', () => {
  const placed = placeReadings({ ...base, cans: [none, none], characteristics: [{ characteristicId: 5, gaugeId: 9, formula: null, readings: [1, 2, 3, null] }] });
  expect(placed).toEqual([{
    stream: { characteristicId: 5, productId: 2, machineId: 1, laneId: null, unitId: null },
    takenAt: base.takenAt, cans: [0, 1], readings: [1, 2, 3, null], gaugeId: 9, formula: null,
  }]);
});

it('makes one subgroup for each unit and lane', () => {
  const cans = [{ unitId: 7, laneId: 1 }, { unitId: 8, laneId: 1 }, { unitId: 7, laneId: 2 }, { unitId: 7, laneId: 1 }];
  const placed = placeReadings({ ...base, cans, characteristics: [{ characteristicId: 5, gaugeId: null, formula: 'x', readings: [1, 2, 3, 4, 5, 6, 7, 8] }] });
  expect(placed.map((group) => [group.stream.unitId, group.stream.laneId, group.cans, group.readings])).toEqual([
    [7, 1, [0, 3], [1, 2, 7, 8]], [8, 1, [1], [3, 4]], [7, 2, [2], [5, 6]],
  ]);
});

it('makes no subgroup where nothing was read, and keeps a reading of zero', () => {
  const cans = [{ unitId: 1, laneId: null }, { unitId: 2, laneId: null }];
  const placed = placeReadings({ ...base, positions: ['any'], cans, characteristics: [{ characteristicId: 5, gaugeId: null, formula: null, readings: [null, 0] }] });
  expect(placed.map((group) => [group.stream.unitId, group.readings])).toEqual([[2, [0]]]);
});
