import { MISSED_AFTER_INTERVALS } from '#canmaking/line/late-check';

export type PlanChecks = { planId: number; everyMinutes: number; takenAt: readonly Date[] };
export type Gap = { planId: number; from: Date; until: Date; due: number };

/**
 * Stretches of a span in which a plan's checks were due and none is on record. `takenAt` holds the plan's checks in order,
 * from one before the span (where there is one) to one after it. Whether the line ran is not asked: a stop looks the same.
 */
export function missedChecks(plans: readonly PlanChecks[], span: { from: Date; to: Date }): Gap[] {
  return plans.flatMap(({ planId, everyMinutes, takenAt }) => {
    const step = everyMinutes * 60_000;
    if (!(step > 0)) return [];
    const before = takenAt.filter((at) => at <= span.from).at(-1) ?? null;
    const marks = [before ?? span.from, ...takenAt.filter((at) => at > span.from && at <= span.to)];
    const next = takenAt.find((at) => at > span.to) ?? null;
    const ends = [...marks.slice(1), next ?? span.to];
    return marks.flatMap((mark, place): Gap[] => {
      const end = ends[place] as Date;
      if (end.getTime() - mark.getTime() <= step * MISSED_AFTER_INTERVALS) return [];
      const [from, until] = [Math.max(mark.getTime(), span.from.getTime()), Math.min(end.getTime(), span.to.getTime())];
      const due = Math.max(1, Math.round((end.getTime() - mark.getTime()) / step) - 1);
      return until > from ? [{ planId, from: new Date(from), until: new Date(until), due }] : [];
    });
  });
}
