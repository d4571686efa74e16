import fc from 'fast-check';
import { expect, it } from 'vitest';
import { bodyEndsOf, cansBetweenLaneFaults, canWithWeldEnd, laneOfBody, learnShift, splitLanes, unitByNumber } from './genealogy.js';

it('gives the weld ends to the cans of a body', () => {
  expect(bodyEndsOf(0, 2)).toEqual({ known: true, value: { leading: 'weld-front', trailing: 'parted' } });
  expect(bodyEndsOf(1, 2)).toEqual({ known: true, value: { leading: 'parted', trailing: 'weld-back' } });
  expect(bodyEndsOf(1, 3)).toEqual({ known: true, value: { leading: 'parted', trailing: 'parted' } });
  expect(bodyEndsOf(null, 1)).toEqual({ known: true, value: { leading: 'weld-front', trailing: 'weld-back' } });
  expect(bodyEndsOf(null, 2).known).toBe(false);
  expect([canWithWeldEnd('weld-front', 2), canWithWeldEnd('weld-back', 2), canWithWeldEnd('weld-back', 3)]).toEqual([0, 1, 2]);
  expect(() => bodyEndsOf(2, 2)).toThrow(/place/);
});

it('shares the lanes of the slitter between body makers', () => {
  expect(splitLanes(6, 2, 'in-blocks')).toEqual([[0, 1, 2], [3, 4, 5]]);
  expect(splitLanes(6, 2, 'in-turn')).toEqual([[0, 2, 4], [1, 3, 5]]);
  expect(splitLanes(4, 1, 'in-blocks')).toEqual([[0, 1, 2, 3]]);
  expect(() => splitLanes(5, 2, 'in-turn')).toThrow(/lanes must be a multiple of bodyMakers 2/);
});

it('brings a fault of one lane back on every sixth body: every twelfth can of a double-high line', () => {
  expect(cansBetweenLaneFaults(6, 2)).toBe(12);
  expect(cansBetweenLaneFaults(3, 2)).toBe(6);
});

it('tells head and lane by number once one can is known, and nothing before', () => {
  const shift = learnShift([{ number: 1_003, unit: 4 }], 8);
  expect(shift).toEqual({ known: true, value: 1 });
  expect(unitByNumber(1_004, 8, shift)).toEqual({ known: true, value: 5 });
  expect(unitByNumber(1_007, 8, shift)).toEqual({ known: true, value: 0 });
  expect(laneOfBody(7, [1, 3, 5], learnShift([{ number: 6, unit: 2 }], 3))).toEqual({ known: true, value: 1 });
  expect(unitByNumber(1_004, 8, learnShift([], 8)).known).toBe(false);
  expect(unitByNumber(null, 8, shift).known).toBe(false);
  expect(laneOfBody(7, [], shift).known).toBe(false);
});

it('does not choose between known cans that disagree', () => {
  expect(learnShift([{ number: 8, unit: 0 }, { number: 17, unit: 1 }], 8)).toEqual({ known: true, value: 0 });
  expect(learnShift([{ number: 8, unit: 0 }, { number: 17, unit: 2 }], 8)).toEqual({ known: false, because: 'the known cans do not agree: 0, 1' });
  expect(() => learnShift([{ number: 8, unit: 8 }], 8)).toThrow(/unit/);
  expect(() => learnShift([{ number: 8.5, unit: 1 }], 8)).toThrow(/number/);
});

it('agrees with a turning machine that is filled can by can', () => {
  fc.assert(fc.property(fc.integer({ min: 1, max: 24 }), fc.nat(23), fc.nat(500), fc.nat(500), (units, first, seen, asked) => {
    const heads = Array.from({ length: 501 }, () => 0);
    let head = first % units;
    for (let can = 0; can <= 500; can += 1) { heads[can] = head; head = head + 1 === units ? 0 : head + 1; }
    const shift = learnShift([{ number: seen, unit: heads[seen] ?? 0 }], units);
    expect(unitByNumber(asked, units, shift)).toEqual({ known: true, value: heads[asked] });
  }));
});
