import { type NoteReason, pastFixFields } from '#contract/knowledge';
import { explainHit } from './explain-hit.js';
import type { PastFix } from './past-fix.js';
import type { PastFixIndex } from './past-fix-index.js';
import { planQuery } from './past-fix-query.js';
import { rankPastFixes } from './rank-past-fixes.js';
import { sameTerm } from './vocabulary.js';

/** What is known of a signal or an incident when notes that may fit are looked for. */
export type Situation = {
  words: string;
  /** The step of a signal, or the steps that can seed the defect of an incident. */
  stepKinds: readonly string[];
  machine: string | null; defect: string | null;
  /** Where it leaks, when that narrows the search. */
  place: string | null;
  /** Of a stream that is kept apart by heads, spindles or lanes: whether its neighbours signal too. */
  units?: 'one' | 'all' | null;
};
/** How often people confirmed or rejected a note for what is like this situation, by note. */
export type Feedback = ReadonlyMap<number, { confirmed: number; rejected: number }>;
export type Suggestion = { noteId: number; score: number; reasons: NoteReason[] };

const MOST = 5;
// Common practice, no source: the words say what happened, the place where; either alone is weak. Tuned by nothing but the specs.
const WEIGHT = { machine: 0.5, stepKind: 0.25, defect: 0.6, place: 0.25, units: 0.2, confirmed: 0.15, rejected: 0.2 };
const ENOUGH = 0.6;
const COUNTED = 3;
const NARROW_FIELDS = (['title', 'symptom', 'place'] as const).reduce((bits, field) => bits | (1 << pastFixFields.indexOf(field)), 0);
const UNIT_WORDS = { one: /\b(?:one|single) (?:head|station|spindle|lane|pocket)\b/i, all: /\ball (?:heads|stations|spindles|lanes)\b/i };

/**
 * Up to five notes that fit, best first. The text score is the root of the share of the best text match's score (0 to 1); the same machine, step
 * or defect adds to it, and what people said of the note in like situations moves it. A note that shares neither place nor
 * defect must be among the best by its words.
 */
export function suggestNotesFor(index: PastFixIndex, situation: Situation, feedback: Feedback = new Map()): Suggestion[] {
  return resembling(index, situation, 'note', feedback).map(({ fix, score, reasons }) => ({ noteId: fix.id, score, reasons }));
}

/** Up to five incidents that resemble the situation, weighed in the same way; nobody confirms or rejects them. */
export function similarIncidentsTo(index: PastFixIndex, situation: Situation, except: number | null): Resembling[] {
  return resembling(index, situation, 'incident', new Map(), except);
}

type Resembling = { fix: PastFix; score: number; reasons: NoteReason[] };
function resembling(index: PastFixIndex, situation: Situation, kind: PastFix['kind'], feedback: Feedback, except: number | null = null): Resembling[] {
  const plan = planQuery(situation.words, index.vocabulary);
  const { hits, clauses } = rankPastFixes(index, plan, { typed: false });
  const notes = hits.filter(({ fix }) => fix.kind === kind && fix.id !== except);
  const best = notes.reduce((most, { score }) => Math.max(most, score), 0);
  const atPlace = new Set(situation.place === null ? [] : rankPastFixes(index, planQuery(situation.place, index.vocabulary), { typed: false }).hits.filter(({ fields }) => (fields & NARROW_FIELDS) !== 0).map(({ fix }) => fix));
  const rated = notes.map(({ fix, score }) => {
    const reasons = reasonsOf(fix, situation, atPlace.has(fix), feedback);
    return { fix, reasons, score: reasons.reduce((sum, { weight }) => sum + weight, Math.sqrt(score / best)) };
  }).filter(({ score }) => score >= ENOUGH).sort((a, b) => b.score - a.score || a.fix.id - b.fix.id).slice(0, MOST);
  return rated.map(({ fix, score, reasons }) => {
    const words = [...new Set(explainHit(fix, plan, clauses, index).matched.map(({ found }) => found.toLowerCase()))].filter((word) => word.length > 2).slice(0, 5);
    return { fix, score: Math.round(score * 1000) / 1000, reasons: [...reasons.map(({ kind, value }) => ({ kind, value })), ...(words.length > 0 ? [{ kind: 'words' as const, value: words.join(', ') }] : [])] };
  });
}

function reasonsOf(fix: PastFix, situation: Situation, atPlace: boolean, feedback: Feedback): (NoteReason & { weight: number })[] {
  const reasons: (NoteReason & { weight: number })[] = [];
  const because = (kind: NoteReason['kind'], value: string, weight: number) => { reasons.push({ kind, value, weight }); };
  if (situation.defect !== null && fix.defect === situation.defect) because('same-defect', fix.defectName, WEIGHT.defect);
  if (situation.machine !== null && fix.machine !== null && sameTerm(fix.machine, situation.machine)) because('same-machine', fix.machine, WEIGHT.machine);
  else if (fix.stepKind !== null && situation.stepKinds.includes(fix.stepKind)) because('same-step', fix.stepKind, WEIGHT.stepKind);
  if (atPlace && situation.place !== null) because('same-place', situation.place, WEIGHT.place);
  const told = `${fix.texts.title} ${fix.texts.symptom}`;
  if (situation.units && UNIT_WORDS[situation.units].test(told)) because(situation.units === 'one' ? 'one-unit' : 'all-units', '', WEIGHT.units);
  const { confirmed, rejected } = feedback.get(fix.id) ?? { confirmed: 0, rejected: 0 };
  if (confirmed > 0) because('confirmed-before', String(confirmed), WEIGHT.confirmed * Math.min(COUNTED, confirmed));
  if (rejected > 0) because('rejected-before', String(rejected), -WEIGHT.rejected * Math.min(COUNTED, rejected));
  return reasons;
}
