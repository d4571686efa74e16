import fc from 'fast-check';
import { expect, it } from 'vitest';
import { pastFixFields } from '#contract/knowledge';
import { germanToken, isGerman } from './german.js';
import type { PastFix } from './past-fix.js';
import { indexOf } from './past-fix-index.js';
import { searchPastFixes } from './search-past-fixes.js';
import { tradeVocabulary } from './vocabulary.js';
import { foldWord, wordsOf } from './words.js';

const note = (id: number, title: string, symptom: string, fix: string): PastFix => ({
  kind: 'note', id, defect: 'cold-weld', defectName: 'Cold weld', stepKind: 'body-maker', machine: 'BM11', customer: null, state: null, changedAt: new Date(Date.UTC(2026, 0, id)),
  texts: { ...Object.fromEntries(pastFixFields.map((field) => [field, ''])), title, symptom, fix } as PastFix['texts'],
});
const index = indexOf([
  note(1, 'Kalte Schweißnaht am Rumpfanfang', 'Die Naht riss beim Abziehen, die Dosen waren undicht.', 'Strom neu gesetzt, Drahtführung gereinigt.'),
  note(2, 'Falzdicke schwankt', 'Das Lager der Rolle hatte Spiel.', 'Das Lager wurde ersetzt.'),
  note(3, 'Roll bearing worn on the second operation', 'The seam thickness differs round the can.', 'The die and the rolls were changed.'),
], tradeVocabulary);
const found = (q: string) => searchPastFixes(index, { q, take: 5 }).hits.map(({ id }) => id);

it.each([
  ['Schweißnähte', 1], ['Schweissnähten', 1], ['schweissnaehte', 1], ['undichte Dose', 1], ['Drahtführungen', 1], ['Rollenspiel der Lagern', 2], ['an der Rolle', 2], ['gereinigte Drahtführung', 1],
])('finds a German note by other endings: "%s"', (q, id) => {
  expect(found(q)[0]).toBe(id);
});

it('says which word of the note the typed one is, and marks it', () => {
  const [hit] = searchPastFixes(index, { q: 'Schweißnähte', take: 5 }).hits;
  expect(hit?.matched).toContainEqual(expect.objectContaining({ word: 'Schweißnähte', how: 'word', found: 'Schweißnaht' }));
  expect(hit?.title).toContainEqual({ text: 'Schweißnaht', marked: true });
});

it('tells German from English by the text, and leaves English words as they are', () => {
  expect(isGerman(wordsOf('Die Naht riss und die Dosen waren undicht.'))).toBe(true);
  expect(isGerman(wordsOf('Schweißnähte'))).toBe(true);
  expect(isGerman(wordsOf('The die was worn in the press'))).toBe(false);
  expect(isGerman(wordsOf('seam roll'))).toBe(false);
  expect(isGerman(wordsOf('Die clearance 20 um, roll also worn'))).toBe(false);
  expect(isGerman(wordsOf('Die Naht riss, also Strom um zwei gesenkt und geprüft'))).toBe(true);
  // "die" is a tool in an English question.
  expect(found('die')[0]).toBe(3);
  expect(found('roll bearing')[0]).toBe(3);
});

it('stems whatever is typed, and no query throws', () => {
  expect(['schweissnahte', 'schweissnaht', 'rissen', 'riss'].map(germanToken)).toEqual(['¶schweissnaht', '¶schweissnaht', '¶riss', '¶riss']);
  fc.assert(fc.property(fc.string({ unit: 'binary', maxLength: 80 }), (text) => {
    expect(germanToken(foldWord(text)).startsWith('¶')).toBe(true);
    expect(() => searchPastFixes(index, { q: `${text} ß ä`, take: 5 })).not.toThrow();
  }), { numRuns: 500 });
});
