import { inUseDuring, missedEvents, missedIntervals } from '#canmaking/line/missed-checks';
import type { EpochMs } from '#canmaking/units';
import type { Evidence } from './evidence.js';
import type { Span } from './shift-evidence.js';

/** One of the three says why it was due: minutes or cans from one to the next, or the kind of the log-book entry that opened it. */
export type Missed = { readonly plan: string; readonly lastAt: EpochMs | null; readonly nextAt: EpochMs | null; readonly everyMinutes: number | null; readonly everyCans: number | null; readonly openedBy: string | null };

const DAY = 86_400_000;

/** Plans of a machine, in use while the cans passed, of which a check was due then and none is on record, with the checks around the hole. A skip with a reason counts as a check. */
export function missedChecks({ plans, now }: Pick<Evidence, 'plans' | 'now'>, machineId: number, window: Span): Missed[] {
  return plans.filter((plan) => plan.machineId === machineId && inUseDuring(plan.history.states, window)).flatMap(({ name, history }): Missed[] => {
    const { marks } = history;
    const next = marks.find(({ at }) => at >= window.until)?.at ?? window.until;
    const intervals = missedIntervals(history, { from: window.from, to: Math.min(next, now) }).map(({ from, until, every, unit }): Missed => ({
      plan: name, lastAt: marks.some(({ at }) => at === from) ? from : null, nextAt: until, everyMinutes: unit === 'minutes' ? every : null, everyCans: unit === 'cans' ? every : null, openedBy: null,
    }));
    const opened = missedEvents(history, { from: window.from - DAY, to: window.until }, now).filter(({ until }) => until === null || until >= window.from).map(({ from, until, eventId }): Missed => ({
      plan: name, lastAt: from, nextAt: until, everyMinutes: null, everyCans: null, openedBy: history.events.find(({ id }) => id === eventId)?.kind ?? null,
    }));
    return [...intervals, ...opened];
  });
}
