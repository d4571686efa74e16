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
    facets: {
      defect: tally(all, asked, 'defect', (fix) => [fix.defect, fix.defectName]), step: tally(all, asked, 'step', (fix) => [fix.stepKind, fix.stepKind ?? '']),
      machine: tally(all, asked, 'machine', (fix) => [fix.machine, fix.machine ?? '']), kind: tally(all, asked, 'kind', (fix) => [fix.kind, fix.kind]),
      verified: tally(all, asked, 'verified', (fix) => [String(isVerified(fix)), String(isVerified(fix))]),
    },
    ambiguous: plan.ambiguous.map(({ term, meanings }) => ({ term, meanings: [...meanings] })),
  };
}

const newest = (index: PastFixIndex): Hit[] => index.fixes.sort((a, b) => b.changedAt.getTime() - a.changedAt.getTime()).map((fix) => ({ fix, score: 0 }));
const isVerified = (fix: PastFix): boolean => fix.texts.verified.trim() !== '';
const fits = (fix: PastFix, { defect, step, machine, kind, verified }: Filters) =>
  (defect === undefined || fix.defect === defect) && (step === undefined || fix.stepKind === step) && (machine === undefined || fix.machine === machine) && (kind === undefined || fix.kind === kind)
  && (verified === undefined || isVerified(fix) === verified);

/** What each value of one filter would leave, the other filters as they are. */
function tally(all: readonly Hit[], asked: Filters, facet: keyof Filters, entryOf: (fix: PastFix) => [value: string | null, name: string]) {
  const others = { ...asked, [facet]: undefined };
  const counts = new Map<string, { value: string; name: string; count: number }>();
  for (const { fix } of all) {
    const [value, name] = entryOf(fix);
    if (value === null || !fits(fix, others)) continue;
    const entry = counts.get(value) ?? { value, name, count: 0 };
    entry.count += 1;
    counts.set(value, entry);
  }
  return [...counts.values()].sort((a, b) => b.count - a.count || (a.name < b.name ? -1 : 1));
}

function hitOf(index: PastFixIndex, { fix, score }: Hit, plan: QueryPlan, clauses: readonly Clause[]): PastFixHit {
  const { matched, spans } = clauses.length === 0 ? { matched: [], spans: {} as ReturnType<typeof explainHit>['spans'] } : explainHit(fix, plan, clauses, index.vocabulary);
  const shown = (['symptom', 'cause', 'fix', 'place', 'howToCheck', 'verified', 'about'] as const);
  const best = shown.find((field) => (spans[field]?.length ?? 0) > 0) ?? 'symptom';
  return {
    kind: fix.kind, id: fix.id, title: markSpans(fix.texts.title, spans.title ?? []), excerptOf: best, excerpt: excerpt(fix.texts[best], spans[best] ?? []), fix: fix.texts.fix,
    defect: fix.defect, defectName: fix.defectName, stepKind: fix.stepKind, machine: fix.machine, customer: fix.customer, state: fix.state, verified: isVerified(fix),
    ...index.standingOf(fix), changedAt: fix.changedAt.toISOString(), score, matched,
  };
}
