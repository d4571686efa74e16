import { type PastFixHit, pastFixFields } from '#contract/knowledge';
import { germanToken, isGermanStopWord, isStemmedGerman } from './german.js';
import type { PastFix, PastFixField } from './past-fix.js';
import { groupsIn, type PastFixIndex } from './past-fix-index.js';
import { type Clause, type QueryPlan, WORTH } from './past-fix-query.js';
import type { Span } from './snippet.js';
import { wordsOf } from './words.js';

export type Explained = { matched: PastFixHit['matched']; spans: Partial<Record<PastFixField, Span[]>> };
type Entry = Pick<Clause, 'how'> & { word: string; found: string; places: Set<number>; fields: Set<PastFixField>; spans: [PastFixField, Span][] };

/** Why a hit was found, and where it stands in its texts: read again from the texts, so that the index need not keep places. */
export function explainHit(fix: PastFix, plan: QueryPlan, clauses: readonly Clause[], index: PastFixIndex): Explained {
  const byTerm = new Map<string, Clause[]>();
  for (const clause of clauses) byTerm.set(clause.term, [...(byTerm.get(clause.term) ?? []), clause]);
  const matched = new Map<string, Entry>();
  const inGerman = index.isGerman(fix);
  for (const field of pastFixFields) {
    const text = fix.texts[field];
    const words = wordsOf(text);
    const said = inGerman ? words.filter((word) => !isGermanStopWord(word)) : words;
    const german = said.filter((word) => isStemmedGerman(word, inGerman)).map(({ folded, start, length }) => ({ token: germanToken(folded), start, length }));
    const terms = [...said.map(({ stem, start, length }) => ({ token: stem, start, length })), ...german, ...groupsIn(index.vocabulary, words)];
    for (const { token, start, length } of terms) {
      for (const { places, typed, how } of byTerm.get(token) ?? []) {
        const found = text.slice(start, start + length);
        const key = `${typed}/${how}/${found.toLowerCase()}`;
        const entry = matched.get(key) ?? { word: typed, how, found, places: new Set(), fields: new Set(), spans: [] };
        for (const place of places) entry.places.add(place);
        entry.fields.add(field);
        entry.spans.push([field, [start, length]]);
        matched.set(key, entry);
      }
    }
  }
  const entries = [...matched.values()];
  const phrases = plan.groups.filter(({ from, to, typed }) => to - from > 1 && entries.some(({ how, word }) => how === 'synonym' && word === typed));
  const inPhrase = (place: number) => phrases.some(({ from, to }) => place >= from && place < to);
  const shown = entries.filter((entry) => !entries.some((other) => isBetter(other, entry)) && (entry.how === 'synonym' || ![...entry.places].every(inPhrase)));
  const spans: Explained['spans'] = {};
  for (const [field, span] of shown.flatMap((entry) => entry.spans)) spans[field] = [...(spans[field] ?? []), span];
  return { spans, matched: shown.map(({ word, how, found, fields }) => ({ word, how, found, fields: [...fields] })) };
}

/** A stronger reason for the same find, or any stronger one where the other is only a similar spelling of the same word. */
function isBetter(one: Entry, other: Entry): boolean {
  const sameFind = one.found.toLowerCase() === other.found.toLowerCase();
  return WORTH[one.how] > WORTH[other.how] && (sameFind || (other.how === 'similar' && one.word === other.word));
}
