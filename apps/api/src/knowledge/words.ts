import lunr from 'lunr';

/** One word of a text: where it stands, as written, folded (no case, no diacritics) and its English stem. */
export type Word = { raw: string; folded: string; stem: string; start: number; length: number };

// Letters, digits and combining marks of any script, with an apostrophe inside ("maker's" is one word); a hyphen splits.
const WORD = /[\p{L}\p{N}\p{M}]+(?:['’][\p{L}\p{N}\p{M}]+)*/gu;
// Scripts that put no space between words.
const UNSPACED = /[\p{Script=Han}\p{Script=Hiragana}\p{Script=Katakana}]+/gu;
const PLAIN = /^[A-Za-z0-9]+$/;
const LONGEST = 60;
const MOST_STEMS = 50_000;
const stems = new Map<string, string>();

/** Unicode compatibility decomposition, lower case, marks and apostrophes gone: "Überlappung" and "uberlappung" are one word. */
export function foldWord(word: string): string {
  if (PLAIN.test(word)) return word.toLowerCase().slice(0, LONGEST);
  return word.normalize('NFKD').toLowerCase().replace(/\p{M}|['’]/gu, '').replaceAll('ß', 'ss').replace(/[^\p{L}\p{N}]/gu, '').slice(0, LONGEST);
}

/** The other way to write a German umlaut: "ueberlappung" is "uberlappung". For a typed word that stands nowhere as it is. */
export const foldUmlauts = (folded: string): string => (folded.includes('ae') || folded.includes('oe') || folded.includes('ue') ? folded.replace(/([aou])e/g, '$1') : folded);

/** English stem (Porter 1980, as lunr has it); kept, because a text repeats its words. */
export function stemOf(folded: string): string {
  const known = stems.get(folded);
  if (known !== undefined) return known;
  const stem = lunr.stemmer(new lunr.Token(folded, {})).toString();
  if (stems.size >= MOST_STEMS) stems.clear();
  stems.set(folded, stem);
  return stem;
}

/** The words of a text in order, at most `most`; positions count UTF-16 units of the text as given. */
export function wordsOf(text: string, most = 5000): Word[] {
  const words: Word[] = [];
  for (const match of text.matchAll(WORD)) {
    for (const { raw, start } of pieces(match[0], match.index)) {
      const folded = foldWord(raw);
      if (folded === '') continue;
      words.push({ raw, folded, stem: stemOf(folded), start, length: raw.length });
      if (words.length >= most) return words;
    }
  }
  return words;
}

/** A run of an unspaced script in overlapping pairs of letters, so that each term in it is found; other text whole. */
function pieces(run: string, at: number): { raw: string; start: number }[] {
  if (PLAIN.test(run)) return [{ raw: run, start: at }];
  const found: { raw: string; start: number }[] = [];
  let done = 0;
  for (const match of run.matchAll(UNSPACED)) {
    if (match.index > done) found.push({ raw: run.slice(done, match.index), start: at + done });
    const letters = [...match[0]];
    let start = at + match.index;
    for (const [place, letter] of letters.entries()) {
      const next = letters[place + 1];
      if (next !== undefined || letters.length === 1) found.push({ raw: letter + (next ?? ''), start });
      start += letter.length;
    }
    done = match.index + match[0].length;
  }
  if (done < run.length) found.push({ raw: run.slice(done), start: at + done });
  return found;
}

/** Words that carry no meaning in a query; an abbreviation in capitals is not one of them. */
export const isStopWord = (word: Word): boolean => lunr.stopWordFilter(new lunr.Token(word.folded, {})) === undefined && word.raw !== word.raw.toUpperCase();
