import { expect, it } from 'vitest';
import { editDistance } from './edit-distance.js';
import { excerpt, markSpans } from './snippet.js';
import { termsInQuery, termsInText, tradeVocabulary } from './vocabulary.js';
import { foldUmlauts, wordsOf } from './words.js';

const folded = (text: string) => wordsOf(text).map((word) => word.folded);

it('cuts a text of any script into words whose places are those of the text', () => {
  expect(folded("Cross-over at the maker's END, Überlappung 0.42 mm; ﬁne 二重卷边 Größe")).toEqual(['cross', 'over', 'at', 'the', 'makers', 'end', 'uberlappung', '0', '42', 'mm', 'fine', '二重', '重卷', '卷边', 'grosse']);
  const text = 'Fuß: Überlappung… weld';
  for (const { start, length, raw } of wordsOf(text)) expect(text.slice(start, start + length)).toBe(raw);
  expect(folded('… !? \u{1F600} ')).toEqual([]);
  expect(wordsOf('word '.repeat(9000), 100)).toHaveLength(100);
});

it('counts edits and stops counting beyond the most that is asked for', () => {
  expect(editDistance('weeld', 'weld', 2)).toBe(1);
  expect(editDistance('spliter', 'slitter', 2)).toBe(2);
  expect(editDistance('kitten', 'sitting', 3)).toBe(3);
  expect(editDistance('kitten', 'sitting', 2)).toBe(3);
  expect(editDistance('overalp', 'overlap', 2)).toBe(1);
  expect(editDistance('ewld', 'weld', 1)).toBe(1);
  expect(editDistance('', 'ab', 2)).toBe(2);
  expect(editDistance('same', 'same', 0)).toBe(0);
});

const groupsOf = (text: string) => termsInQuery(tradeVocabulary, wordsOf(text)).map(({ group, ambiguous, similar }) => `${group ?? ambiguous?.term}${group === null ? '?' : ''}${similar ? '~' : ''}`);

it('finds terms of several words, written together, apart or wrongly', () => {
  expect(groupsOf('crossover')).toEqual(['juncture']);
  expect(groupsOf('cross over')).toEqual(['juncture']);
  expect(groupsOf('cros-over leak')).toEqual(['juncture~', 'leaker']);
  expect(groupsOf('cold weeld')).toEqual(['cold weld~']);
  expect(groupsOf('op1')).toEqual(['op 1']);
  expect(groupsOf('bodyhook')).toEqual(['body hook']);
  expect(groupsOf('weld overlap')).toEqual(['weld overlap']);
  expect(groupsOf('overlap')).toEqual(['overlap?']);
  expect(groupsOf('焊缝冷焊很多')).toEqual(['cold weld']);
  expect(groupsOf('show me the bead')).toEqual(['bead']);
});

it('takes abbreviations of one letter, and those that are common words, only in capitals', () => {
  expect(groupsOf('ME')).toEqual(["maker's end"]);
  expect(groupsOf('me')).toEqual([]);
  expect(groupsOf('bh')).toEqual(['body hook']);
  expect(groupsOf('s')).toEqual([]);
  const inText = (text: string) => termsInText(tradeVocabulary, wordsOf(text)).map(({ group }) => group);
  expect(inText('BH short')).toEqual(['body hook']);
  expect(inText('st cs s w me ce')).toEqual([]);
});

it('knows both ways to write a German umlaut', () => {
  expect(foldUmlauts('ueberlappung')).toBe('uberlappung');
  expect(foldUmlauts('boerdelriss')).toBe('bordelriss');
  expect(foldUmlauts('weld')).toBe('weld');
});

it('marks matches as parts of the text and cuts a long text round the first', () => {
  expect(markSpans('a juncture leak', [[2, 8], [2, 3], [11, 4]])).toEqual([{ text: 'a ', marked: false }, { text: 'juncture', marked: true }, { text: ' ', marked: false }, { text: 'leak', marked: true }]);
  const long = `${'before '.repeat(60)}juncture ${'after '.repeat(60)}`;
  const parts = excerpt(long, [[long.indexOf('juncture'), 8]]);
  expect(parts.find(({ marked }) => marked)?.text).toBe('juncture');
  const whole = parts.map(({ text }) => text).join('');
  expect(whole.length).toBeLessThan(260);
  expect(whole.startsWith('… ') && whole.endsWith(' …')).toBe(true);
  expect(excerpt('<b>short</b>', [])).toEqual([{ text: '<b>short</b>', marked: false }]);
});
