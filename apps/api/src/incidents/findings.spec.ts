import { expect, it } from 'vitest';
import { loggedFaults } from './findings.js';

const now = new Date('2026-03-10T12:00:00Z');
const good = { kind: 'complaint' as const, cansComplained: 20, cansExamined: 12, cansLeaking: 3, leakPlace: 'juncture', defect: 'cold-weld', madeAt: '2026-02-01T08:00:00Z', receivedAt: '2026-03-10T11:00:00Z' };
const fieldsOf = (change: object) => loggedFaults({ ...good, ...change }, now).map(({ field }) => field);

it('accepts findings that agree', () => {
  expect(fieldsOf({})).toEqual([]);
  expect(fieldsOf({ cansExamined: 40 })).toEqual([]);
  expect(fieldsOf({ kind: 'in-house', cansComplained: 0 })).toEqual([]);
  expect(fieldsOf({ receivedAt: '2026-03-10T12:04:00Z' })).toEqual([]);
});

it('names each field that does not agree', () => {
  expect(fieldsOf({ cansLeaking: 13 })).toEqual(['cansLeaking']);
  expect(fieldsOf({ cansComplained: 0 })).toEqual(['cansComplained']);
  expect(fieldsOf({ leakPlace: 'lid' })).toEqual(['leakPlace']);
  expect(fieldsOf({ defect: 'no-such-defect' })).toEqual(['defect']);
  expect(fieldsOf({ receivedAt: '2026-03-10T12:06:00Z' })).toEqual(['receivedAt']);
  expect(fieldsOf({ madeAt: '2026-03-10T11:30:00Z' })).toEqual(['madeAt']);
  expect(fieldsOf({ madeUntil: '2026-02-01T08:00:00Z' })).toEqual(['madeUntil']);
  expect(fieldsOf({ madeUntil: '2026-02-01T08:01:00Z' })).toEqual([]);
  expect(fieldsOf({ cansLeaking: 13, leakPlace: '', cansComplained: 0 })).toEqual(['cansLeaking', 'leakPlace', 'cansComplained']);
});
