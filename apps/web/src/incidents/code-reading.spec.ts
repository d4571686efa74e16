import { expect, it } from 'vitest';
import type { CodeMeaning } from '#contract/can-codes';
import { makeFormat } from '../shared/format.js';
import { dropMeaning, takeMeaning } from './code-reading.js';
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
