import { pastFixFields } from '#contract/knowledge';
import { editDistance } from './edit-distance.js';
import { germanToken, isGerman, isGermanStopWord, isStemmedGerman } from './german.js';
import { keyOf, NO_STANDING, type PastFix, type PastFixField, type Standing } from './past-fix.js';
import { termsInText, type Vocabulary } from './vocabulary.js';
import { type Word, wordsOf } from './words.js';

/** Where a term stands: places of documents, the weight of the term in each, and the fields as bits (in the order of pastFixFields). */
export type Postings = { documents: number[]; weights: number[]; fields: number[] };

const BOOST: Record<PastFixField, number> = { title: 8, symptom: 4, cause: 3, about: 2, place: 1.5, howToCheck: 1, fix: 1.5, verified: 0.7 };
// A usual length in words; a longer field says less with each of its words. Common practice, no source.
const USUAL: Record<PastFixField, number> = { title: 9, symptom: 30, cause: 25, about: 8, place: 8, howToCheck: 25, fix: 20, verified: 15 };
const [SATURATION, LENGTH_SHARE] = [1.2, 0.6];

/** The term under which a group of synonyms stands in the index; it begins as no typed word can. */
export const groupToken = (preferred: string): string => `§${preferred}`;

/**
 * Words and trade terms of notes and incidents, with weights after BM25 over several fields (Robertson, Zaragoza and
 * Taylor 2004: saturation of the summed field frequencies). A base that is written once and grows at its end: a
 * changed text is a new document and the old one dead, until the owner builds a fresh index.
 */
export class PastFixIndex {
  private readonly postings = new Map<string, Postings>();
  private readonly stems = new Map<string, string>();
  private readonly places = new Map<string, number>();
  private readonly german = new WeakSet<PastFix>();
  private sorted: string[] | undefined;
  readonly documents: (PastFix | undefined)[] = [];
  standings: ReadonlyMap<string, Standing> = new Map();

  constructor(readonly vocabulary: Vocabulary) {}

  get size(): number { return this.places.size; }
  get dead(): number { return this.documents.length - this.places.size; }
  get fixes(): PastFix[] { return [...this.places.values()].flatMap((place) => this.documents[place] ?? []); }
  standingOf(fix: PastFix): Standing { return this.standings.get(keyOf(fix)) ?? NO_STANDING; }

  isGerman(fix: PastFix): boolean { return this.german.has(fix); }

  add(fix: PastFix): void {
    this.remove(keyOf(fix));
    const place = this.documents.push(fix) - 1;
    this.places.set(keyOf(fix), place);
    for (const [term, { frequency, fields }] of this.termsOf(fix)) {
      const entry = this.postings.get(term) ?? { documents: [], weights: [], fields: [] };
      entry.documents.push(place);
      entry.weights.push(frequency / (frequency + SATURATION));
      entry.fields.push(fields);
      this.postings.set(term, entry);
    }
  }

  remove(key: string): void {
    const place = this.places.get(key);
    if (place === undefined) return;
    this.documents[place] = undefined;
    this.places.delete(key);
  }

  find(term: string): Postings | undefined {
    return this.postings.get(term);
  }

  /** Rare terms weigh more; at least a little for a term that stands everywhere. */
  rarityOf({ documents }: Postings): number {
    return Math.log(1 + (this.documents.length - documents.length + 0.5) / (documents.length + 0.5)) + 0.05;
  }

  /** Stems of the words that begin so, at most `most`. */
  beginning(letters: string, most = 300): Set<string> {
    const words = this.words();
    let [low, high] = [0, words.length];
    while (low < high) {
      const middle = (low + high) >> 1;
      if ((words[middle] as string) < letters) low = middle + 1; else high = middle;
    }
    const found = new Set<string>();
    for (let at = low; at < words.length && found.size < most && (words[at] as string).startsWith(letters); at += 1) found.add(this.stems.get(words[at] as string) as string);
    return found;
  }

  /** Stems of the words that are nearest in spelling, none farther than `most` letters; the first letter is nearly always right. */
  near(word: string, most: number): Set<string> {
    let best = most;
    let found = new Set<string>();
    for (const [known, stem] of this.stems) {
      if (Math.abs(known.length - word.length) > best) continue;
      const sameStart = known[0] === word[0];
      if (!sameStart && known[1] !== word[1] && known[0] !== word[1]) continue;
      const distance = editDistance(word, known, sameStart ? best : Math.min(best, 1));
      if (distance > best || (!sameStart && distance > 1)) continue;
      if (distance < best) { best = distance; found = new Set(); }
      found.add(stem);
    }
    return found;
  }

  private words(): string[] {
    this.sorted ??= [...this.stems.keys()].sort((a, b) => (a < b ? -1 : 1));
    return this.sorted;
  }

  private termsOf(fix: PastFix): Map<string, { frequency: number; fields: number }> {
    const terms = new Map<string, { frequency: number; fields: number }>();
    const texts = pastFixFields.map((field) => wordsOf(fix.texts[field]));
    const inGerman = isGerman(texts.flat());
    if (inGerman) this.german.add(fix);
    for (const [bit, field] of pastFixFields.entries()) {
      const words = texts[bit] ?? [];
      const share = BOOST[field] / (1 - LENGTH_SHARE + LENGTH_SHARE * words.length / USUAL[field]) / 4;
      const count = (term: string) => {
        const entry = terms.get(term) ?? { frequency: 0, fields: 0 };
        terms.set(term, { frequency: entry.frequency + share, fields: entry.fields | (1 << bit) });
      };
      for (const word of words) {
        // "die" is a tool in an English text only.
        if (inGerman && isGermanStopWord(word)) continue;
        const { stem, folded } = word;
        count(stem);
        if (isStemmedGerman(word, inGerman)) count(germanToken(folded));
        if (!this.stems.has(folded)) { this.stems.set(folded, stem); this.sorted = undefined; }
      }
      for (const { token } of groupsIn(this.vocabulary, words)) count(token);
    }
    return terms;
  }
}

/** The groups that a text names, as terms of the index with their place in the text. */
export function groupsIn(vocabulary: Vocabulary, words: readonly Word[]): { token: string; start: number; length: number }[] {
  return termsInText(vocabulary, words).flatMap(({ from, to, group }) => {
    const [first, last] = [words[from], words[to - 1]];
    return first && last && group !== null ? [{ token: groupToken(group), start: first.start, length: last.start + last.length - first.start }] : [];
  });
}

/** An index of some fixes, all at once. */
export function indexOf(fixes: readonly PastFix[], vocabulary: Vocabulary): PastFixIndex {
  const index = new PastFixIndex(vocabulary);
  for (const fix of fixes) index.add(fix);
  return index;
}
