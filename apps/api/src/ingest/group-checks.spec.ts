import fc from 'fast-check';
import { expect, it } from 'vitest';
import { groupCheck, numberTag, tagOfKey } from './group-checks.js';
import type { Place, PlacedRow, Spot } from './placed-row.js';

type PlacedReading = Place & Spot & { value: number };
const reading = (change: Partial<PlacedReading> = {}): PlacedReading => ({ row: 2, machineId: 1, productId: 5, takenAt: '2025-03-01T08:00:00.000Z', checkNumber: '', unitId: null, laneId: null, can: 1, position: 'front', characteristicId: 7, characteristic: 'overlap', value: 0.42, gaugeId: null, inspector: null, note: null, ...change });
/** Readings as rows of one reading each, with one object a spot. */
function rowsOf(readings: readonly PlacedReading[]): PlacedRow[] {
  const spots = new Map<string, Spot>();
  return readings.map(({ characteristicId, characteristic, position, value, ...place }) => {
    const key = `${characteristicId}/${position}`;
    const spot = spots.get(key) ?? { characteristicId, characteristic, position };
    spots.set(key, spot);
    return { ...place, spots: [spot], values: [value] };
  });
}
const group = (readings: readonly PlacedReading[]) => { const made = groupCheck(rowsOf(readings), false); if (!('check' in made)) throw new Error(made.expected); return made; };

it('makes one grid of cans by positions for each characteristic; what is not there is missing, not zero', () => {
  const { check, rows, readings } = group([
    reading({ can: 1, position: 'front', value: 0.41 }), reading({ can: 1, position: 'back', value: 0.42, row: 3 }), reading({ can: 2, position: 'back', value: 0.43, row: 4, unitId: 9 }),
    reading({ can: 1, position: 'back', value: 0.21, characteristicId: 8, characteristic: 'thickness', gaugeId: 3, row: 4 }),
  ]);
  expect(check.cans).toEqual([{ number: 1 }, { number: 2, unitId: 9 }]);
  expect(check.positions).toEqual(['front', 'back']);
  expect(check.characteristics).toEqual([{ code: 'overlap', readings: [0.41, 0.42, null, 0.43] }, { code: 'thickness', gaugeId: 3, readings: [null, 0.21, null, null] }]);
  expect([rows, readings]).toEqual([[2, 3, 4], 4]);
});

it('keeps cans of the same number on different units or lanes apart', () => {
  expect(group([reading({ unitId: 1 }), reading({ unitId: 2 }), reading({ laneId: 1 })]).check.cans).toEqual([{ number: 1, unitId: 1 }, { number: 1, unitId: 2 }, { number: 1, laneId: 1 }]);
});

it('makes the same key of the same places, in whatever order the rows come, and another one otherwise', () => {
  const [a, b] = [reading({ position: 'front' }), reading({ position: 'back' })];
  expect(group([a, b]).check.key).toBe(group([b, a]).check.key);
  expect(group([a]).check.key).not.toBe(group([a, b]).check.key);
  expect(group([a]).check.key).not.toBe(group([{ ...a, takenAt: '2025-03-01T08:01:00.000Z' }]).check.key);
  expect(group([a]).check.key).not.toBe(group([{ ...a, checkNumber: '7' }]).check.key);
});

it('carries the check number in the key', () => {
  expect(tagOfKey(group([reading({ checkNumber: 'A:7 / x' })]).check.key)).toBe(numberTag('A:7 / x'));
  expect(tagOfKey(group([reading()]).check.key)).toBe(numberTag(''));
  expect(tagOfKey('entered-by-hand')).toBeNull();
});

it('refuses more than a check may hold, and says what may be missing', () => {
  const many = Array.from({ length: 201 }, (_, index) => reading({ can: index + 1 }));
  expect(groupCheck(rowsOf(many), false)).toMatchObject({ expected: expect.stringContaining('at most 200 cans') });
  expect(groupCheck(rowsOf(many), false)).toMatchObject({ expected: expect.stringContaining('is the time missing') });
});

it('makes the same check of rows that hold a can each as of rows that hold a reading each', () => {
  const spots: Spot[] = ['front', 'back'].flatMap((position) => [{ characteristicId: 7, characteristic: 'overlap', position }, { characteristicId: 8, characteristic: 'thickness', position }]);
  const { characteristicId: _id, characteristic: _code, position: _position, value: _value, ...place } = reading();
  const wide: PlacedRow[] = [1, 2, 3].map((can) => ({ ...place, can, row: can, spots, values: spots.map((_, index) => can + index / 10) }));
  const gap: PlacedRow = { ...place, can: 4, row: 4, spots: spots.slice(1), values: [4.1, 4.2, 4.3] };
  const made = groupCheck([...wide, gap], false);
  const readings = [...wide, gap].flatMap(({ spots: own, values, ...rest }) => own.map((spot, index) => ({ ...rest, ...spot, value: values[index] as number })));
  expect(made).toEqual(group(readings));
  expect('check' in made && made.check.characteristics).toEqual([{ code: 'overlap', readings: [1, 1.2, 2, 2.2, 3, 3.2, null, 4.2] }, { code: 'thickness', readings: [1.1, 1.3, 2.1, 2.3, 3.1, 3.3, 4.1, 4.3] }]);
});

it('refuses more characteristics than a check may hold', () => {
  const many = Array.from({ length: 41 }, (_, index) => reading({ characteristicId: index + 1, characteristic: `c-${index}` }));
  expect(groupCheck(rowsOf(many), false)).toMatchObject({ size: { characteristics: 41 } });
});

it('loses no reading and invents none', () => {
  const place = fc.record({ can: fc.integer({ min: 1, max: 6 }), position: fc.constantFrom('a', 'b', 'c'), unitId: fc.constantFrom(null, 1, 2), characteristic: fc.constantFrom('x', 'y') });
  fc.assert(fc.property(fc.uniqueArray(place, { minLength: 1, maxLength: 60, selector: (one) => JSON.stringify(one) }), (places) => {
    const readings = places.map((one, index) => reading({ ...one, characteristicId: one.characteristic === 'x' ? 1 : 2, value: index + 1 }));
    const values = group(readings).check.characteristics.flatMap((entry) => entry.readings.filter((value) => value !== null));
    expect(values.sort((a, b) => a - b)).toEqual(readings.map((one) => one.value));
  }));
});
