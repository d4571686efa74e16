import { expect, it } from 'vitest';
import type { CodeMeaning } from '#contract/can-codes';
import { makeFormat } from '../shared/format.js';
import { dropMeaning, takeMarks, takeMeaning } from './code-reading.js';
import { emptyDraft, readDraft } from './incident-draft.js';

const format = makeFormat('Europe/Lisbon');
const meaning: CodeMeaning = {
  // The second 01:30 of the night in which the clock goes back: the text of the form alone would mean the first one.
  from: '2025-10-26T01:30:00.000Z', until: '2025-10-26T01:31:00.000Z', precision: 'minute', lineId: 2, line: 'L1', lineName: 'Line 1', laneId: 7, lane: 'A', machineId: null, machine: null, unitId: null, unit: null, shift: null,
  cautions: ['clock-set-back'], patternId: 1, codedAtStepId: 9, codedAtStepKind: 'seamer', clockMinutes: 2,
};
const good = { ...emptyDraft('2026-07-10T10:00'), productId: '3', customer: 'Hollin Preserves', cansComplained: '24', leakPlace: 'juncture', defect: 'cold-weld', description: 'Dye', canCode: 'L1 25299 0130 A' };

it('puts line, span, printing step and half into the form, and sends the moment that was chosen', () => {
  const draft = { ...good, ...takeMeaning(meaning, format) };
  expect(draft.madeAt).toBe('2025-10-26T01:30');
  expect(readDraft(draft, format).body).toMatchObject({ lineId: 2, madeAt: meaning.from, madeUntil: meaning.until, codedAtStepId: 9, laneId: 7, unitId: null });
});

it('lets the person overrule it with a time of their own', () => {
  const draft = { ...good, ...takeMeaning(meaning, format), ...dropMeaning, madeAt: '2025-10-25T10:00' };
  expect(readDraft(draft, format).body).toMatchObject({ madeAt: '2025-10-25T09:00:00.000Z', madeUntil: null, codedAtStepId: null, laneId: 7 });
});

it('takes half and head of the code also where the person put the time in, and only where all meanings agree on them', () => {
  const own = { ...good, madeAt: '2025-10-25T10:00' };
  const marks = takeMarks([meaning, { ...meaning, from: '2025-10-26T00:30:00.000Z' }], 'L1 25299 0130 A', own);
  expect(marks).toEqual({ lineId: '2', laneId: '7', marksOf: 'L1 25299 0130 A' });
  expect(readDraft({ ...own, ...marks }, format).body).toMatchObject({ madeAt: '2025-10-25T09:00:00.000Z', laneId: 7, unitId: null });
  expect(takeMarks([meaning, { ...meaning, laneId: 8 }], 'x', own)).toBeNull();
  expect(takeMarks([{ ...meaning, laneId: null }], 'x', own)).toBeNull();
  // Halves of another line than the one the person chose are none of its halves.
  expect(takeMarks([meaning], 'x', { ...own, lineId: '3' })).toBeNull();
  expect(takeMarks([], 'x', own)).toBeNull();
});

it('sends the second of two times that the clock showed, when it was chosen, and none that the clock skipped', () => {
  const at = (change: object) => readDraft({ ...good, lineId: '2', ...change }, format);
  expect(at({ madeAt: '2025-10-26T01:30' }).body?.madeAt).toBe('2025-10-26T00:30:00.000Z');
  expect(at({ madeAt: '2025-10-26T01:30', madeFrom: '2025-10-26T01:30:00.000Z' }).body?.madeAt).toBe('2025-10-26T01:30:00.000Z');
  expect(at({ madeAt: '2026-03-29T01:30' })).toEqual({ body: null, faults: { madeAt: 'time' } });
});
