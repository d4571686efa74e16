import type { PastFix } from './past-fix.js';
import type { PastFixIndex } from './past-fix-index.js';
import { type Clause, clausesOf, type QueryPlan, WORTH } from './past-fix-query.js';

/** `covered`: how much of the typed words it answers, 0 to 1. */
export type Ranked = { fix: PastFix; score: number; covered: number; fields: number };
export type Ranking = { hits: Ranked[]; clauses: readonly Clause[] };

/** A hit that answers less than this share of what the best one answers is left out. */
const LEAST_SHARE = 0.3;
/** What people found good goes a little before what nobody has tried. Common practice, no source. */
const STANDING_SHARE = 0.02;

/**
 * Hits, best first. `typed`: a person is typing, so beginnings and misspellings count and weak hits are cut. A hit that
 * answers more of the typed words goes before one that answers few of them well; among equals the one that people
 * confirmed most, then the newest.
 */
export function rankPastFixes(index: PastFixIndex, plan: QueryPlan, { typed }: { typed: boolean } = { typed: true }): Ranking {
  if (plan.asked.length === 0) return { hits: [], clauses: [] };
  const clauses = clausesOf(index, plan, typed);
  const { scores, fields, covered } = scoresOf(index, plan, clauses);
  const best = covered.reduce((most, share, place) => (index.documents[place] ? Math.max(most, share) : most), 0);
  const least = typed ? LEAST_SHARE * best : 0;
  const hits: (Ranked & { liked: number })[] = [];
  for (const [place, score] of scores.entries()) {
    const fix = index.documents[place];
    const share = covered[place] as number;
    if (!fix || score === 0 || share < least) continue;
    const { confirmed, helped } = index.standingOf(fix);
    hits.push({ fix, score: score * (typed ? share * share : share) * (1 + STANDING_SHARE * Math.log1p(confirmed + helped)), covered: share, fields: fields[place] as number, liked: confirmed + helped });
  }
  const close = (value: number) => Math.round(value * 100);
  hits.sort((a, b) => close(b.score) - close(a.score) || b.liked - a.liked || b.fix.changedAt.getTime() - a.fix.changedAt.getTime());
  return { hits, clauses };
}

function scoresOf(index: PastFixIndex, plan: QueryPlan, clauses: readonly Clause[]): { scores: Float64Array; fields: Uint16Array; covered: Float64Array } {
  const count = index.documents.length;
  const [scores, fields, covered] = [new Float64Array(count), new Uint16Array(count), new Float64Array(count)];
  const answered = new Map(plan.asked.map((place) => [place, new Float64Array(count)]));
  const phrased = plan.groups.filter(({ from, to }) => to - from > 1).map((group) => ({ ...group, found: new Uint8Array(count) }));
  for (const { term, places, how, boost, typed } of clauses) {
    const postings = index.find(term);
    if (!postings) continue;
    const weight = boost * index.rarityOf(postings);
    const marks = places.flatMap((place) => answered.get(place) ?? []);
    const phrase = how === 'synonym' ? phrased.filter((group) => group.typed === typed) : [];
    for (const [at, place] of postings.documents.entries()) {
      scores[place] = (scores[place] as number) + weight * (postings.weights[at] as number);
      fields[place] = (fields[place] as number) | (postings.fields[at] as number);
      for (const mark of marks) if ((mark[place] as number) < WORTH[how]) mark[place] = WORTH[how];
      for (const { found } of phrase) found[place] = 1;
    }
  }
  for (const [place, mark] of answered) {
    // One word of a phrase is not the phrase: "over" alone says little about a cross-over.
    const around = phrased.filter(({ from, to }) => place >= from && place < to);
    for (let at = 0; at < count; at += 1) {
      const worth = mark[at] as number;
      if (worth === 0) continue;
      const whole = around.length === 0 || around.some(({ found }) => found[at] === 1);
      covered[at] = (covered[at] as number) + worth * (whole ? 1 : 0.5) / plan.asked.length;
    }
  }
  return { scores, fields, covered };
}
