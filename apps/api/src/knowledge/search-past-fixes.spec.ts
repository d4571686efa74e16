import fc from 'fast-check';
import { expect, it } from 'vitest';
import { ambiguousTerms, synonymGroups } from '#canmaking/defects/synonyms';
import { seedPastFixes } from '../../../../test/factories/past-fixes.js';
import { indexOf } from './past-fix-index.js';
import { tradeVocabulary } from './vocabulary.js';
import { searchPastFixes } from './search-past-fixes.js';

const index = indexOf(seedPastFixes(), tradeVocabulary);
const search = (q: string, more: object = {}) => searchPastFixes(index, { q, take: 30, ...more });
const titleOf = (hit: { title: { text: string }[] }) => hit.title.map(({ text }) => text).join('');

/** What a person at the line would type, and a note that must be among the first three notes. Invented, judged by hand. */
const judged: [query: string, title: string][] = [
  ['tear test breaks at the front', 'Peel strip snaps in the first five millimetres, half A only'],
  ['low tin coil', 'Peel strip snaps in the first five millimetres, half A only'],
  ['cold weld', 'Peel strip snaps in the first five millimetres, half A only'],
  ['cold weeld', 'Peel strip snaps in the first five millimetres, half A only'],
  ['stuck weld', 'Peel strip snaps in the first five millimetres, half A only'],
  ['un-fused', 'Peel strip snaps in the first five millimetres, half A only'],
  ['冷焊', 'Peel strip snaps in the first five millimetres, half A only'],
  ['every third body too wide', 'Weld overlap swings with a period: one slitter lane cuts long'],
  ['spliter', 'Weld overlap swings with a period: one slitter lane cuts long'],
  ['slitter lane', 'Weld overlap swings with a period: one slitter lane cuts long'],
  ['blank length', 'Weld overlap swings with a period: one slitter lane cuts long'],
  ['lap width period', 'Weld overlap swings with a period: one slitter lane cuts long'],
  ['guide rail insert', 'Overlap opens like a wedge towards the trailing end'],
  ['expulsion', 'Splash tips under the stripe though the powder weight is right'],
  ['spatter', 'Splash tips under the stripe though the powder weight is right'],
  ['weld monitor rejects after wire change', 'Open weld at the back end after a wire change'],
  ['blow-hole', 'Pinholes in the weld from lacquer in the margin'],
  ['burn through', 'Pinholes in the weld from lacquer in the margin'],
  ['split flange next to the weld', 'Flange cracks beside the weld with one coil only'],
  ['flange split one coil', 'Flange cracks beside the weld with one coil only'],
  ['powder stripe thin', 'Stripe film thins day by day, then jumps back after cleaning'],
  ['sulphide stain', 'Stripe film thins day by day, then jumps back after cleaning'],
  ['cros-over leak', 'Leaks at the juncture while every measurement is in specification'],
  ['crossover leaking can', 'Leaks at the juncture while every measurement is in specification'],
  ['leak at the weld crossing', 'Leaks at the juncture while every measurement is in specification'],
  ['end hook falls slowly', 'All heads lose cover hook slowly over two weeks'],
  ['lid hook short all stations', 'All heads lose cover hook slowly over two weeks'],
  ['short BH one head', 'One head short body hook, the others fine'],
  ['flange hook', 'One head short body hook, the others fine'],
  ['jam', 'One head thick after a jam that nobody re-checked'],
  ['seam thicknes jump all heads', 'Seam thickness and free space jump on all heads at one minute'],
  ['cup depth', 'Deep countersink on one head after bearing work'],
  ['wrinkle-free % differs by shift', 'Tightness always better on one shift'],
  ['crossover droop', 'Droop at the crossover from a weld step'],
  ['sag at the side seam', 'Droop at the crossover from a weld step'],
  ['spur', 'Vees on single cans from damaged curls'],
  ['can skids', 'Dull arcs: the can skids under the second operation'],
  ['gasket squeezed out', 'Compound squeezed out below the seam with one end lot'],
  ['KDF', 'Knocked-down flanges at the transfer to the seamer'],
  ['mushroom knock', 'Knocked-down flanges at the transfer to the seamer'],
  ['knockeddown flange', 'Knocked-down flanges at the transfer to the seamer'],
  ['necked flange uneven height split', 'Flange uneven round the can: height split off centre'],
  ['tester pocket good cans', 'Tester throws out good cans from one pocket'],
];

