import lunr from 'lunr';

/** One word of a text: where it stands, as written, folded (no case, no diacritics) and its English stem. */
export type Word = { raw: string; folded: string; stem: string; start: number; length: number };

// Letters, digits and combining marks of any script, with an apostrophe inside ("maker's" is one word); a hyphen splits.
const WORD = /[\p{L}\p{N}\p{M}]+(?:['’][\p{L}\p{N}\p{M}]+)*/gu;
const LONGEST = 60;

/** Unicode compatibility decomposition, lower case, marks and apostrophes gone: "Überlappung" and "uberlappung" are one word. */
export function foldWord(word: string): string {
  return word.normalize('NFKD').toLowerCase().replace(/\p{M}|['’]/gu, '').replaceAll('ß', 'ss').replace(/[^\p{L}\p{N}]/gu, '').slice(0, LONGEST);
}

export function stemOf(folded: string): string {
  return lunr.stemmer(new lunr.Token(folded, {})).toString();
}

/** The words of a text in order, at most `most`; positions count UTF-16 units of the text as given. */
export function wordsOf(text: string, most = 5000): Word[] {
  const words: Word[] = [];
  for (const match of text.matchAll(WORD)) {
    const folded = foldWord(match[0]);
    if (folded === '') continue;
    words.push({ raw: match[0], folded, stem: stemOf(folded), start: match.index, length: match[0].length });
    if (words.length >= most) break;
  }
  return words;
}

/** Words that carry no meaning in a query; an abbreviation in capitals is not one of them. */
export const isStopWord = (word: Word): boolean => lunr.stopWordFilter(new lunr.Token(word.folded, {})) === undefined && word.raw !== word.raw.toUpperCase();
