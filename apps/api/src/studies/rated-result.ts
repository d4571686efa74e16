import { nominalAgreement } from '#statistics/gauges/nominal-agreement';
import { ordinalAgreement } from '#statistics/gauges/ordinal-agreement';
import type { ExactFraction } from '#statistics/sampling/exact-fraction';
import type { GaugePlan, GaugeResult } from '#contract/gauge-studies';
import type { TakenTrial } from './trial-order.js';

type Rated = NonNullable<GaugeResult['rated']>;
type Pair = Rated['pairs'][number];

/**
 * Agreement of people who rate by eye. Each going of each person is a rater of its own: two goings of one person say how
 * well they agree with themselves. In order: weighted kappa (quadratic) and shares within some steps; else plain kappa.
 */
export function ratedResult(plan: GaugePlan, trials: readonly TakenTrial[]): Rated {
  const { scale } = plan;
  if (scale === null) throw new RangeError('ratedResult: needs a scale of ratings, none given');
  const goings = plan.people.flatMap((name, person) => Array.from({ length: plan.repeats }, (_, repeat) => ({ person, repeat, name: plan.repeats === 1 ? name : `${name}, going ${repeat + 1}` })));
  const at = new Map(trials.map(({ person, part, repeat, value }) => [`${person} ${part} ${repeat}`, value]));
  const places = plan.parts.map((_label, part) => goings.map(({ person, repeat }) => {
    const value = at.get(`${person} ${part} ${repeat}`);
    if (value === undefined) throw new RangeError(`ratedResult: needs a rating of every part in every going, part ${part + 1} lacks one`);
    return value;
  }));
  const raters = goings.map(({ name }) => name);
  const name = (rater: number) => raters[rater] ?? '';
  const { confidence, standard } = plan;
  const nothing = { within: null, meanDifference: null, missed: null, falseAlarms: null };
  if (scale.kind === 'ordinal') {
    const grade = (place: number): number => scale.grades[place] ?? Number.NaN;
    const result = ordinalAgreement({ ratings: places.map((row) => row.map(grade)), categories: scale.grades, steps: scale.steps, standard: standard?.map(grade) ?? null, least: scale.least, confidence });
    const pair = (first: string, second: string, one: (typeof result.pairs)[number] | NonNullable<typeof result.againstStandard>[number]): Pair => ({ ...nothing, first, second, exact: share(one.exact, result.subjects), within: share(one.within, result.subjects), meanDifference: one.meanDifference, kappa: bare(one.quadratic), ...('missed' in one ? misses(one, plan, (place) => scale.least !== null && grade(place) < scale.least) : {}) });
    return finished({ raters, allAgree: share(result.allWithin, result.subjects), fleiss: null, pairs: result.pairs.map((one) => pair(name(one.first), name(one.second), one)), againstStandard: result.againstStandard?.map((one, rater) => pair(STANDARD, name(rater), one)) ?? [] });
  }
  const word = (place: number): string => scale.categories[place] ?? '';
  const result = nominalAgreement({ ratings: places.map((row) => row.map(word)), standard: standard?.map(word) ?? null, reject: scale.reject, confidence });
  return finished({
    raters, allAgree: share(result.allAgree, result.subjects), fleiss: bare(result.fleiss),
    pairs: result.pairs.map((one) => ({ ...nothing, first: name(one.first), second: name(one.second), exact: share(one.agreement, result.subjects), kappa: bare(one.kappa) })),
    againstStandard: result.againstStandard?.map((one, rater) => ({ ...nothing, first: STANDARD, second: name(rater), exact: share(one.agreement, result.subjects), kappa: bare(one.kappa), ...misses(one, plan, (place) => scale.reject.includes(word(place))) })) ?? [],
  });
}

/** The first of a pair where a rater is held against the reference. */
export const STANDARD = '';

/** The verdict rests on the weakest agreement: with the reference where there is one, else between any two goings. */
function finished(rated: Omit<Rated, 'lowestKappa'>): Rated {
  const from = rated.againstStandard.length > 0 ? rated.againstStandard : rated.pairs;
  const kappas = from.flatMap(({ kappa }) => (kappa.kappa === null ? [] : [kappa.kappa]));
  return { ...rated, lowestKappa: kappas.length < from.length || kappas.length === 0 ? null : Math.min(...kappas) };
}

const bare = ({ kappa, low, high }: { kappa: number | null; low: number | null; high: number | null }) => ({ kappa, low, high });
const share = ({ fraction, low, high }: ExactFraction, of: number) => ({ found: Math.round(fraction * of), of, fraction, low, high });

function misses({ missed, falseAlarms }: { missed: ExactFraction | null; falseAlarms: ExactFraction | null }, { standard }: GaugePlan, rejects: (place: number) => boolean): Pick<Pair, 'missed' | 'falseAlarms'> {
  const bad = (standard ?? []).filter(rejects).length;
  return { missed: missed && share(missed, bad), falseAlarms: falseAlarms && share(falseAlarms, (standard ?? []).length - bad) };
}
