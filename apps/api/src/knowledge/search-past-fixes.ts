import type { AnswerOf } from '#contract/endpoint';
import { type PastFixHit, pastFixFields, type searchPastFixes as contract } from '#contract/knowledge';
import type { PastFix, PastFixField } from './past-fix.js';
import type { Segment } from './past-fix-index.js';
import { addClauses, explainTerm, planQuery, type QueryPlan } from './past-fix-query.js';
import { excerpt, markSpans, type Span } from './snippet.js';

export type Ranked = { fix: PastFix; score: number; matched: PastFixHit['matched']; spans: Partial<Record<PastFixField, Span[]>> };
export type Filters = { defect?: string; step?: string; machine?: string; kind?: string };

type Metadata = Record<string, Record<string, { position?: Span[] }>>;
const WEIGHT = { word: 1, synonym: 0.9, beginning: 0.8, similar: 0.5 } as const;
/** A hit that answers less than this share of what the best one answers is left out. */
const LEAST_SHARE = 0.3;

/** Hits of the segments, best first. `typed`: a person is typing, so beginnings and misspellings count and weak hits are cut. A hit that answers more of the typed words goes before one that answers few of them well. */
export function rankPastFixes(segments: readonly Segment[], plan: QueryPlan, options: { typed: boolean } = { typed: true }): Ranked[] {
  if (plan.asked.length === 0) return [];
  // A word that stands somewhere as it was typed is not misspelt.
  const stands = (place: number) => segments.some(({ index }) => index.query((query) => { query.term(plan.words[place]?.stem ?? '', { usePipeline: false }); }).length > 0);
  const unknown = new Set(options.typed ? plan.asked.filter((place) => !stands(place)) : []);
  const ranked = segments.flatMap(({ index, fixes }) => index.query((query) => addClauses(query, plan, { typing: options.typed, unknown })).flatMap((hit) => {
    const fix = fixes.get(hit.ref);
    return fix ? [explain(fix, hit.score, hit.matchData.metadata as Metadata, plan, unknown)] : [];
  }));
  const best = Math.max(0, ...ranked.map(({ covered }) => covered));
  return ranked.filter(({ score, covered }) => score > 0 && covered >= (options.typed ? LEAST_SHARE * best : 0)).sort((a, b) => b.score - a.score || b.fix.changedAt.getTime() - a.fix.changedAt.getTime());
}

function explain(fix: PastFix, score: number, metadata: Metadata, plan: QueryPlan, unknown: ReadonlySet<number>): Ranked & { covered: number } {
  const matched = new Map<string, Reason & { places: Set<number>; fields: Set<PastFixField>; spans: [PastFixField, Span[]][] }>();
  const answered = new Map<number, number>();
  for (const [term, byField] of Object.entries(metadata)) {
    const fields = pastFixFields.filter((field) => byField[field] !== undefined);
    // What is shown is the text as it stands in the note, not the stem that the index keeps.
    const [at] = fields;
    const [start, length] = (at && byField[at]?.position?.[0]) ?? [0, 0];
    const found = at ? fix.texts[at].slice(start, start + length) : term;
    for (const { place, typed, how } of explainTerm(plan, term, unknown)) {
      answered.set(place, Math.max(answered.get(place) ?? 0, WEIGHT[how]));
      const key = `${typed}/${how}/${found.toLowerCase()}`;
      const entry = matched.get(key) ?? { word: typed, how, found, places: new Set(), fields: new Set(), spans: [] };
      entry.places.add(place);
      for (const field of fields) {
        entry.fields.add(field);
        entry.spans.push([field, byField[field]?.position ?? []]);
      }
      matched.set(key, entry);
    }
  }
  // One word of a phrase is not the phrase: "over" alone says little about a cross-over.
  const phrased = new Set([...matched.values()].filter(({ how }) => how === 'synonym').map(({ word }) => word));
  for (const [place, weight] of answered) {
    const around = plan.groups.filter(({ from, to }) => to - from > 1 && place >= from && place < to);
    if (around.length > 0 && !around.some(({ typed }) => phrased.has(typed))) answered.set(place, weight / 2);
  }
  const covered = plan.asked.reduce((sum, place) => sum + (answered.get(place) ?? 0), 0) / plan.asked.length;
  const reasons = [...matched.values()];
  const inMatchedPhrase = (place: number) => plan.groups.some(({ from, to, typed }) => to - from > 1 && place >= from && place < to && phrased.has(typed));
  const shown = reasons.filter((entry) => !reasons.some((other) => isBetter(other, entry)) && (entry.how === 'synonym' || ![...entry.places].every(inMatchedPhrase)));
  const spans: Ranked['spans'] = {};
  for (const [field, places] of shown.flatMap((entry) => entry.spans)) spans[field] = [...(spans[field] ?? []), ...places];
  return { fix, score: score * covered, covered, spans, matched: shown.map(({ word, how, found, fields }) => ({ word, how, found, fields: [...fields] })) };
}

