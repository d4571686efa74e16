import fc from 'fast-check';
import { expect, it } from 'vitest';
import { numberTag } from './group-checks.js';
import { keepNew, type StoredPlace } from './keep-new.js';
import type { PlacedRow, Spot } from './placed-row.js';

const spots: Spot[] = ['front', 'back', 'seam'].map((position) => ({ characteristicId: 7, characteristic: 'overlap', position }));
const [front, back, seam] = spots as [Spot, Spot, Spot];
const row = (number: number, can: number, given: readonly (readonly [Spot, number])[], change: Partial<PlacedRow> = {}): PlacedRow => ({
  row: number, machineId: 1, productId: 5, takenAt: '2025-03-01T08:00:00.000Z', checkNumber: '', unitId: null, laneId: null, can, gaugeId: null, inspector: null, note: null,
  spots: given.map(([spot]) => spot), values: given.map(([, value]) => value), ...change,
});
const stored = (can: number, { characteristicId, position }: Spot, value: number | null, change: Partial<StoredPlace> = {}): StoredPlace => ({ unitId: null, laneId: null, can, characteristicId, position, value, checkId: 12, key: 'import:-:abc', ...change });
const kept = (fresh: readonly PlacedRow[]) => fresh.flatMap((entry) => entry.spots.map((spot, index) => [entry.row, entry.can, spot.position, entry.values[index]]));

it('takes whole rows as they are where nothing is stored', () => {
  const rows = [row(2, 1, [[front, 1], [back, 2]]), row(3, 2, [[front, 1], [back, 2]])];
  const { fresh, known, refusals } = keepNew(rows, []);
  expect(fresh[0]).toBe(rows[0]);
  expect(fresh).toEqual(rows);
  expect([known, refusals]).toEqual([0, []]);
});

it('knows a reading again that the file gives twice, and refuses another value for its place, naming the row before', () => {
  const { fresh, known, refusals } = keepNew([row(2, 1, [[front, 1], [back, 2]]), row(3, 1, [[front, 1], [back, 2.5], [seam, 3]]), row(4, 1, [[seam, 9]]), row(5, 1, [[front, 1]], { unitId: 4 })], []);
  expect(kept(fresh)).toEqual([[2, 1, 'front', 1], [2, 1, 'back', 2], [3, 1, 'seam', 3], [5, 1, 'front', 1]]);
  expect(known).toBe(1);
  expect(refusals.map((entry) => [entry.row, entry.why])).toEqual([[3, { code: 'twice', values: { row: 2 } }], [4, { code: 'twice', values: { row: 3 } }]]);
});

it('sees a place that one row gives twice', () => {
  const { fresh, known, refusals } = keepNew([row(2, 1, [[front, 1], [front, 1], [front, 2]])], []);
  expect(kept(fresh)).toEqual([[2, 1, 'front', 1]]);
  expect([known, refusals.length, refusals[0]?.reason]).toEqual([1, 1, 'another value for the place that row 2 has already given']);
});

it('holds what is stored against the file: the same is known, another value differs, what was corrected away stays away', () => {
  const { fresh, known, refusals } = keepNew([row(2, 1, [[front, 1], [back, 2], [seam, 3]]), row(3, 2, [[front, 4]])], [stored(1, front, 1), stored(1, back, 2.2), stored(1, seam, null)]);
  expect(kept(fresh)).toEqual([[3, 2, 'front', 4]]);
  expect(known).toBe(1);
  expect(refusals.map((entry) => entry.why)).toEqual([{ code: 'differs', values: { check: 12, value: 2.2 } }, { code: 'corrected-away', values: { check: 12 } }]);
});

it('compares with checks of the same number and with those entered by hand, not with those of another number', () => {
  const numbered = row(2, 1, [[front, 1]], { checkNumber: 'A' });
  expect(keepNew([numbered], [stored(1, front, 1, { key: `import:${numberTag('A')}:x` })]).known).toBe(1);
  expect(keepNew([numbered], [stored(1, front, 1, { key: 'typed-by-hand' })]).known).toBe(1);
  expect(keepNew([numbered], [stored(1, front, 1, { key: `import:${numberTag('B')}:x` })]).fresh).toEqual([numbered]);
});

it('answers for each reading once: to be stored, known or refused, as a plain search of all that came before says', () => {
  const reading = fc.tuple(fc.constantFrom(...spots), fc.integer({ min: 1, max: 2 }));
  const line = fc.tuple(fc.integer({ min: 1, max: 3 }), fc.array(reading, { minLength: 1, maxLength: 4 }));
  const old = fc.uniqueArray(fc.tuple(fc.integer({ min: 1, max: 3 }), fc.constantFrom(...spots), fc.constantFrom(1, 2, null)), { maxLength: 5, selector: ([can, spot]) => `${can}/${spot.position}` });
  fc.assert(fc.property(fc.array(line, { minLength: 1, maxLength: 8 }), old, (lines, before) => {
    const { fresh, known, refusals } = keepNew(lines.map(([can, given], index) => row(index + 2, can, given)), before.map(([can, spot, value]) => stored(can, spot, value)));
    const [wanted, seen]: [unknown[], { same: number; refused: number }] = [[], { same: 0, refused: 0 }];
    const there: { can: number; spot: Spot; value: number | null }[] = before.map(([can, spot, value]) => ({ can, spot, value }));
    for (const [index, [can, given]] of lines.entries()) for (const [spot, value] of given) {
      const found = there.filter((entry) => entry.can === can && entry.spot === spot);
      if (found.some((entry) => entry.value === value)) seen.same += 1;
      else if (found.length > 0) seen.refused += 1;
      else { there.push({ can, spot, value }); wanted.push([index + 2, can, spot.position, value]); }
    }
    expect(kept(fresh)).toEqual(wanted);
    expect([known, refusals.length]).toEqual([seen.same, seen.refused]);
  }), { numRuns: 500 });
});
