import type { AmbiguousTerm } from '#canmaking/defects/synonyms';
import { germanToken, isGerman, isGermanStopWord } from './german.js';
import { groupToken, type PastFixIndex } from './past-fix-index.js';
import { sameTerm, termsInQuery, type Vocabulary } from './vocabulary.js';
import { foldUmlauts, isStopWord, stemOf, type Word, wordsOf } from './words.js';

export type How = 'word' | 'beginning' | 'synonym' | 'similar';
/** How much of a typed word each way of answering it is worth. */
export const WORTH: Readonly<Record<How, number>> = { word: 1, synonym: 0.9, beginning: 0.8, similar: 0.5 };

export type QueryPlan = {
  words: readonly Word[];
  groups: readonly { preferred: string; from: number; to: number; typed: string; similar: boolean }[];
  /** Words with two meanings that nobody has chosen between. */
  ambiguous: readonly AmbiguousTerm[];
  /** Words with two meanings and the one that was chosen. */
  taken: readonly { term: string; preferred: string }[];
  /** Places of words whose meaning was chosen: by themselves they say little. */
  chosen: ReadonlySet<number>;
  /** Words that count when hits are compared by how much of the question they answer. */
  asked: readonly number[];
};

const MOST_WORDS = 24;
/** One letter of these scripts says as much as a word. */
const UNSPACED = /[\p{Script=Han}\p{Script=Hiragana}\p{Script=Katakana}]/u;
const allowed = (length: number) => (length >= 7 ? 2 : length >= 4 ? 1 : 0);

/** What a typed text asks for. Any text is safe: nothing of it reaches a query parser. `meanings`: answers to words with two meanings. */
export function planQuery(text: string, vocabulary: Vocabulary, meanings: readonly string[] = []): QueryPlan {
  const words = wordsOf(text.slice(0, 400), MOST_WORDS);
  const chosen = new Set<number>();
  const taken = new Map<string, string>();
  const terms = termsInQuery(vocabulary, words).map((term) => {
    const meaning = term.ambiguous?.meanings.find(({ preferred }) => meanings.some((wanted) => sameTerm(wanted, preferred)));
    if (!meaning) return term;
    for (let place = term.from; place < term.to; place += 1) chosen.add(place);
    taken.set(term.ambiguous?.term ?? '', meaning.preferred);
    return { ...term, group: meaning.preferred, ambiguous: null };
  });
  const inGerman = isGerman(words);
  const meaningful = words.flatMap((word, place) => (inGerman ? isGermanStopWord(word) : isStopWord(word)) ? [] : [place]);
  const textOf = (from: number, to: number) => text.slice((words[from] as Word).start, (words[to - 1] as Word).start + (words[to - 1] as Word).length);
  return {
    words, chosen, taken: [...taken].map(([term, preferred]) => ({ term, preferred })),
    groups: terms.flatMap(({ from, to, group, similar }) => (group === null ? [] : [{ preferred: group, from, to, similar, typed: textOf(from, to) }])),
    ambiguous: [...new Set(terms.flatMap(({ ambiguous, similar }) => (ambiguous && !similar ? [ambiguous] : [])))],
    asked: meaningful.length > 0 ? meaningful : words.map((_word, place) => place),
  };
}

/** One term of the index that answers typed words, how, and how strongly it counts. */
export type Clause = { term: string; places: readonly number[]; typed: string; how: How; boost: number };

/** Exact words first, then synonyms, beginnings of the last word, and near spellings of words that stand nowhere. */
export function clausesOf(index: PastFixIndex, plan: QueryPlan, typing: boolean): Clause[] {
  const clauses: Clause[] = [];
  for (const place of plan.asked) {
    const { stem, folded, raw } = plan.words[place] as Word;
    const add = (term: string, how: How, boost: number) => {
      if (!clauses.some((other) => other.term === term && other.places[0] === place && other.places.length === 1)) clauses.push({ term, places: [place], typed: raw, how, boost });
    };
    if (plan.chosen.has(place)) { add(stem, 'similar', 2); continue; }
    const written = foldUmlauts(folded);
    const umlauts = stemOf(written);
    const german = [germanToken(folded), germanToken(written)].find((token) => index.find(token));
    const known = index.find(stem) !== undefined || german !== undefined;
    if (index.find(stem)) add(stem, 'word', 10);
    else if (umlauts !== stem && index.find(umlauts)) add(umlauts, 'word', 10);
    // Other endings of the same German word. Where it stands as typed, too, that note goes before.
    if (german !== undefined) add(german, 'word', 8);
    if (!typing) continue;
    const begins = place === plan.words.length - 1 && (folded.length > 1 || UNSPACED.test(folded)) ? index.beginning(folded) : new Set<string>();
    for (const term of begins) add(term, 'beginning', 4);
    // A word that stands somewhere as it was typed is not misspelt.
    if (!known && allowed(folded.length) > 0) for (const term of index.near(folded, allowed(folded.length))) add(term, 'similar', 3);
  }
  for (const { preferred, from, to, typed, similar } of plan.groups) {
    clauses.push({ term: groupToken(preferred), places: Array.from({ length: to - from }, (_none, offset) => from + offset), typed, how: 'synonym', boost: similar ? 5 : 8 });
  }
  return clauses;
}
