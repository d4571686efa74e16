// The one rule for a check that was due and is not there: by running minutes, by cans, or opened by an event of the log book.

/** A check that is a little late is not a missed one: so many intervals after the last one it is. Common practice, no source. */
const MISSED_AFTER_INTERVALS = 1.5;
const MINUTE = 60_000;
const LONGEST_COUNT = 1440 * MINUTE;
/** An event's check is missed when none was picked within so many minutes of it. Common practice, no source. */
const EVENT_ANSWERED_WITHIN_MINUTES = 60;

export type CountSpan = { from: number; minutes: number; cans: number };
export type PlanAt = { at: number; /** Out of use from then on. */ retired?: boolean; everyMinutes: number | null; everyCans: number | null; openedBy: readonly string[]; longStopMinutes: number | null };
export type PlanHistory = {
  /** States of the plan, oldest first; the first one stands for all time before it. */
  states: readonly PlanAt[];
  /** Moments of checks and of skips (epoch ms), ascending, from the last before the period to the first after it. */
  marks: readonly { at: number; skip: boolean }[];
  /** When the line made the plan's product and the plan was in use; null = as far as is known always. */
  productSpans: readonly { from: number; until: number }[] | null;
  /** In the order of time, none longer than a day; null where nothing is counted. */
  counts: readonly CountSpan[] | null;
  events: readonly { id: number; kind: string; at: number; until: number | null }[];
};
export type MissedInterval = { from: number; until: number | null; every: number; unit: 'minutes' | 'cans'; passed: number; basis: 'running' | 'clock' | 'cans'; missed: number };
export type MissedEvent = { from: number; until: number | null; eventId: number };

const stateAt = (states: readonly PlanAt[], at: number): PlanAt | undefined => states.filter((state) => state.at <= at).at(-1) ?? states[0];

/** The spans without those in which the plan was out of use. */
export function whileInUse(spans: PlanHistory['productSpans'], states: readonly PlanAt[]): PlanHistory['productSpans'] {
  if (!states.some(({ retired }) => retired)) return spans;
  return states.flatMap(({ at, retired }, index) => (retired ? [] : clipped(index === 0 ? 0 : at, states[index + 1]?.at ?? Number.MAX_SAFE_INTEGER, spans)));
}

/** Whether the plan was in use at some moment of the span, both ends included. */
export function inUseDuring(states: readonly PlanAt[], { from, until }: { from: number; until: number }): boolean {
  return states.some(({ at, retired }, index) => !retired && (index === 0 || at <= until) && (states[index + 1]?.at ?? Number.MAX_SAFE_INTEGER) > from);
}

/** The spans as far as they lie inside the one that is given. */
function clipped(from: number, until: number, spans: PlanHistory['productSpans']): { from: number; until: number }[] {
  if (spans === null) return [{ from, until }];
  return spans.map((span) => ({ from: Math.max(from, span.from), until: Math.min(until, span.until) })).filter((span) => span.until > span.from);
}

/** Minutes and cans made in the span while the line made the product; by the clock, and without cans, where nothing is counted. */
export function made(from: number, until: number, { productSpans, counts }: Pick<PlanHistory, 'productSpans' | 'counts'>): { minutes: number; cans: number | null } {
  const spans = clipped(from, until, productSpans);
  if (counts === null) return { minutes: spans.reduce((sum, span) => sum + (span.until - span.from) / MINUTE, 0), cans: null };
  let [minutes, cans] = [0, 0];
  for (const span of spans) {
    for (let index = firstFrom(counts, span.from - LONGEST_COUNT); index < counts.length; index += 1) {
      const count = counts[index] as CountSpan;
      if (count.from >= span.until) break;
      const overlap = (Math.min(span.until, count.from + count.minutes * MINUTE) - Math.max(span.from, count.from)) / MINUTE;
      if (overlap <= 0) continue;
      minutes += overlap;
      cans += (overlap / count.minutes) * count.cans;
    }
  }
  return { minutes, cans };
}

/** The place of the first count that begins at the moment or after it. */
function firstFrom(counts: readonly CountSpan[], at: number): number {
  let [low, high] = [0, counts.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((counts[middle] as CountSpan).from < at) low = middle + 1;
    else high = middle;
  }
  return low;
}

/**
 * Gaps between checks of one plan in which it was due and not taken: more than 1.5 intervals of running minutes or of cans.
 * A gap counts when it reaches into the period; a plan without any check before it begins to count with the period.
 */
export function missedIntervals(plan: PlanHistory, period: { from: number; to: number }): MissedInterval[] {
  const before = plan.marks.filter(({ at }) => at <= period.from).at(-1)?.at ?? period.from;
  const inside = plan.marks.filter(({ at }) => at > period.from && at < period.to).map(({ at }) => at);
  const after = plan.marks.find(({ at }) => at >= period.to)?.at ?? null;
  const ends: (number | null)[] = [...inside, after];
  return ends.flatMap((until, index): MissedInterval[] => {
    const from = index === 0 ? before : (ends[index - 1] as number);
    const state = stateAt(plan.states, from);
    if (!state) return [];
    // What is after the period belongs to the next one.
    const { minutes, cans } = made(from, Math.min(until ?? period.to, period.to), plan);
    const found: MissedInterval[] = [];
    const missing = (every: number | null, passed: number | null) => (every !== null && passed !== null && passed > every * MISSED_AFTER_INTERVALS ? Math.max(1, Math.ceil(passed / every) - 1) : 0);
    const byMinutes = missing(state.everyMinutes, minutes);
    if (byMinutes > 0) found.push({ from, until, every: state.everyMinutes ?? 0, unit: 'minutes', passed: Math.floor(minutes), basis: plan.counts === null ? 'clock' : 'running', missed: byMinutes });
    const byCans = missing(state.everyCans, cans);
    if (byCans > 0) found.push({ from, until, every: state.everyCans ?? 0, unit: 'cans', passed: Math.floor(cans ?? 0), basis: 'cans', missed: byCans });
    return found;
  });
}

/** Events of the period that opened a check of the plan and had none, nor a skip, within 60 minutes. */
export function missedEvents(plan: PlanHistory, period: { from: number; to: number }, now: number): MissedEvent[] {
  return plan.events.flatMap((event): MissedEvent[] => {
    const from = event.until ?? event.at;
    const state = stateAt(plan.states, from);
    const opens = state && (event.kind === 'stop' ? state.openedBy.includes('long-stop') && event.until !== null && event.until - event.at >= (state.longStopMinutes ?? Number.POSITIVE_INFINITY) * MINUTE : state.openedBy.includes(event.kind));
    const makes = plan.productSpans === null || plan.productSpans.some((span) => span.from <= from && from < span.until);
    if (!opens || !makes || from < period.from || from >= period.to || from + EVENT_ANSWERED_WITHIN_MINUTES * MINUTE > now) return [];
    const until = plan.marks.find(({ at }) => at >= from)?.at ?? null;
    return until !== null && until - from <= EVENT_ANSWERED_WITHIN_MINUTES * MINUTE ? [] : [{ from, until, eventId: event.id }];
  });
}