it.each(judged)('finds for "%s" the note "%s"', (q, title) => {
  const notes = search(q, { kind: 'note' }).hits.map(titleOf);
  expect(notes.slice(0, 3)).toContain(title);
});

it('says why a hit matched, and marks it', () => {
  const [hit] = search('cros-over leak', { kind: 'note' }).hits;
  expect(hit?.matched).toContainEqual(expect.objectContaining({ word: 'cros-over', how: 'synonym', found: 'juncture' }));
  expect(hit?.title).toContainEqual({ text: 'juncture', marked: true });
  const [weld] = search('cold weeld', { kind: 'note' }).hits;
  expect(weld?.matched.map(({ how }) => how)).toContain('synonym');
  const [typing] = search('counters', { kind: 'note' }).hits;
  expect(typing?.matched).toContainEqual(expect.objectContaining({ word: 'counters', how: 'beginning', found: 'countersink' }));
});

it('asks for the meaning of a word that has two, and does not merge them', () => {
  expect(search('overlap').ambiguous.map(({ term, meanings }) => [term, meanings.map(({ preferred }) => preferred)])).toEqual([['overlap', ['seam overlap', 'weld overlap']]]);
  expect(search('wrinkle').ambiguous[0]?.meanings.map(({ preferred }) => preferred)).toEqual(['tightness', 'wrinkle number']);
  expect(search('lap').ambiguous).toHaveLength(1);
  for (const clear of ['weld overlap', 'seam overlap', 'lap width', 'wrinkle-free %', 'juncture']) expect(search(clear).ambiguous, clear).toEqual([]);
  for (const { term, meanings } of ambiguousTerms) for (const { preferred } of meanings) expect(search(preferred).ambiguous, `${preferred} answers ${term}`).toEqual([]);
  const weld = search('weld overlap', { kind: 'note' }).hits[0];
  expect(weld && titleOf(weld)).toContain('Weld overlap');
});

it('takes the chosen meaning: what speaks of the other one goes down, and nothing is asked any more', () => {
  const weld = search('overlap', { kind: 'note', meanings: ['weld overlap'] });
  expect([weld.ambiguous, weld.taken]).toEqual([[], [{ term: 'overlap', preferred: 'weld overlap' }]]);
  expect(weld.hits[0] && titleOf(weld.hits[0])).toContain('Weld overlap');
  const seam = search('overlap', { kind: 'note', meanings: ['seam overlap'] });
  expect(seam.hits[0]?.stepKind).toBe('seamer');
  // Wrinkle and tightness run opposite ways: only a person's choice joins them.
  expect(search('wrinkle', { kind: 'note' }).hits.flatMap(({ matched }) => matched).some(({ how }) => how === 'synonym')).toBe(false);
  expect(search('wrinkle', { kind: 'note', meanings: ['tightness'] }).hits.flatMap(({ matched }) => matched).some(({ how, found }) => how === 'synonym' && found.toLowerCase() === 'tightness')).toBe(true);
  // A meaning that the word does not have changes nothing.
  expect(search('overlap', { meanings: ['juncture', '§', '__proto__'] }).ambiguous).toHaveLength(1);
});

it('puts first, of two that fit alike, the one that people confirmed, then the newer one', () => {
  const [note] = seedPastFixes();
  if (!note) throw new Error('no notes');
  const twins = [1, 2, 3].map((id) => ({ ...note, id, changedAt: new Date(Date.UTC(2026, 0, id)) }));
  const alike = indexOf(twins, tradeVocabulary);
  const order = () => searchPastFixes(alike, { q: note.texts.title, take: 5 }).hits.map(({ id }) => id);
  expect(order()).toEqual([3, 2, 1]);
  alike.standings = new Map([['note 1', { confirmed: 3, helped: 2 }]]);
  expect(order()).toEqual([1, 3, 2]);
  expect(searchPastFixes(alike, { q: '', take: 5 }).hits.find(({ id }) => id === 1)).toMatchObject({ confirmed: 3, helped: 2 });
});

