import lunr from 'lunr';
import { pastFixFields } from '#contract/knowledge';
import { keyOf, type PastFix, type PastFixField } from './past-fix.js';
import { termsInText } from './trade-terms.js';
import { wordsOf } from './words.js';

/** A part of the memory with its own word index: small, so that one changed note rebuilds little. */
export type Segment = { index: lunr.Index; fixes: ReadonlyMap<string, PastFix> };

const BOOST: Record<PastFixField, number> = { title: 8, symptom: 4, cause: 3, about: 2, place: 1, howToCheck: 1, fix: 1, verified: 1 };

/** The word under which a group of synonyms stands in the index; it begins as no typed word can, nor the beginning of one. */
export const groupToken = (preferred: string): string => `§${preferred}`;

/**
 * Builds the index of some fixes with our own tokenizer: lunr's trimmer loses letters beyond ASCII at word ends. Each word
 * stands there by its stem, each term of the trade by its group as well, both with their place in the text.
 */
export function buildSegment(fixes: readonly PastFix[]): Segment {
  const builder = new lunr.Builder();
  builder.ref('key');
  builder.metadataWhitelist = ['position'];
  for (const field of pastFixFields) builder.field(field, { boost: BOOST[field] });
  Object.assign(builder, { tokenizer: tokensOf });
  for (const fix of fixes) builder.add({ key: keyOf(fix), ...fix.texts });
  return { index: builder.build(), fixes: new Map(fixes.map((fix) => [keyOf(fix), fix])) };
}

function tokensOf(text: unknown): lunr.Token[] {
  const words = wordsOf(typeof text === 'string' ? text : '');
  const tokens = words.map((word) => new lunr.Token(word.stem, { position: [word.start, word.length] }));
  for (const { from, to, group } of termsInText(words)) {
    const [first, last] = [words[from], words[to - 1]];
    if (first && last && group !== null) tokens.push(new lunr.Token(groupToken(group), { position: [first.start, last.start + last.length - first.start] }));
  }
  return tokens;
}
