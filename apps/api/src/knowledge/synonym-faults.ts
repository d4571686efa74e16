import { ambiguousTerms, type SynonymGroup, synonymGroups } from '#canmaking/defects/synonyms';
import type { FieldError } from '#contract/problem';
import { termKey } from './vocabulary.js';

/**
 * What is wrong with a group that a plant wants to have beside the trade's groups and its `own` other ones. A word that
 * stood in two groups would merge what is not the same; a word with two meanings is asked about instead.
 */
export function synonymFaults({ preferred, others }: SynonymGroup, own: readonly SynonymGroup[]): FieldError[] {
  const errors: FieldError[] = [];
  const seen = new Map([[termKey(preferred), preferred]]);
  const preferredFault = faultOf(preferred, own, true, null);
  if (preferredFault) errors.push({ field: 'preferred', expected: preferredFault });
  for (const [place, word] of others.entries()) {
    const same = seen.get(termKey(word));
    const fault = same === undefined ? faultOf(word, own, false, preferred) : `words that differ: “${word}” is the same as “${same}” in a search`;
    if (fault) errors.push({ field: `others.${place}`, expected: fault });
    seen.set(termKey(word), word);
  }
  return errors;
}

function faultOf(word: string, own: readonly SynonymGroup[], isPreferred: boolean, beside: string | null): string | null {
  const key = termKey(word);
  if (key === '') return 'a word with letters or digits';
  const ambiguous = ambiguousTerms.find(({ term }) => termKey(term) === key);
  if (ambiguous) return `a word with one meaning: “${word}” may be ${ambiguous.meanings.map(({ preferred }) => preferred).join(' or ')}, and the search asks which`;
  for (const { groups, mayExtend } of [{ groups: synonymGroups, mayExtend: true }, { groups: own, mayExtend: false }]) {
    for (const group of groups) {
      const isTitle = termKey(group.preferred) === key;
      if (!isTitle && !group.others.some((other) => termKey(other) === key)) continue;
      if (isPreferred && isTitle && mayExtend) continue;
      if (beside !== null && termKey(group.preferred) === termKey(beside)) return `a word that is not there yet: “${word}” is in the group of “${group.preferred}” already`;
      return isPreferred && isTitle ? `a group of its own: there is one for “${group.preferred}”, change that one` : `a word that no other group has: “${word}” belongs to “${group.preferred}”`;
    }
  }
  return null;
}
