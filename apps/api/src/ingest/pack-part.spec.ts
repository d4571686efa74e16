import { expect, it } from 'vitest';
import type { ImportCheck } from './group-checks.js';
import { packPart, unpackPart } from './pack-part.js';

const check = (readings: (number | null)[][]): ImportCheck => ({
  rows: [2, 3], readings: readings.flat().filter((reading) => reading !== null).length,
  check: { key: 'import:-:1', machineId: 1, productId: 2, takenAt: '2026-03-01T08:00:00.000Z', positions: ['1', '2'], confirmed: false, cans: [{ number: 1 }], characteristics: readings.map((list, index) => ({ code: `c${index}`, readings: list })) },
});

it('brings every reading to its place again after a thread has handed the part over, missing ones too', () => {
  const part = { expected: 3, rows: 2, readings: 7, alreadyStored: 0, checks: [check([[0.4, -0.25], [null, 1e-9]]), check([[]]), check([[Number.MAX_SAFE_INTEGER, 0, null], [0.1 + 0.2]])], refusals: [], cells: new Map([[2, ['a']]]) };
  const packed = packPart(part);
  const handed = structuredClone(packed, { transfer: [packed.readings.buffer, packed.lengths.buffer] });
  expect(unpackPart(handed)).toEqual(part);
  expect(packed.readings.length, 'handed over, not copied').toBe(0);
});
