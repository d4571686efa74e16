import { expect, it } from 'vitest';
import { deriveReading } from '#canmaking/seam/derive';
import { planCorrection } from './plan-correction.js';

const plate = { bodyPlate: 0.15, endPlate: 0.19 };
const derivable = [{ id: 7, code: 'seam-overlap', formula: 'seam.overlap' as const }];
const overlapOf = (coverHook: number | null, k = 1): number | null => {
  const answer = deriveReading('seam.overlap', { 'cover-hook': coverHook, 'body-hook': 1.75, 'seam-length': 2.55 }, plate, k);
  return answer && 'value' in answer ? answer.value : null;
};
const group = (coverHooks: (number | null)[], overlap: (number | null)[] | null, formula = 'overlap/1 k=1.0 calculated') => [
  { characteristic: 'cover-hook', formula: null, readings: coverHooks }, { characteristic: 'body-hook', formula: null, readings: coverHooks.map(() => 1.75) }, { characteristic: 'seam-length', formula: null, readings: coverHooks.map(() => 2.55) },
  ...(overlap ? [{ characteristic: 'seam-overlap', formula, readings: overlap }] : []),
];

it('computes the derived reading of that point anew and leaves the others', () => {
  const plan = planCorrection(group([1.65, 1.6], [overlapOf(1.65), overlapOf(1.6)]), 'cover-hook', 1, 1.66, derivable, plate, 1);
  expect(plan.replaced).toEqual([{ characteristic: 'cover-hook', readings: [1.65, 1.66], basisGone: false }, { characteristic: 'seam-overlap', readings: [overlapOf(1.65), overlapOf(1.66)], basisGone: false }]);
  expect([plan.added, plan.notRecomputed]).toEqual([[], []]);
});

it('takes the derived reading away with its input', () => {
  const plan = planCorrection(group([1.65, 1.6], [overlapOf(1.65), overlapOf(1.6)]), 'cover-hook', 0, null, derivable, plate, 1);
  expect(plan.replaced.map((next) => next.readings)).toEqual([[null, 1.6], [null, overlapOf(1.6)]]);
});

it.each([
  ['the factor', plate, 1.1], ['the plate', { ...plate, endPlate: 0.2 }, 1],
])('takes the derived reading away, and says so, where %s is another one by now', (_what, plateNow, k) => {
  const plan = planCorrection(group([1.65, 1.6], [overlapOf(1.65), overlapOf(1.6)]), 'cover-hook', 0, 1.66, derivable, plateNow, k);
  expect(plan.replaced[1]).toEqual({ characteristic: 'seam-overlap', readings: [null, overlapOf(1.6)], basisGone: true });
  expect(plan.notRecomputed).toEqual([{ characteristic: 'seam-overlap', formula: 'overlap/1 k=1.0 calculated' }]);
});

it('makes the derived subgroup when its last missing input is filled in', () => {
  const plan = planCorrection(group([null, null], null), 'cover-hook', 1, 1.65, derivable, plate, 1);
  expect(plan.added).toEqual([{ characteristicId: 7, characteristic: 'seam-overlap', readings: [null, overlapOf(1.65)], formula: 'overlap/1 k=1.0 calculated' }]);
});

it('makes none where the check was logged before the plant derived it', () => {
  expect(planCorrection(group([1.65, null], null), 'cover-hook', 1, 1.65, derivable, plate, 1).added).toEqual([]);
});
