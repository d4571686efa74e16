import type { AnswerOf } from '#contract/endpoint';
import type { PastFixHit, searchPastFixes as contract } from '#contract/knowledge';
import { explainHit } from './explain-hit.js';
import type { PastFix } from './past-fix.js';
import type { PastFixIndex } from './past-fix-index.js';
import { type Clause, planQuery, type QueryPlan } from './past-fix-query.js';
import { rankPastFixes } from './rank-past-fixes.js';
import { excerpt, markSpans } from './snippet.js';

type Filters = { defect?: string; step?: string; machine?: string; kind?: string; verified?: boolean };
type Hit = { fix: PastFix; score: number };

/** The answer of a search: hits with marked texts and reasons, tallies for the filters, and words that have two meanings. */
export function searchPastFixes(index: PastFixIndex, asked: Filters & { q: string; take: number; meanings?: readonly string[] }): AnswerOf<typeof contract> {
  const plan = planQuery(asked.q, index.vocabulary, asked.meanings);
  const { hits: all, clauses } = plan.words.length === 0 ? { hits: newest(index), clauses: [] } : rankPastFixes(index, plan);
  const hits = all.filter(({ fix }) => fits(fix, asked));
  return {
    total: hits.length,
    hits: hits.slice(0, asked.take).map((hit) => hitOf(index, hit, plan, clauses)),
    facets: talliesOf(all, asked),
    taken: [...plan.taken],
    ambiguous: plan.ambiguous.map(({ term, meanings }) => ({ term, meanings: [...meanings] })),
  };
}

const newest = (index: PastFixIndex): Hit[] => index.fixes.sort((a, b) => b.changedAt.getTime() - a.changedAt.getTime()).map((fix) => ({ fix, score: 0 }));
const isVerified = (fix: PastFix): boolean => fix.texts.verified.trim() !== '';
const FACETS = ['defect', 'step', 'machine', 'kind', 'verified'] as const;
type Facet = (typeof FACETS)[number];
const facetOf: Record<Facet, (fix: PastFix) => string | null> = {
  defect: (fix) => fix.defect, step: (fix) => fix.stepKind, machine: (fix) => fix.machine, kind: (fix) => fix.kind, verified: (fix) => String(isVerified(fix)),
};
/** The facets whose chosen value the fix does not have. */
const misses = (fix: PastFix, asked: Filters): Facet[] => FACETS.filter((facet) => asked[facet] !== undefined && facetOf[facet](fix) !== String(asked[facet]));
const fits = (fix: PastFix, asked: Filters): boolean => misses(fix, asked).length === 0;

/** What each value of each filter would leave, the other filters as they are. */
function talliesOf(all: readonly Hit[], asked: Filters): AnswerOf<typeof contract>['facets'] {
  const counts: Record<Facet, Map<string, { value: string; name: string; count: number }>> = { defect: new Map(), step: new Map(), machine: new Map(), kind: new Map(), verified: new Map() };
  for (const { fix } of all) {
    const missed = misses(fix, asked);
    for (const facet of missed.length === 0 ? FACETS : missed.length === 1 ? missed : []) {
      const value = facetOf[facet](fix);
      if (value === null) continue;
      const entry = counts[facet].get(value);
      if (entry) entry.count += 1;
      else counts[facet].set(value, { value, name: facet === 'defect' ? fix.defectName : value, count: 1 });
    }
  }
  const listed = (facet: Facet) => [...counts[facet].values()].sort((a, b) => b.count - a.count || (a.name < b.name ? -1 : 1));
  return { defect: listed('defect'), step: listed('step'), machine: listed('machine'), kind: listed('kind'), verified: listed('verified') };
}

function hitOf(index: PastFixIndex, { fix, score }: Hit, plan: QueryPlan, clauses: readonly Clause[]): PastFixHit {
  const { matched, spans } = clauses.length === 0 ? { matched: [], spans: {} as ReturnType<typeof explainHit>['spans'] } : explainHit(fix, plan, clauses, index);
  const shown = (['symptom', 'cause', 'fix', 'place', 'howToCheck', 'verified', 'about'] as const);
  const best = shown.find((field) => (spans[field]?.length ?? 0) > 0) ?? 'symptom';
  return {
    kind: fix.kind, id: fix.id, title: markSpans(fix.texts.title, spans.title ?? []), excerptOf: best, excerpt: excerpt(fix.texts[best], spans[best] ?? []), fix: fix.texts.fix,
    defect: fix.defect, defectName: fix.defectName, stepKind: fix.stepKind, machine: fix.machine, customer: fix.customer, state: fix.state, verified: isVerified(fix),
    ...index.standingOf(fix), changedAt: fix.changedAt.toISOString(), score, matched,
  };
}
