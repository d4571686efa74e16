import { expect, it } from 'vitest';
import { deriveReading, formulaIds, formulas } from './derive.js';

const readings = { 'cover-hook': 1.65, 'body-hook': 1.75, 'seam-length': 2.55, 'seam-thickness': 0.99, 'wrinkle-length': 0.25, countersink: 2.7,
  'butted-length': 1.4, 'cover-hook-at-juncture': 1.15, 'cover-hook-beside-juncture': 1.65 };
const plate = { endPlate: 0.19, bodyPlate: 0.15 };

it('derives all from the readings of one point, with method, and k in the version', () => {
  expect(formulaIds.map((id) => deriveReading(id, readings, plate, 1))).toEqual([
    { value: expect.closeTo(1.04, 9), version: 'overlap/1 k=1.0 calculated', method: 'calculated' },
    { value: expect.closeTo(51.485, 3), version: 'percent-overlap/1 k=1.0 calculated', method: 'calculated' },
    { value: expect.closeTo(80.58, 2), version: 'body-hook-butting/1 k=1.1 calculated', method: 'calculated' },
    { value: expect.closeTo(0.12, 9), version: 'free-space/1 calculated', method: 'calculated' },
    { value: expect.closeTo(84.848, 3), version: 'tightness/1 from wrinkle length', method: 'rated' },
    { value: expect.closeTo(0.15, 9), version: 'chuck-lip/1 calculated', method: 'calculated' },
    { value: expect.closeTo(80, 9), version: 'optical-butting/1 optical', method: 'optical' },
    { value: expect.closeTo(69.7, 1), version: 'juncture-rating/1 from cover hooks', method: 'calculated' },
  ]);
});

it('gives the same can another number and another version with k = 1.1', () => {
  expect(deriveReading('seam.percent-overlap', readings, plate, 1.1))
    .toEqual({ value: expect.closeTo(53.84, 2), version: 'percent-overlap/1 k=1.1 calculated', method: 'calculated' });
  expect(deriveReading('seam.body-hook-butting', readings, plate, 1)).toEqual(deriveReading('seam.body-hook-butting', readings, plate, 1.1));
});

it('derives nothing from a missing reading', () => {
  expect(deriveReading('seam.overlap', { ...readings, 'body-hook': null }, plate, 1)).toBeNull();
  expect(deriveReading('seam.overlap', { 'cover-hook': 1.65 }, plate, 1)).toBeNull();
});

it('says which input a formula refuses instead of throwing', () => {
  expect(deriveReading('seam.overlap', { ...readings, 'cover-hook': 0 }, plate, 1)).toEqual({ refused: expect.stringContaining('coverHook') });
  expect(deriveReading('seam.free-space', readings, { endPlate: Number.NaN, bodyPlate: 0.15 }, 1))
    .toEqual({ refused: expect.stringContaining('endPlate') });
});

it('says truly whether k and each plate matter', () => {
  for (const id of formulaIds) {
    const formula = formulas[id];
    const base = formula.compute(readings, plate, 1);
    expect(formula.compute(readings, plate, 1.1) !== base).toBe(formula.usesK);
    for (const side of ['endPlate', 'bodyPlate'] as const) {
      expect(formula.compute(readings, { ...plate, [side]: plate[side] + 0.01 }, 1) !== base).toBe(formula.plate.includes(side));
    }
  }
});
