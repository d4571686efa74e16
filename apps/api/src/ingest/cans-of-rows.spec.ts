import { expect, it } from 'vitest';
import { cansOfRows } from './cans-of-rows.js';
import type { PlacedRow } from './placed-row.js';

const row = (can: number, unitId: number | null = null, laneId: number | null = null): PlacedRow => ({ row: 2, machineId: 1, productId: 1, takenAt: '2026-03-01T08:00:00.000Z', checkNumber: '', unitId, laneId, can, gaugeId: null, inspector: null, note: null, spots: [], values: [] });

it('counts cans by unit and lane in the order in which they come, however many rows speak of one', () => {
  const { cans, places } = cansOfRows([row(7), row(1, 4), row(7), row(1, 4, 9), row(1, 4)]);
  expect([...cans]).toEqual([['0/0/7', { place: 0, number: 7, unitId: null, laneId: null }], ['4/0/1', { place: 1, number: 1, unitId: 4, laneId: null }], ['4/9/1', { place: 2, number: 1, unitId: 4, laneId: 9 }]]);
  expect(places).toEqual([0, 1, 0, 2, 1]);
});

it('finds them again for rows of the same cans, and for no others', () => {
  const first = cansOfRows([row(1), row(2)]);
  expect(cansOfRows([row(1), row(2)])).toBe(first);
  for (const others of [[row(2), row(1)], [row(1)], [row(1), row(2), row(3)], [row(1), row(3)], [row(1), row(2, 5)], [row(1), row(2, null, 5)], []]) {
    expect(cansOfRows([row(1), row(2)]).cans.size).toBe(2);
    expect([...cansOfRows(others).cans.values()].map(({ number, unitId, laneId }) => [number, unitId, laneId])).toEqual(others.map(({ can, unitId, laneId }) => [can, unitId, laneId]));
  }
});
