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
  /** Epoch ms; null when the plan was never checked. */
  lastCheckAt: number | null;
  /** Whether the line makes the plan's product at present; true where no check tells which one it makes. */
  productRuns: boolean;
  running: Running['state'];
  /** Minutes with cans since the last check (since counting began where there was none); null where nothing is counted. */
  minutesRun: number | null;
};
export type Due = { due: boolean; basis: 'running' | 'clock'; dueAt: number | null; minutesOver: number | null };

/**
 * Whether a check is over its advisory interval: by running time where production is counted, else by the clock. Nothing
 * falls due while the line stands, while it makes another product, or where the plan names no interval.
 */
export function dueCheck({ everyMinutes, lastCheckAt, productRuns, running, minutesRun }: PlanState, now: number): Due {
  const counted = running !== 'unknown' && minutesRun !== null;
  const basis = counted ? 'running' : 'clock';
  const dueAt = counted || lastCheckAt === null || everyMinutes === null ? null : lastCheckAt + everyMinutes * MINUTE;
  const notDue: Due = { due: false, basis, dueAt, minutesOver: null };
  if (everyMinutes === null || !productRuns || running === 'not-running') return notDue;
  // Never checked: where cans are counted it falls due after one interval of running, else at once.
  if (lastCheckAt === null && !counted) return { due: true, basis, dueAt: null, minutesOver: null };
  const passed = counted ? minutesRun : (now - (lastCheckAt ?? now)) / MINUTE;
  const over = passed - everyMinutes;
  return over > 0 ? { due: true, basis, dueAt, minutesOver: lastCheckAt === null ? null : Math.floor(over) } : notDue;
}
