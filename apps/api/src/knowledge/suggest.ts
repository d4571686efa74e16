import { planQuery } from './past-fix-query.js';
import type { Segment } from './past-fix-index.js';
import { rankPastFixes } from './search-past-fixes.js';

/** What is known of a signal or an incident when notes that may fit are looked for. */
export type Situation = {
  words: string;
  /** The step of a signal, or the steps that can seed the defect of an incident. */
  stepKinds: readonly string[];
  machine: string | null; defect: string | null;
  /** Where it leaks, when that narrows the search. */
  place: string | null;
};
export type Suggestion = { noteId: number; score: number; reason: string };

const MOST = 5;
// Common practice, no source: the words say what happened, the place where; either alone is weak. Tuned by nothing but the specs.
const PLACE_WEIGHT = { machine: 0.5, stepKind: 0.25, defect: 0.6, place: 0.25 };
const ENOUGH = 0.6;

/**
 * Up to five notes that fit, best first. The text score is the root of the share of the best text match's score (0 to 1); the same machine, step
 * or defect adds to it. A note that shares neither place nor defect must be among the best by its words.
 */
export function suggestNotesFor(segments: readonly Segment[], situation: Situation): Suggestion[] {
  const ranked = rankPastFixes(segments, planQuery(situation.words), { typed: false }).filter(({ fix }) => fix.kind === 'note');
  const best = ranked[0]?.score ?? 1;
  const byText = new Map(ranked.map((hit) => [hit.fix.id, hit]));
  const atPlace = new Set(situation.place === null ? [] : rankPastFixes(segments, planQuery(situation.place), { typed: false })
    .filter(({ fix, matched }) => fix.kind === 'note' && matched.some(({ fields }) => fields.some((field) => field === 'title' || field === 'place' || field === 'symptom'))).map(({ fix }) => fix.id));
  const notes = segments.flatMap(({ fixes }) => [...fixes.values()]).filter(({ kind }) => kind === 'note');
  return notes.flatMap((fix): Suggestion[] => {
    const hit = byText.get(fix.id);
    const reasons: string[] = [];
    let score = Math.sqrt((hit?.score ?? 0) / best);
    if (situation.defect !== null && fix.defect === situation.defect) { score += PLACE_WEIGHT.defect; reasons.push(`same defect (${fix.defectName})`); }
    if (situation.machine !== null && fix.machine === situation.machine) { score += PLACE_WEIGHT.machine; reasons.push(`same machine (${fix.machine})`); }
    else if (fix.stepKind !== null && situation.stepKinds.includes(fix.stepKind)) { score += PLACE_WEIGHT.stepKind; reasons.push(`same step (${fix.stepKind})`); }
    if (atPlace.has(fix.id)) { score += PLACE_WEIGHT.place; reasons.push(`same place (${situation.place})`); }
    const words = [...new Set((hit?.matched ?? []).map(({ found }) => found.toLowerCase()))].filter((word) => word.length > 2).slice(0, 5);
    if (words.length > 0) reasons.push(`mentions ${words.join(', ')}`);
    return hit && score >= ENOUGH ? [{ noteId: fix.id, score: Math.round(score * 1000) / 1000, reason: reasons.join('; ') }] : [];
  }).sort((a, b) => b.score - a.score || a.noteId - b.noteId).slice(0, MOST);
}