type Reason = { word: string; how: keyof typeof WEIGHT; found: string };
/** A stronger reason for the same find, or any stronger one where the other is only a similar spelling of the same word. */
function isBetter(one: Reason, other: Reason): boolean {
  const sameFind = one.found.toLowerCase() === other.found.toLowerCase();
  return WEIGHT[one.how] > WEIGHT[other.how] && (sameFind || (other.how === 'similar' && one.word === other.word));
}

/** The answer of a search: hits with marked texts and reasons, tallies for the filters, and words that have two meanings. */
export function searchPastFixes(segments: readonly Segment[], asked: Filters & { q: string; take: number }): AnswerOf<typeof contract> {
  const plan = planQuery(asked.q);
  const all: Ranked[] = plan.words.length === 0
    ? segments.flatMap(({ fixes }) => [...fixes.values()]).sort((a, b) => b.changedAt.getTime() - a.changedAt.getTime()).map((fix) => ({ fix, score: 0, matched: [], spans: {} }))
    : rankPastFixes(segments, plan);
  const hits = all.filter(({ fix }) => fits(fix, asked));
  const tally = (without: keyof Filters, entryOf: (fix: PastFix) => [value: string | null, name: string]) => {
    const counts = new Map<string, { value: string; name: string; count: number }>();
    for (const { fix } of all) {
      const [value, name] = entryOf(fix);
      if (value === null || !fits(fix, { ...asked, [without]: undefined })) continue;
      const entry = counts.get(value) ?? { value, name, count: 0 };
      entry.count += 1;
      counts.set(value, entry);
    }
    return [...counts.values()].sort((a, b) => b.count - a.count || a.name.localeCompare(b.name));
  };
  return {
    total: hits.length,
    hits: hits.slice(0, asked.take).map(hitOf),
    facets: {
      defect: tally('defect', (fix) => [fix.defect, fix.defectName]), step: tally('step', (fix) => [fix.stepKind, fix.stepKind ?? '']),
      machine: tally('machine', (fix) => [fix.machine, fix.machine ?? '']), kind: tally('kind', (fix) => [fix.kind, fix.kind]),
    },
    ambiguous: plan.ambiguous.map(({ term, meanings }) => ({ term, meanings: [...meanings] })),
  };
}

const fits = (fix: PastFix, { defect, step, machine, kind }: Filters) =>
  (defect === undefined || fix.defect === defect) && (step === undefined || fix.stepKind === step) && (machine === undefined || fix.machine === machine) && (kind === undefined || fix.kind === kind);

function hitOf({ fix, score, matched, spans }: Ranked): PastFixHit {
  const shown = (['symptom', 'cause', 'fix', 'place', 'howToCheck', 'verified', 'about'] as const);
  const best = shown.find((field) => (spans[field]?.length ?? 0) > 0) ?? 'symptom';
  return {
    kind: fix.kind, id: fix.id, title: markSpans(fix.texts.title, spans.title ?? []), excerptOf: best, excerpt: excerpt(fix.texts[best], spans[best] ?? []), fix: fix.texts.fix,
    defect: fix.defect, defectName: fix.defectName, stepKind: fix.stepKind, machine: fix.machine, customer: fix.customer, state: fix.state,
    changedAt: fix.changedAt.toISOString(), score, matched,
  };
}
