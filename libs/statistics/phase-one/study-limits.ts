import { baselineLimits, type ChartKind, type LimitsBasis } from '../charts/limits.js';
import { shewhartChart } from '../charts/shewhart.js';
import type { SubgroupStatistics } from '../charts/subgroup.js';
import type { Side } from '../rules/verdict.js';

/** A subgroup whose cause was found; only such a one may leave the baseline. Index from 0. */
export type AssignedCause = { readonly index: number; readonly cause: string };

export type OutPoint = { readonly index: number; readonly panel: 'location' | 'spread'; readonly side: Side; readonly cause: string | null };

export type LimitsRound = { readonly basis: LimitsBasis; readonly out: readonly OutPoint[]; readonly removed: readonly AssignedCause[] };

export type LimitsStudy = {
  readonly rounds: readonly LimitsRound[];
  /** Points that are still out and have no cause: they stay in, and somebody should look. */
  readonly outWithoutCause: readonly OutPoint[];
  /** Causes given for points that never were out: the points stay in. */
  readonly unused: readonly AssignedCause[];
  /** What may be frozen; null when too few subgroups are left. */
  readonly candidate: LimitsBasis | null;
  readonly subgroups: { readonly kept: number; readonly needed: number };
};

/** Montgomery, Introduction to Statistical Quality Control, "Phase I": 20 to 25 subgroups. */
export const USUAL_SUBGROUPS = 20;

/**
 * Trial limits round by round (Phase I). A point beyond a limit leaves only if a cause was assigned to it; then limits are
 * computed anew, until no such point is out. Points without a cause are never removed, because limits made by dropping
 * whatever is out describe a process that never ran.
 * Source: Shewhart 1931; Montgomery, Introduction to Statistical Quality Control, "Trial control limits"; how many
 * subgroups: Quesenberry 1993, "The effect of sample size on estimated limits", Journal of Quality Technology 25.
 * @param subgroups in time order; n = 0 is a gap
 * @param options needed: subgroups with a mean that must be left for limits to be frozen, default 20
 * @throws RangeError when fewer than `needed` are given at all, a cause names no subgroup, or as baselineLimits
 */
export function studyLimits(kind: ChartKind, subgroups: readonly SubgroupStatistics[], causes: readonly AssignedCause[] = [], options: { readonly needed?: number } = {}): LimitsStudy {
  const caller = 'studyLimits';
  const { needed = USUAL_SUBGROUPS } = options;
  if (!Number.isInteger(needed) || needed < 2) throw new RangeError(`${caller}: needs a whole number of subgroups to be left, 2 or more, ${needed} given`);
  const present = subgroups.filter(({ n }) => n > 0).length;
  if (present < needed) throw new RangeError(`${caller}: needs at least ${needed} subgroups with a reading for limits, ${present} given`);
  const causeOf = new Map<number, string>();
  for (const { index, cause } of causes) {
    if (!Number.isInteger(index) || index < 0 || index >= subgroups.length) throw new RangeError(`${caller}: needs a cause for one of ${subgroups.length} subgroups, number ${index + 1} given`);
    if (cause.trim() === '') throw new RangeError(`${caller}: needs a cause in words for subgroup ${index + 1}, an empty one given`);
    causeOf.set(index, cause);
  }
  const gone = new Set<number>();
  const rounds: LimitsRound[] = [];
  // Every further round has lost at least one subgroup, so there are no more rounds than causes.
  for (let turn = 0; turn <= causeOf.size; turn += 1) {
    const kept = subgroups.map((subgroup, index) => (gone.has(index) ? GAP : subgroup));
    if (kept.filter(({ n }) => n > 0).length < 2) break;
    const basis = baselineLimits(kind, kept);
    const out = shewhartChart(kind, kept, basis).panels.flatMap((panel, at) => panel.out.map(({ index, side }): OutPoint => ({ index, panel: at === 0 ? 'location' : 'spread', side, cause: causeOf.get(index) ?? null })));
    const removed = [...new Set(out.map(({ index }) => index))].sort((a, b) => a - b).flatMap((index) => {
      const cause = causeOf.get(index);
      return cause === undefined ? [] : [{ index, cause }];
    });
    rounds.push({ basis, out, removed });
    for (const { index } of removed) gone.add(index);
    if (removed.length === 0) break;
  }
  const last = rounds.at(-1);
  const left = present - gone.size;
  const settled = last !== undefined && last.removed.length === 0;
  return {
    rounds, outWithoutCause: settled ? last.out : [], unused: causes.filter(({ index }) => !gone.has(index)),
    candidate: settled && left >= needed ? last.basis : null, subgroups: { kept: left, needed },
  };
}

const GAP: SubgroupStatistics = { n: 0, mean: null, range: null, sd: null, low: null, high: null };
