import lunr from 'lunr';
import type { AmbiguousTerm } from '#canmaking/defects/synonyms';
import { editDistance } from './edit-distance.js';
import { groupToken } from './past-fix-index.js';
import { termsInQuery } from './trade-terms.js';
import { isStopWord, type Word, wordsOf } from './words.js';

export type How = 'word' | 'beginning' | 'synonym' | 'similar';
export type QueryPlan = {
  words: readonly Word[];
  groups: readonly { preferred: string; from: number; to: number; typed: string; similar: boolean }[];
  ambiguous: readonly AmbiguousTerm[];
  /** Words that count when hits are compared by how much of the question they answer. */
  asked: readonly number[];
};

const MOST_WORDS = 24;
const allowed = (length: number) => (length >= 7 ? 2 : length >= 4 ? 1 : 0);

/** What a typed text asks for. Any text is safe: nothing of it reaches a query parser. */
export function planQuery(text: string): QueryPlan {
  const words = wordsOf(text.slice(0, 400), MOST_WORDS);
  const terms = termsInQuery(words);
  const meaning = words.flatMap((word, place) => (isStopWord(word) ? [] : [place]));
  return {
    words,
    groups: terms.flatMap(({ from, to, group, similar }) => (group === null ? [] : [{ preferred: group, from, to, similar, typed: text.slice((words[from] as Word).start, (words[to - 1] as Word).start + (words[to - 1] as Word).length) }])),
    ambiguous: [...new Set(terms.flatMap(({ ambiguous, similar }) => (ambiguous && !similar ? [ambiguous] : [])))],
    asked: meaning.length > 0 ? meaning : words.map((_word, place) => place),
  };
}

/** Exact words first, then synonyms, beginnings of the last word, and misspellings of the words in `unknown`, by their place. */
export function addClauses(query: lunr.Query, plan: QueryPlan, options: { typing: boolean; unknown: ReadonlySet<number> }): void {
  for (const place of plan.asked) {
    const { stem, folded } = plan.words[place] as Word;
    query.term(stem, { boost: 10, usePipeline: false });
    const isLast = place === plan.words.length - 1;
    if (isLast && options.typing) {
      for (const beginning of new Set([stem, folded])) query.term(beginning, { boost: 4, usePipeline: false, wildcard: lunr.Query.wildcard.TRAILING });
    }
    const distance = allowed(folded.length);
    if (options.unknown.has(place) && distance > 0) query.term(stem, { boost: 1, usePipeline: false, editDistance: distance });
  }
  for (const { preferred, similar } of plan.groups) query.term(groupToken(preferred), { boost: similar ? 4 : 6, usePipeline: false });
}

/** Which typed words an index term answers, and how: the strongest reason only. The first letter of a misspelt word is nearly always right. */
export function explainTerm(plan: QueryPlan, term: string, unknown: ReadonlySet<number>): { place: number; typed: string; how: How }[] {
  const group = plan.groups.find(({ preferred }) => groupToken(preferred) === term);
  if (group) return Array.from({ length: group.to - group.from }, (_none, offset) => ({ place: group.from + offset, typed: group.typed, how: 'synonym' }));
  const reasons: { place: number; typed: string; how: How; rank: number }[] = [];
  for (const place of plan.asked) {
    const { stem, folded, raw } = plan.words[place] as Word;
    const distance = allowed(folded.length);
    const isLast = place === plan.words.length - 1;
    if (term === stem) reasons.push({ place, typed: raw, how: 'word', rank: 0 });
    else if (isLast && (term.startsWith(stem) || term.startsWith(folded))) reasons.push({ place, typed: raw, how: 'beginning', rank: 1 });
    else if (unknown.has(place) && distance > 0 && term[0] === stem[0] && editDistance(stem, term, distance) <= distance) reasons.push({ place, typed: raw, how: 'similar', rank: 2 });
  }
  const best = Math.min(...reasons.map(({ rank }) => rank));
  return reasons.filter(({ rank }) => rank === best).map(({ place, typed, how }) => ({ place, typed, how }));
}
