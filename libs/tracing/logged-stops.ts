import type { TracedEvent, TracedStep } from './evidence.js';
import type { Span } from './shift-evidence.js';

/**
 * Sets the begin of a window back by the stops that the log book tells of machines on the way (and of the whole line), since
 * the longest time is one without long stops. A stop of one machine of several holds up its own cans all the same. Stops that
 * nobody wrote down stay unknown.
 * @param span window of a step by times only
 * @param passedBy when the last of the cans had reached the step downstream
 */
export function stoodBefore(span: Span, passedBy: number, steps: readonly TracedStep[], events: readonly TracedEvent[]): Span {
  const machines = new Set(steps.flatMap((step) => step.machines.map(({ id }) => id)));
  const stops = events
    .flatMap(({ kind, machineId, at, until }) => ((kind === 'stop' || kind === 'jam') && until !== null && until > at && (machineId === null || machines.has(machineId)) ? [{ at, until }] : []))
    .sort((a, b) => b.until - a.until);
  let [from, reached] = [span.from, passedBy];
  // From the last one back: each stop sets the begin back, which may bring an earlier one in. What overlaps counts once.
  for (const stop of stops) {
    if (stop.at >= passedBy || stop.until <= from) continue;
    from -= Math.max(0, Math.min(stop.until, reached) - stop.at);
    reached = Math.min(reached, stop.at);
  }
  return { from, until: span.until };
}
