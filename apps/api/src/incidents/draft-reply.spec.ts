import { expect, it } from 'vitest';
import type { Incident } from '#contract/incidents';
import { defects, leakPlaces } from '#canmaking/defects/taxonomy';
import { draftReply, openPlaces, replyWords } from './draft-reply.js';

const incident: Incident = {
  id: 7, kind: 'complaint', state: 'action-taken', customer: 'Brackwater Pantry', productId: 1, product: 'T65', productName: 'Test can', lineId: 1, line: 'T1', lineName: 'Test line', canCode: '', madeUntil: null, codedAtStepId: null, codedAtStepKind: null, laneId: null, lane: null, unitId: null, unit: null, unitMachine: null, madeAt: '2026-03-01T08:00:00.000Z', receivedAt: '2026-03-10T09:00:00.000Z', closedAt: null,
  dueAt: null, causeCategory: 'instruction', cansComplained: 24, cansExamined: 0, cansLeaking: 0, leakPlace: 'juncture', defect: 'cold-weld', defectName: 'Cold weld', description: 'Dye comes out.', photos: 0, signals: 0, revision: 4, changedAt: '2026-03-11T09:00:00.000Z',
  containment: 'Two pallets held', cause: 'No window test', action: 'Test with each coil', closingNote: '', loggedBy: 'x', loggedAt: '2026-03-10T09:00:00.000Z', zeroFoundUpperBound: null, steps: [], photoList: [], signalList: [], notes: [],
  causeMachine: null, whys: [], verificationId: null, verdict: '', closedWithout: '', eventList: [], verifications: [], reply: null,
};
const draft = (more: Partial<Incident> = {}, language: 'en' | 'de' = 'en') => draftReply({ language, plant: 'Salt Ridge', timeZone: 'Europe/Lisbon', writtenAt: new Date('2026-03-12T12:00:00Z'), incident: { ...incident, ...more } });

it('says what is not known instead of leaving it out', () => {
  const text = draft();
  for (const words of ['The code on the cans could not be read.', 'No can has been examined yet: nothing is known of how many leak.', 'The effect has not been verified yet.', 'Kind of cause: operator instruction.']) expect(text).toContain(words);
  expect(draft({ cause: ' ' })).toContain('[the cause, or that it is not known yet]');
  expect(draft({ state: 'closed', closedAt: incident.changedAt, closedWithout: 'Nothing was changed here.' })).toContain('The effect was not verified by a comparison of measurements. Nothing was changed here.');
});

it('never lets none found stand without its bound, nor a share of returned cans without its limit', () => {
  expect(draft({ cansExamined: 200, zeroFoundUpperBound: 0.01487 })).toContain('up to 1.49 % of the cans may leak, with 95 % confidence');
  expect(draft({ cansExamined: 12, cansLeaking: 3 })).toContain('3 of them leaked (25.0 %). Returned cans are chosen, not drawn at random');
});

it('claims no release, and names every place that a person has to fill in', () => {
  const text = draft();
  expect(text).not.toMatch(/\b(?:releas|safe to|fit for)/i);
  expect(replyWords.en.caution).toContain('releases no product');
  expect(openPlaces(text)).toEqual(['[name of the person addressed]', '[when it will be]', '[what the customer is asked to do, and to send us]', '[name, position and signature of the person who answers for this letter]']);
  expect(openPlaces('nothing [] open')).toEqual([]);
});

it('says the same facts in German, names of defects and places too, with numbers as they are read there', () => {
  const text = draft({ canCode: 'L1 2026 060', cansExamined: 200, zeroFoundUpperBound: 0.01487, cause: ' ' }, 'de');
  for (const words of ['Ihre Reklamation vom 10. März 2026: Kaltschweißung, T65 Test can (unsere Nummer 7)', '24 beanstandete Dosen; Ort der Undichtheit: Nahtkreuzung.', 'Code auf den Dosen: L1 2026 060.', 'bis zu 1,49 % der Dosen', 'Art der Ursache: Anweisung an das Personal.', '[die Ursache, oder dass sie noch nicht bekannt ist]', 'Two pallets held']) expect(text).toContain(words);
  expect(openPlaces(text)).toHaveLength(openPlaces(draft({ cause: ' ' })).length);
  expect(text.split('\n\n')).toHaveLength(draft().split('\n\n').length);
  expect(replyWords.de.caution).toContain('gibt keine Ware frei');
  expect(text).not.toMatch(/freigegeben|unbedenklich|sicher zu/i);
  for (const { code } of defects) expect(replyWords.de.defects[code], code).toMatch(/\S/);
  for (const place of leakPlaces) expect(replyWords.de.places[place], place).toMatch(/\S/);
});
