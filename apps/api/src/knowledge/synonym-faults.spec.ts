import fc from 'fast-check';
import { expect, it } from 'vitest';
import { ambiguousTerms, synonymGroups } from '#canmaking/defects/synonyms';
import { synonymFaults } from './synonym-faults.js';
import { makeVocabulary, termKey, termsInQuery } from './vocabulary.js';
import { wordsOf } from './words.js';

it('lets a plant take no word of the trade, and none with two meanings, whichever group it is put into', () => {
  for (const { preferred, others } of synonymGroups) {
    for (const word of others.filter((other) => !ambiguousTerms.some(({ term }) => term === other))) expect(synonymFaults({ preferred: 'gadget', others: [word] }, []), word).toEqual([{ field: 'others.0', expected: `a word that no other group has: “${word}” belongs to “${preferred}”` }]);
  }
  for (const { term } of ambiguousTerms) {
    expect(synonymFaults({ preferred: 'gadget', others: [term] }, [])[0]?.expected, term).toContain('a word with one meaning');
    expect(synonymFaults({ preferred: term, others: ['gadget'] }, [])[0]?.field, term).toBe('preferred');
  }
});

it('leaves every word in one group, whatever groups a plant makes one after the other', () => {
  const word = fc.oneof(fc.string({ minLength: 1, maxLength: 12 }), fc.constantFrom('lap', 'EH', 'cover hook', 'wrinkle', 'turret', 'Turrets', 'jaws', 'Überlappung', '冷焊'));
  fc.assert(fc.property(fc.array(fc.record({ preferred: word, others: fc.array(word, { minLength: 1, maxLength: 4 }) }), { maxLength: 6 }), (wished) => {
    const own: typeof wished = [];
    for (const group of wished) if (synonymFaults(group, own).length === 0) own.push(group);
    const vocabulary = makeVocabulary(own);
    for (const { preferred, others } of own) {
      for (const term of [preferred, ...others]) {
        const groups = new Set(vocabulary.phrases.filter(({ joined, group }) => joined === termKey(term) && group !== null).map(({ group }) => group));
        expect(groups.size, term).toBe(1);
      }
    }
  }), { numRuns: 200, seed: 20260301 });
});

it('understands a plant’s word like the preferred one, and one that is added to a trade group', () => {
  const vocabulary = makeVocabulary([{ preferred: 'turret', others: ['merry-go-round'] }, { preferred: 'Cover hook', others: ['beak'] }]);
  const groups = (text: string) => termsInQuery(vocabulary, wordsOf(text)).map(({ group }) => group);
  expect(groups('merry go round')).toEqual(['turret']);
  expect(groups('merrygoround')).toEqual(['turret']);
  expect(groups('beak')).toEqual(['cover hook']);
  expect(groups('end hook')).toEqual(['cover hook']);
});