it('replaces a changed document and forgets a removed one', () => {
  const grown = indexOf(seedPastFixes(), tradeVocabulary);
  const fix = grown.fixes[0];
  if (!fix) throw new Error('no notes');
  grown.add({ ...fix, texts: { ...fix.texts, title: 'Madagascar roll' } });
  expect([grown.size, grown.dead]).toEqual([seedPastFixes().length, 1]);
  expect(searchPastFixes(grown, { q: 'madagascar', take: 5 }).hits.map(({ id }) => id)).toEqual([fix.id]);
  grown.remove(`${fix.kind} ${fix.id}`);
  expect(searchPastFixes(grown, { q: 'madagascar', take: 5 }).total).toBe(0);
});

it('finds words with exchanged letters, German ones in both spellings, and terms inside unspaced text', () => {
  const first = (q: string) => search(q, { kind: 'note' }).hits.slice(0, 3).map(titleOf);
  expect(first('tighntess')).toContain('Tightness always better on one shift');
  for (const q of ['Deckelhaken', 'Kaltschweißung', 'Kaltschweissung', 'fuite', 'Bördelriss', 'Boerdelriss', '有冷焊吗']) expect(first(q).length, q).toBeGreaterThan(0);
  expect(first('Boerdelriss')).toEqual(first('Bördelriss'));
  const [note] = seedPastFixes();
  if (!note) throw new Error('no notes');
  const chinese = indexOf([{ ...note, texts: { ...note.texts, cause: '焊缝冷焊缺陷' } }], tradeVocabulary);
  for (const q of ['冷焊缺陷', '缺陷', '缺', 'cold weld']) expect(searchPastFixes(chinese, { q, take: 5 }).total, q).toBe(1);
});

it('lists the newest first without a query, and counts what each filter would leave', () => {
  const all = search('');
  expect(all.total).toBe(42);
  const moments = all.hits.map(({ changedAt }) => changedAt);
  expect(moments).toEqual([...moments].sort().reverse());
  for (const name of ['defect', 'step', 'machine', 'kind', 'verified'] as const) {
    for (const { value, count } of all.facets[name]) expect(search('', { [name]: name === 'verified' ? value === 'true' : value }).total, `${name} ${value}`).toBe(count);
  }
  const weld = search('weld', { step: 'body-maker' });
  expect(weld.hits.every(({ stepKind }) => stepKind === 'body-maker')).toBe(true);
  expect(weld.facets.step.length).toBeGreaterThan(1);
});

it('finds nothing where nothing fits', () => {
  expect(search('xylophone').total).toBe(0);
  expect(search('!!! ... ???').total).toBe(42);
});

it('finds each synonym of a group wherever it finds the preferred word', () => {
  const refs = (q: string) => new Set(search(q, { take: 100 }).hits.map(({ kind, id }) => `${kind} ${id}`));
  const juncture = synonymGroups.find(({ preferred }) => preferred === 'juncture');
  const byGroup = search('juncture', { take: 100 }).hits.filter(({ matched }) => matched.some(({ how }) => how === 'word' || how === 'synonym'));
  expect(byGroup.length).toBeGreaterThan(2);
  for (const other of juncture?.others.filter((term) => term !== 'lap') ?? []) {
    const found = refs(other);
    for (const { kind, id } of byGroup) expect(found, `${other} ${kind} ${id}`).toContain(`${kind} ${id}`);
  }
});

// A query that never came back would end by the test's own time limit.
it('takes any text and comes back with an answer', () => {
  const nasty = fc.oneof(fc.string({ maxLength: 400 }), fc.string({ unit: 'grapheme', maxLength: 200 }), fc.string({ unit: 'binary', maxLength: 200 }), fc.constantFrom('a:b', 'title:', '+', '-weld', 'weld~99', '^', 'weld^999', '*', '***', '*a*', '~juncture', '§end', 'constructor', '__proto__', 'toString hasOwnProperty'), fc.array(fc.constantFrom('cros', 'over', 'weld', 'seam', 'hok', 'flange', 'spliter', '*', '~2', 'lap'), { maxLength: 40 }).map((words) => words.join(' ')));
  fc.assert(fc.property(nasty, (text) => {
    const answer = search(text);
    for (const hit of answer.hits) expect(titleOf(hit).length).toBeGreaterThan(0);
  }), { numRuns: 300, seed: 20260301 });
});
