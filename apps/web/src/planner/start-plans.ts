import type { StreamVariation, VariationSource } from '#contract/planner';
import { WESTERN_ELECTRIC } from '#statistics/rules/run-rules';
import { type LimitsInclude, MOST_PLANS, type PlanDraft, type PlannerView, SOURCES } from './planner.url.js';

export type Sds = Record<VariationSource, number>;

/** How the stream is checked today; null where no plan asks for it, or the plan states no interval. */
export function todaysPlan({ plan, stream }: StreamVariation): PlanDraft | null {
  if (!plan || plan.everyMinutes === null || stream.rules.length === 0) return null;
  return { cans: plan.cans, positions: plan.positions.length, everyMinutes: plan.everyMinutes, scheme: { kind: 'rules', rules: [...stream.rules] } };
}

const USUAL: PlanDraft = { cans: 5, positions: 1, everyMinutes: 60, scheme: { kind: 'rules', rules: [...WESTERN_ELECTRIC] } };

export type Column = { plan: PlanDraft; /** Place among the plans of the address; null: what is done today, which is not changed here. */ place: number | null };

/** Today's plan first, then those of the address; where it has none, one to begin with. */
export function columnsOf(today: PlanDraft | null, plans: readonly PlanDraft[]): Column[] {
  const others = plans.length > 0 ? plans : [today ?? USUAL];
  return [...(today ? [{ plan: today, place: null }] : []), ...others.map((plan, place) => ({ plan, place }))].slice(0, MOST_PLANS);
}

/** The plans of the address after a change of one column, with those that only stood there to begin with. */
export const changedPlans = (columns: readonly Column[], place: number, plan: PlanDraft | null): PlanDraft[] =>
  columns.flatMap((column) => (column.place === null ? [] : column.place === place ? plan ?? [] : column.plan));

/**
 * Standard deviation of each source. What the readings could not tell apart is taken to be of the outermost source, so
 * that no plan looks better than is known: more cans do not average out what may differ between checks.
 */
export function measuredSds({ components }: Pick<StreamVariation, 'components'>): Sds | null {
  if (components.length === 0) return null;
  const sds: Sds = { check: 0, can: 0, position: 0 };
  for (const { sources, variance } of components) {
    const outermost = SOURCES.find((source) => sources.includes(source));
    if (outermost) sds[outermost] = Math.sqrt(variance);
  }
  return sds;
}

/** The figures that plans are computed with: those of the address, else those of the stream. */
export type Ground = { sds: Sds; speed: number | null; hours: number; limits: LimitsInclude; parts: number; unit: string; decimals: number; shift: number | null };

export function groundOf(view: PlannerView, variation: StreamVariation | null): Ground {
  const measured = variation ? measuredSds(variation) : null;
  const sd = (source: VariationSource) => view.sds?.[source] ?? measured?.[source] ?? 0;
  return {
    sds: { check: sd('check'), can: sd('can'), position: sd('position') },
    speed: view.speed ?? variation?.speed?.cansPerMinute ?? null, hours: view.hours ?? variation?.speed?.hoursPerDay ?? 24,
    limits: view.limits ?? (variation && variation.stream.chartKind !== 'i-mr' ? 'short-term' : 'long-term'),
    parts: variation?.plan?.parts ?? 1, unit: variation?.stream.characteristic.unit ?? view.unit ?? '', decimals: variation?.stream.characteristic.decimals ?? 3, shift: view.shift ?? null,
  };
}

/** Sd of a single reading, in which shifts are counted: the same for every plan, so that their answers can be compared. */
export const readingSd = ({ check, can, position }: Sds): number => Math.hypot(check, can, position);

/** What would make the mean of a check steadier, from what most of its variation is. */
export function adviceOf(sds: Sds, { cans, positions }: Pick<PlanDraft, 'cans' | 'positions'>): 'checks' | 'cans' | 'positions' | null {
  const parts = { checks: sds.check ** 2, cans: sds.can ** 2 / cans, positions: sds.position ** 2 / (cans * positions) };
  const all = parts.checks + parts.cans + parts.positions;
  return all > 0 ? (['checks', 'cans', 'positions'] as const).reduce((most, name) => (parts[name] > parts[most] ? name : most)) : null;
}
