import { expect, it } from 'vitest';
import { draftOf, goneShifts, hoursFaults, hoursOfDraft } from './hours-draft.js';

const night = { shift: { from: 1320, until: 360 }, shifts: [], days: [1, 2], quiet: null };

it('shows what is kept and keeps what is shown', () => {
  for (const hours of [night, { shift: null, shifts: ['Early'], days: [7], quiet: { from: 0, until: 90 } }, { shift: null, shifts: [], days: [1, 2, 3, 4, 5, 6, 7], quiet: null }]) expect(hoursOfDraft(draftOf(hours))).toEqual(hours);
  expect(draftOf(null)).toMatchObject({ kind: 'any', days: [1, 2, 3, 4, 5, 6, 7] });
});

it('leaves out what was typed for another kind of hours', () => {
  expect(hoursOfDraft({ ...draftOf(night), kind: 'shifts', shifts: ['Late'] })).toMatchObject({ shift: null, shifts: ['Late'] });
  expect(hoursOfDraft({ ...draftOf(night), kind: 'any' })).toMatchObject({ shift: null, shifts: [] });
});

it('names what is missing', () => {
  expect(hoursFaults(draftOf(night))).toEqual([]);
  expect(hoursFaults({ ...draftOf(null), kind: 'typed', from: '06:00', days: [], quietUntil: '07:00' })).toEqual(['noHours', 'noDay', 'half']);
  expect(hoursFaults({ ...draftOf(null), kind: 'shifts' })).toEqual(['noShift']);
});

it('tells shifts that are gone once the list is there', () => {
  expect([goneShifts(['Early', 'Late'], [{ name: 'Late' }]), goneShifts(['Early'], undefined)]).toEqual([['Early'], []]);
});
