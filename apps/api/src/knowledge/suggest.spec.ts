import { expect, it } from 'vitest';
import { seedPastFixes } from '../../../../test/factories/past-fixes.js';
import { seedIncidents } from '../../../../seed/incidents.js';
import { findDefect } from '#canmaking/defects/taxonomy';
import { indexOf } from './past-fix-index.js';
import { tradeVocabulary } from './vocabulary.js';
import { suggestNotesFor } from './suggest.js';

const fixes = seedPastFixes();
const index = indexOf(fixes, tradeVocabulary);
const titleOf = (noteId: number) => fixes.find(({ kind, id }) => kind === 'note' && id === noteId)?.texts.title;

it.each(seedIncidents.filter(({ noteTitles }) => noteTitles.length > 0).map((incident) => [incident.code, incident] as const))('suggests the note that people linked to %s', (_code, incident) => {
  const words = `${findDefect(incident.defectCode)?.name ?? ''} ${incident.leakPlace} ${incident.description}`;
  const place = ['juncture', 'side seam', 'flange'].includes(incident.leakPlace) ? incident.leakPlace : null;
  const suggested = suggestNotesFor(index, { words, stepKinds: findDefect(incident.defectCode)?.upstreamSteps ?? [], machine: null, defect: incident.defectCode, place });
  const titles = suggested.map(({ noteId }) => titleOf(noteId));
  for (const title of incident.noteTitles) expect(titles).toContain(title);
  expect(suggested.length).toBeLessThanOrEqual(5);
});

it.each([
  ['Cover hook', 'seamer', 'SE1', 'down short low', 'All heads lose cover hook slowly over two weeks'],
  ['Body hook', 'seamer', 'SE1', 'down short low', 'One head short body hook, the others fine'],
  ['Weld overlap', 'body-maker', 'BM12', 'up wide long', 'Weld overlap swings with a period: one slitter lane cuts long'],
  ['Stripe film', 'stripe-applicator', 'ST22', 'down thin', 'Stripe film thins day by day, then jumps back after cleaning'],
  ['Flange width', 'flanger', 'FL1', 'down narrow', 'Flange narrows on one spindle for days'],
  ['Seam thickness', 'seamer', 'SE1', 'up thick', 'Seam thickness and free space jump on all heads at one minute'],
  ['Countersink', 'seamer', 'SE1', 'up', 'Deep countersink on one head after bearing work'],
])('suggests for a signal of %s at the %s', (name, stepKind, machine, direction, title) => {
  const suggested = suggestNotesFor(index, { words: `${name} ${stepKind} ${direction}`, stepKinds: [stepKind], machine, defect: null, place: null });
  expect(suggested.slice(0, 3).map(({ noteId }) => titleOf(noteId))).toContain(title);
});

it('tells one head from all of them, and listens to what people said of like cases', () => {
  const situation = { words: 'Body hook seamer down short low', stepKinds: ['seamer'], machine: 'SM9', defect: null, place: null };
  const one = suggestNotesFor(index, { ...situation, units: 'one' });
  expect(titleOf(one[0]?.noteId ?? 0)).toBe('One head short body hook, the others fine');
  expect(one[0]?.reasons).toContainEqual({ kind: 'one-unit', value: '' });
  const [first, second] = suggestNotesFor(index, situation);
  const rejected = suggestNotesFor(index, situation, new Map([[first?.noteId ?? 0, { confirmed: 0, rejected: 3 }], [second?.noteId ?? 0, { confirmed: 3, rejected: 0 }]]));
  expect(rejected[0]?.noteId).toBe(second?.noteId);
  expect(rejected[0]?.reasons).toContainEqual({ kind: 'confirmed-before', value: '3' });
  const before = first?.score ?? 0;
  expect(rejected.find(({ noteId }) => noteId === first?.noteId)?.score ?? 0).toBeLessThan(before);
});

it('suggests nothing where no note says anything of it, and says why where one does', () => {
  expect(suggestNotesFor(index, { words: 'xylophone', stepKinds: ['seamer'], machine: 'SE1', defect: 'cold-weld', place: null })).toEqual([]);
  expect(suggestNotesFor(indexOf([], tradeVocabulary), { words: 'cover hook', stepKinds: [], machine: null, defect: null, place: null })).toEqual([]);
  const [best] = suggestNotesFor(index, { words: 'leak at the crossover', stepKinds: [], machine: null, defect: null, place: 'juncture' });
  expect(best?.reasons).toContainEqual({ kind: 'same-place', value: 'juncture' });
});
