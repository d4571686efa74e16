import { expect, it } from 'vitest';
import { newCheck } from '#contract/inspections';
import { cellQuestions, implausibleCells, toNewCheck } from './entry-check.js';
import { canReadings, derivedPreview, draftProblems, entryDraft, filled, fits, isUntouched, newDraft, readCount, type Sheet, withCell } from './entry-draft.js';
import { readCell } from './cell-typing.js';

const named = (code: string) => ({ code, name: code, unit: 'mm', decimals: 2 });
const characteristic = (code: string) => ({ ...named(code), rating: false, gaugeStep: 0.01, low: 0.5, high: 4, specification: null });
const sheet: Sheet = {
  machine: { id: 4, code: 'SE1', name: 'Seamer 1' }, product: { id: 2, code: 'T65', name: 'Can', bodyPlate: 0.15, endPlate: 0.19, overlapFactor: 1 }, plan: { id: 3, name: 'Teardown' },
  every: { units: [{ id: 11, code: 'H1' }, { id: 12, code: 'H2' }], lanes: [], cans: 1 }, cans: [{ number: 1, unitId: 11, unit: 'H1', laneId: null, lane: null }, { number: 2, unitId: 12, unit: 'H2', laneId: 7, lane: 'A' }], positions: ['60°', '180°'],
  measured: ['cover-hook', 'body-hook', 'seam-length'].map(characteristic), derived: [{ ...named('seam-overlap'), formula: 'seam.overlap' }], counted: [named('dents')], gauges: [{ id: 9, code: 'G', name: 'Gauge', unit: 'mm', calibrationDue: null }],
};
const empty = newDraft(sheet, { key: 'a-key-of-its-own', takenAt: '2026-03-01T08:00:00.000Z', inspector: 'A. Tester', gauges: { 'cover-hook': 9, 'body-hook': 77 } });
const entry = (code: string, ...texts: string[]) => (draft = empty) => texts.reduce((before, text, place) => withCell(before, code, place, text), draft);
const full = entry('seam-length', '2.55', '2.55')(entry('body-hook', '1,75', '1.75')(entry('cover-hook', '1.65', '1,66')()));

it.each([['1.65', 1.65], ['1,65', 1.65], [' .5 ', 0.5], ['0', 0], ['-0,1', -0.1], ['3.', 3], ['', null], ['  ', null], ['1.6.5', 'unreadable'], ['1,234.5', 'unreadable'], ['1e5', 'unreadable'], ['abc', 'unreadable'], ['.', 'unreadable']] as const)('reads %j as %j', (text, value) => {
  expect(readCell(text)).toBe(value);
});

it('begins empty, with the gauges that the plant still has', () => {
  expect(isUntouched(empty)).toBe(true);
  expect(empty.gauges).toEqual({ 'cover-hook': 9 });
  expect(draftProblems(sheet, empty)).toEqual([{ what: 'nothing' }]);
  expect(isUntouched(full)).toBe(false);
});

it('names the cell that cannot be read, and does not mind a missing one', () => {
  expect(draftProblems(sheet, full)).toEqual([]);
  expect(filled(sheet, full)).toEqual({ done: 6, of: 12, skipped: 0 });
  expect(draftProblems(sheet, withCell(full, 'body-hook', 3, '1.7.5'))).toEqual([{ what: 'unreadable', code: 'body-hook', place: 3 }]);
  expect(draftProblems(sheet, { ...full, takenAt: '', inspector: ' ' }).map((problem) => problem.what)).toEqual(['taken-at', 'inspector']);
  expect(draftProblems(sheet, entry('body-hook', '0')())).toEqual([]);
  expect(draftProblems(sheet, { ...full, second: { 'cover-hook/0': 'x' } })).toEqual([{ what: 'second', code: 'cover-hook', place: 0 }]);
  expect(draftProblems(sheet, { ...full, second: { 'cover-hook/3': '1.65' } }), 'a second without a first').toHaveLength(1);
});

const done = '2026-03-01T08:12:00.000Z';
it('becomes a check that the contract takes, leaving out what has no reading', () => {
  const check = toNewCheck(sheet, withCell(entry('body-hook', '1,75', '', '1.8')(), 'cover-hook', 1, ''), false, done);
  expect(newCheck.parse(check)).toEqual(check);
  expect(check.cans).toEqual([{ number: 1, unitId: 11 }, { number: 2, unitId: 12, laneId: 7 }]);
  expect(check.characteristics).toEqual([{ code: 'body-hook', readings: [1.75, null, 1.8, null] }]);
  expect(toNewCheck(sheet, full, true, done).characteristics[0]).toEqual({ code: 'cover-hook', gaugeId: 9, readings: [1.65, 1.66, null, null] });
  expect(toNewCheck(sheet, full, true, done)).toEqual({ ...toNewCheck(sheet, full, false, done), confirmed: true });
});

