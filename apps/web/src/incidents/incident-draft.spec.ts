import { expect, it } from 'vitest';
import { makeFormat } from '../shared/format.js';
import { emptyDraft, type IncidentDraft, readDraft } from './incident-draft.js';

const format = makeFormat('Europe/Lisbon');
const good: IncidentDraft = { ...emptyDraft('2026-07-10T10:00'), productId: '3', lineId: '2', customer: 'Hollin Preserves', madeAt: '2026-07-01T08:30', cansComplained: '24', cansExamined: '20', cansLeaking: '3', leakPlace: 'juncture', defect: 'cold-weld', description: 'Dye at the crossover' };

it('reads times as the plant shows them and numbers of cans as whole numbers', () => {
  expect(readDraft(good, format)).toEqual({ faults: {}, body: expect.objectContaining({ productId: 3, lineId: 2, madeAt: '2026-07-01T07:30:00.000Z', receivedAt: '2026-07-10T09:00:00.000Z', cansComplained: 24, cansExamined: 20, cansLeaking: 3 }) });
  expect(readDraft({ ...good, kind: 'in-house', cansComplained: '' }, format).body?.cansComplained).toBe(0);
});

it('says which field is not yet as it must be', () => {
  const faults = (change: Partial<IncidentDraft>) => readDraft({ ...good, ...change }, format).faults;
  expect(faults({ customer: ' ', defect: '' })).toEqual({ customer: 'needed', defect: 'needed' });
  expect(faults({ madeAt: 'yesterday' })).toEqual({ madeAt: 'time' });
  expect(faults({ cansExamined: '1.5' })).toEqual({ cansExamined: 'cans' });
  expect(faults({ cansComplained: '0' })).toEqual({ cansComplained: 'cans' });
  expect(faults({ cansLeaking: '21' })).toEqual({ cansLeaking: 'leaking' });
  expect(faults({ cansLeaking: '-1' })).toEqual({ cansLeaking: 'cans' });
  expect(readDraft(emptyDraft('2026-07-10T10:00'), format).body).toBeNull();
});
