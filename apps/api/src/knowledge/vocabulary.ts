import { type AmbiguousTerm, ambiguousTerms, type SynonymGroup, synonymGroups } from '#canmaking/defects/synonyms';
import { editDistance } from './edit-distance.js';
import { foldUmlauts, isStopWord, type Word, wordsOf } from './words.js';

/** A term of the trade found in a text: words `from` to `to` (exclusive) name the group or the ambiguous word. */
export type FoundTerm = { from: number; to: number; group: string | null; ambiguous: AmbiguousTerm | null; similar: boolean };
type Phrase = { stems: string[]; joined: string; spelt: string; group: string | null; ambiguous: AmbiguousTerm | null; capitals: boolean };

/** Every term that a search knows: those of the trade and those that the plant added. Made once, not changed. */
export type Vocabulary = { phrases: readonly Phrase[]; byJoined: ReadonlyMap<string, readonly Phrase[]>; beginnings: ReadonlySet<string>; longest: number };

const isCapitals = (term: string) => term === term.toUpperCase() && term !== term.toLowerCase() && term.length <= 5;
const meanings = [...new Set(ambiguousTerms.flatMap((entry) => entry.meanings.map(({ preferred }) => preferred)))];
const ambiguousNames = new Set(ambiguousTerms.map(({ term }) => term));

function phrase(term: string, group: string | null, ambiguous: AmbiguousTerm | null): Phrase {
  const words = wordsOf(term);
  return { stems: words.map(({ stem }) => stem), joined: words.map(({ stem }) => stem).join(''), spelt: words.map(({ folded }) => folded).join(''), group, ambiguous, capitals: isCapitals(term) };
}

/** The trade's groups and `more` of the plant: one with the preferred word of a trade group adds its words to that. */
export function makeVocabulary(more: readonly SynonymGroup[] = []): Vocabulary {
  const groups = synonymGroups.map(({ preferred, others }) => ({ preferred, others: [...others] }));
  for (const { preferred, others } of more) {
    const known = groups.find((entry) => sameTerm(entry.preferred, preferred));
    if (known) known.others.push(...others);
    else groups.push({ preferred, others: [...others] });
  }
  // A word with two meanings names no group by itself: it is asked about, never merged.
  const phrases = [
    ...groups.flatMap(({ preferred, others }) => [preferred, ...others].filter((term) => !ambiguousNames.has(term)).map((term) => phrase(term, preferred, null))),
    ...ambiguousTerms.map((entry) => phrase(entry.term, null, entry)),
    // The answer to the question is understood too, also where no group of synonyms bears that name.
    ...meanings.filter((term) => !groups.some(({ preferred }) => preferred === term)).map((term) => phrase(term, term, null)),
  ].filter(({ stems }) => stems.length > 0);
  const byJoined = new Map<string, Phrase[]>();
  for (const entry of phrases) for (const key of new Set([entry.joined, entry.spelt])) byJoined.set(key, [...(byJoined.get(key) ?? []), entry]);
  const beginnings = new Set([...byJoined.keys()].flatMap((key) => Array.from(key, (_letter, place) => key.slice(0, place + 1))));
  return { phrases, byJoined, beginnings, longest: Math.max(...phrases.map(({ stems }) => stems.length)) + 1 };
}

/** Two ways to write one term: case, accents, hyphens, spaces and English endings do not count. */
export const sameTerm = (one: string, other: string): boolean => termKey(one) === termKey(other);
export const termKey = (term: string): string => wordsOf(term).map(({ stem }) => stem).join('');
export const tradeVocabulary = makeVocabulary();

/** Every group that a text names, nested ones too: "weld overlap" names the weld overlap and the weld. For the index. */
export function termsInText(vocabulary: Vocabulary, words: readonly Word[]): FoundTerm[] {
  const found: FoundTerm[] = [];
  for (let from = 0; from < words.length; from += 1) {
    for (const { entry, to } of exactAt(vocabulary, words, from)) {
      // An abbreviation such as S, W or CE counts only where it is written in capitals.
      if (entry.group !== null && (!entry.capitals || isCapitals((words[from] as Word).raw))) {
        const term = { from, to, group: entry.group, ambiguous: null, similar: false };
        if (!found.some((other) => isSame(other, term))) found.push(term);
      }
    }
  }
  return found;
}