it('reads digits by the step of the gauge, asks about what cannot be, and keeps counts whole', () => {
  expect(toNewCheck(sheet, entry('body-hook', '175', '1.8')(), false, done).characteristics).toEqual([{ code: 'body-hook', readings: [1.75, 1.8, null, null] }]);
  expect(implausibleCells(sheet, entry('body-hook', '17', '175', '17,5')())).toEqual([0, 2].map((place) => ({ code: 'body-hook', place, expected: { low: 0.5, high: 4 } })));
  expect(readCount({ inspected: '200', nonconforming: '3' })).toEqual({ inspected: 200, nonconforming: 3 });
  expect(readCount({ inspected: '', nonconforming: '' })).toBeNull();
  for (const [inspected, nonconforming] of [['3', '4'], ['0', '0'], ['2.5', '1'], ['5', '']] as const) expect(readCount({ inspected, nonconforming })).toBe('wrong');
  expect(draftProblems(sheet, { ...empty, counts: { dents: { inspected: '3', nonconforming: '4' } } })).toEqual([{ what: 'count', code: 'dents' }]);
});

it('sends what was left out with its reason, a whole can as one, second readings and the clock of the device', () => {
  const both = ['cover-hook', 'body-hook', 'seam-length'].flatMap((code) => [2, 3].map((place) => [`${code}/${place}`, 'can damaged'] as const));
  const check = toNewCheck(sheet, { ...entry('body-hook', '1.75')(), skips: { ...Object.fromEntries(both), 'cover-hook/1': 'no light' }, second: { 'body-hook/0': '176' }, counts: { dents: { inspected: '200', nonconforming: '0' } }, offline: true }, false, done);
  expect(check.skips).toEqual([{ can: 0, characteristic: 'cover-hook', position: 1, reason: 'no light' }, { can: 1, characteristic: null, position: null, reason: 'can damaged' }]);
  expect(check.secondReadings).toEqual([{ characteristic: 'body-hook', can: 0, position: 0, value: 1.76 }]);
  expect(check.counts).toEqual([{ code: 'dents', inspected: 200, nonconforming: 0 }]);
  expect([check.begunAt, check.finishedAt, check.offline]).toEqual([empty.begunAt, done, true]);
  expect(newCheck.parse(check)).toEqual(check);
  expect(toNewCheck(sheet, full, false, '2026-03-01T07:00:00.000Z'), 'a clock that went back').not.toHaveProperty('begunAt');
});

it('keeps ratings apart from readings', () => {
  const rated: Sheet = { ...sheet, measured: [...sheet.measured, { ...characteristic('wrinkle'), rating: true, gaugeStep: 1, low: 0, high: 3 }] };
  const check = toNewCheck(rated, withCell(newDraft(rated, { key: 'another-key', takenAt: done, inspector: 'A', gauges: {} }), 'wrinkle', 1, '2'), false, done);
  expect([check.characteristics, check.ratings]).toEqual([[], [{ code: 'wrinkle', ratings: [null, 2, null, null] }]]);
  expect(draftProblems(rated, withCell(newDraft(rated, { key: 'another-key', takenAt: done, inspector: 'A', gauges: {} }), 'wrinkle', 1, '4'))).toEqual([{ what: 'rating', code: 'wrinkle', place: 1 }]);
});

it('takes up a draft that an older version kept', () => {
  const { begunAt: _begun, offline: _offline, skips: _skips, second: _second, counts: _counts, ...old } = full;
  expect(fits(sheet, entryDraft.parse(old))).toBe(true);
});

it('finds the cells that a question of the server is about, by what was sent', () => {
  const check = toNewCheck(sheet, entry('body-hook', '17.5', '1.75')(), false, done);
  expect(cellQuestions(check, [{ field: 'characteristics.0.readings.0', expected: 'less' }, { field: 'planId', expected: 'a plan' }])).toEqual([{ code: 'body-hook', place: 0, expected: 'less' }]);
});

it('previews derived readings point by point, and none where an input is missing', () => {
  const preview = derivedPreview(sheet, full).get('seam-overlap');
  // 1.65 + 1.75 + 0.19 - 2.55: 21 CFR 113.60(a)(1)(iii), overlap length with the cover thickness.
  expect(preview?.[0]).toBeCloseTo(1.04, 12);
  expect(preview?.slice(2)).toEqual([null, null]);
  expect(canReadings(sheet, full, 'cover-hook', 0)).toEqual([1.65, 1.66]);
  expect(canReadings(sheet, full, 'cover-hook', 1)).toEqual([]);
});

it('tells a kept draft that no longer fits its sheet', () => {
  expect(fits(sheet, full)).toBe(true);
  expect(fits({ ...sheet, positions: ['60°'] }, full)).toBe(false);
  expect(fits({ ...sheet, measured: sheet.measured.slice(1) }, full)).toBe(false);
});
