import { MISSED_AFTER_INTERVALS } from '#canmaking/line/late-check';
import type { EpochMs } from '#canmaking/units';
import type { Evidence } from './evidence.js';
import type { Span } from './shift-evidence.js';

export type Missed = { readonly plan: string; readonly lastAt: EpochMs | null; readonly nextAt: EpochMs | null; readonly everyMinutes: number };

/** Plans of a machine of which a check was due while the cans passed and none is on record, with the checks around the hole. */
export function missedChecks({ plans, checks }: Pick<Evidence, 'plans' | 'checks'>, machineId: number, { from, until }: Span): Missed[] {
  return plans.filter((plan) => plan.machineId === machineId).flatMap(({ id, name, everyMinutes }): Missed[] => {
    const moments = checks.filter((check) => check.machineId === machineId && check.planId === id).map(({ at }) => at).sort((a, b) => a - b);
    if (moments.length === 0) return [];
    const lastAt = moments.filter((at) => at <= from).at(-1) ?? null;
    const nextAt = moments.find((at) => at >= until) ?? null;
    const inside = moments.some((at) => at > from && at < until);
    const hole = (nextAt ?? until) - (lastAt ?? from);
    return !inside && hole > everyMinutes * 60_000 * MISSED_AFTER_INTERVALS ? [{ plan: name, lastAt, nextAt, everyMinutes }] : [];
  });
}
