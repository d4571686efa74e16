import { expect, it } from 'vitest';
import { baselineOf, emptyDraft, exclude, include, isExcluded, pickBaseline, withTime } from './freeze-draft.js';

const at = (hour: number) => `2026-03-01T${String(hour).padStart(2, '0')}:00:00.000Z`;

it('takes two clicks for a baseline, in either order, and a third one for a new beginning', () => {
  const one = pickBaseline(emptyDraft, at(9));
  expect(baselineOf(one)).toBeNull();
  expect(baselineOf(pickBaseline(one, at(12)))).toEqual({ from: at(9), to: at(12), excluded: [] });
  expect(baselineOf(pickBaseline(one, at(5)))).toEqual({ from: at(5), to: at(9), excluded: [] });
  expect(pickBaseline(pickBaseline(one, at(12)), at(3))).toEqual({ from: at(3), to: null, excluded: [] });
});

it('asks for nothing while the end is not after the beginning', () => {
  expect(baselineOf({ from: at(9), to: at(9), excluded: [] })).toBeNull();
  expect(baselineOf({ from: at(9), to: at(8), excluded: [] })).toBeNull();
});

it('leaves a subgroup out once, with its newest reason, and takes it in again', () => {
  const draft = exclude(exclude({ from: at(1), to: at(9), excluded: [] }, { takenAt: at(3), sequence: 1, reason: 'first' }), { takenAt: '2026-03-01T03:00:00Z', sequence: 1, reason: 'coil change' });
  expect(draft.excluded).toEqual([{ takenAt: '2026-03-01T03:00:00Z', sequence: 1, reason: 'coil change' }]);
  expect([isExcluded(draft, { takenAt: at(3), sequence: 1 }), isExcluded(draft, { takenAt: at(3), sequence: 2 })]).toEqual([true, false]);
  expect(include(draft, { takenAt: at(3), sequence: 1 }).excluded).toEqual([]);
});

it('forgets exclusions that a shorter time does not hold', () => {
  const draft = exclude({ from: at(1), to: at(9), excluded: [] }, { takenAt: at(8), sequence: 1, reason: 'stop' });
  expect(withTime(draft, { to: at(7) })).toEqual({ from: at(1), to: at(7), excluded: [] });
  expect(withTime(draft, { from: at(2) }).excluded).toHaveLength(1);
});