/** The terms of a query, the longest first and none inside another; words that no term takes are tried with misspellings. */
export function termsInQuery(vocabulary: Vocabulary, words: readonly Word[]): FoundTerm[] {
  const exact: FoundTerm[] = [];
  for (let from = 0; from < words.length; from += 1) {
    for (const { entry, to } of exactAt(vocabulary, words, from)) {
      const word = words[from] as Word;
      if (entry.capitals && !isCapitals(word.raw) && (word.folded.length < 2 || isStopWord(word))) continue;
      exact.push({ from, to, group: entry.group, ambiguous: entry.ambiguous, similar: false });
    }
  }
  const chosen: FoundTerm[] = [];
  const taken = new Set<number>();
  const take = (terms: FoundTerm[]) => {
    for (const term of [...terms].sort((a, b) => (b.to - b.from) - (a.to - a.from) || a.from - b.from)) {
      const places = Array.from({ length: term.to - term.from }, (_none, offset) => term.from + offset);
      // Two groups may share one span; a span that overlaps another one is left out.
      if (places.some((place) => taken.has(place)) && !chosen.some((other) => other.from === term.from && other.to === term.to)) continue;
      for (const place of places) taken.add(place);
      if (!chosen.some((other) => isSame(other, term))) chosen.push(term);
    }
  };
  take(exact.filter((term) => term.to - term.from > 1));
  const multi = new Set(taken);
  // A misspelt phrase of several words goes before the single words in it: "cros-over leak" is the juncture, then a leak.
  take(similarTerms(vocabulary, words, multi, 2));
  take(exact.filter((term) => term.to - term.from === 1));
  take(similarTerms(vocabulary, words, taken, 1));
  return chosen.sort((a, b) => a.from - b.from);
}

const isSame = (one: FoundTerm, other: FoundTerm): boolean => one.from === other.from && one.to === other.to && one.group === other.group && one.ambiguous === other.ambiguous;

/** Phrases that begin at a word, also where they are written together or apart: "cross-over", "cross over", "crossover". */
function exactAt(vocabulary: Vocabulary, words: readonly Word[], from: number): { entry: Phrase; to: number }[] {
  const found: { entry: Phrase; to: number }[] = [];
  let [joined, spelt] = ['', ''];
  for (let to = from + 1; to <= Math.min(words.length, from + vocabulary.longest); to += 1) {
    joined += (words[to - 1] as Word).stem;
    spelt += (words[to - 1] as Word).folded;
    const umlauts = foldUmlauts(spelt);
    if (!vocabulary.beginnings.has(joined) && !vocabulary.beginnings.has(spelt) && !vocabulary.beginnings.has(umlauts)) break;
    const [byStem, bySpelling, byUmlauts] = [vocabulary.byJoined.get(joined), joined === spelt ? undefined : vocabulary.byJoined.get(spelt), vocabulary.byJoined.get(umlauts)];
    if (!byStem && !bySpelling && !byUmlauts) continue;
    for (const entry of new Set([...(byStem ?? []), ...(bySpelling ?? []), ...(byUmlauts ?? [])])) found.push({ entry, to });
  }
  return found;
}

function similarTerms(vocabulary: Vocabulary, words: readonly Word[], taken: ReadonlySet<number>, fewest: 1 | 2): FoundTerm[] {
  const found: FoundTerm[] = [];
  for (let from = 0; from < words.length; from += 1) {
    // Spelling is compared before stemming: a misspelt word has another stem ("cros" loses its s).
    let spelt = '';
    for (let to = from + 1; to <= Math.min(words.length, from + vocabulary.longest) && !taken.has(to - 1); to += 1) {
      spelt += (words[to - 1] as Word).folded;
      if (to - from < fewest || spelt.length < 6) continue;
      const most = spelt.length >= 9 ? 2 : 1;
      let best = most + 1;
      let nearest: Phrase[] = [];
      for (const entry of vocabulary.phrases) {
        // Short words have too many neighbours; the first letter of a misspelt word is nearly always right.
        if (entry.spelt.length < 6 || entry.spelt[0] !== spelt[0] || (fewest === 2 && entry.stems.length < 2)) continue;
        const distance = editDistance(spelt, entry.spelt, most);
        if (distance < best) [best, nearest] = [distance, [entry]];
        else if (distance === best && best <= most) nearest.push(entry);
      }
      for (const entry of nearest) found.push({ from, to, group: entry.group, ambiguous: entry.ambiguous, similar: true });
    }
  }
  return found;
}
