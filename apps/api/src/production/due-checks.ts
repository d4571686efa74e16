const MINUTE = 60_000;
/** A line whose counters show no can for longer than this does not run. Common practice, no source. */
export const NOT_RUNNING_AFTER_MINUTES = 15;

export type Running = { state: 'running' | 'not-running' | 'unknown'; notRunningSince: number | null };

/** Whether a line runs, from the end of the last span in which anything was counted (epoch ms); null where nothing is counted. */
export function lineRunning(lastCountEnd: number | null, now: number): Running {
  if (lastCountEnd === null) return { state: 'unknown', notRunningSince: null };
  return now - lastCountEnd > NOT_RUNNING_AFTER_MINUTES * MINUTE ? { state: 'not-running', notRunningSince: lastCountEnd } : { state: 'running', notRunningSince: null };
}

export type PlanState = {
  everyMinutes: number | null;
  everyCans?: number | null;
  /** Epoch ms of the last check, or of a skip after it; null when the plan was never checked. */
  lastCheckAt: number | null;
  /** Whether the line makes the plan's product at present; true where no check tells which one it makes. */
  productRuns: boolean;
  running: Running['state'];
  /** Minutes with cans since the last check (since counting began where there was none); null where nothing is counted. */
  minutesRun: number | null;
  /** Cans in those minutes. */
  cansRun?: number | null;
  /** Epoch ms since when an event has been waiting for a check; null where none waits. */
  openedAt?: number | null;
};
type Basis = 'running' | 'clock' | 'cans' | 'event';
export type Due = { due: boolean; basis: Basis; dueAt: number | null; minutesOver: number | null; cansOver: number | null };

/**
 * Whether a check is over its advisory interval (by running time where production is counted, else by the clock; or by
 * cans), or was opened by an event. Of several reasons the most overdue one is the basis. Nothing falls due while the
 * line stands or while it makes another product.
 */
export function dueCheck(plan: PlanState, now: number): Due {
  const byMinutes = dueByMinutes(plan, now);
  if (!plan.productRuns || plan.running === 'not-running') return { ...byMinutes, due: false, minutesOver: null };
  const reasons = [byMinutes, dueByCans(plan), dueByEvent(plan, now)].filter((reason): reason is Due => reason?.due === true);
  if (reasons.length === 0) return byMinutes;
  const first = reasons.reduce((most, reason) => ((reason.minutesOver ?? -1) > (most.minutesOver ?? -1) ? reason : most));
  return { ...first, cansOver: reasons.find(({ basis }) => basis === 'cans')?.cansOver ?? null };
}

function dueByMinutes({ everyMinutes, lastCheckAt, running, minutesRun }: PlanState, now: number): Due {
  const counted = running !== 'unknown' && minutesRun !== null;
  const basis = counted ? 'running' : 'clock';
  const dueAt = counted || lastCheckAt === null || everyMinutes === null ? null : lastCheckAt + everyMinutes * MINUTE;
  const notDue: Due = { due: false, basis, dueAt, minutesOver: null, cansOver: null };
  if (everyMinutes === null) return notDue;
  // Never checked: where cans are counted it falls due after one interval of running, else at once.
  if (lastCheckAt === null && !counted) return { ...notDue, due: true };
  const passed = counted ? minutesRun : (now - (lastCheckAt ?? now)) / MINUTE;
  const over = passed - everyMinutes;
  return over > 0 ? { ...notDue, due: true, minutesOver: lastCheckAt === null ? null : Math.floor(over) } : notDue;
}

/** Cans over the interval are told in minutes too, at the rate of the time since the last check, so that a list can be sorted by one thing. */
function dueByCans({ everyCans, lastCheckAt, minutesRun, cansRun }: PlanState): Due | null {
  if (!everyCans || cansRun === null || cansRun === undefined || cansRun <= everyCans) return null;
  const over = cansRun - everyCans;
  const minutesOver = lastCheckAt === null || minutesRun === null ? null : Math.floor((over / cansRun) * minutesRun);
  return { due: true, basis: 'cans', dueAt: null, minutesOver, cansOver: Math.floor(over) };
}

function dueByEvent({ openedAt }: PlanState, now: number): Due | null {
  return openedAt === null || openedAt === undefined || openedAt > now ? null : { due: true, basis: 'event', dueAt: openedAt, minutesOver: Math.floor((now - openedAt) / MINUTE), cansOver: null };
}
