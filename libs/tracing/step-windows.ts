import { walkBackByCounts } from '#canmaking/line/cumulative-counts';
import { walkBack } from '#canmaking/line/transit';
import type { CountSpan, Evidence, TracedStep } from './evidence.js';
import { stoodBefore } from './logged-stops.js';
import type { StepWindow } from './origin.js';
import type { Span } from './shift-evidence.js';
import { asOne, chain, type Placed, placed, walkOn } from './stretches.js';

const MINUTE = 60_000;

/**
 * When the complained cans passed each step: at the coding step as the code says, give or take the clocks; upstream of it
 * walked back by cumulative counts between steps that are counted, else by shortest and longest times with the stops that
 * the log book tells; a step that is not counted lies between its counted neighbours. Downstream walked on by times. Where no stretch leads to a step its window is
 * that of its neighbour and says that it is not known.
 */
export function stepWindows({ line, complaint, counts, events }: Pick<Evidence, 'line' | 'complaint' | 'counts' | 'events'>): StepWindow[] {
  const coded = Math.max(0, line.steps.findIndex(({ id }) => id === complaint.codedAtStepId));
  const clock = line.clockMinutes * MINUTE;
  const stretches = placed(line);
  const counted = line.steps.map((step) => counts.filter(({ machineId }) => step.machines.some(({ id }) => id === machineId)));
  const windows = line.steps.map((step): StepWindow => ({ stepId: step.id, stepKind: step.kind, from: complaint.from - clock, until: complaint.until + clock, basis: 'code' }));
  const set = (place: number, span: Span, basis: StepWindow['basis']): void => {
    const { id, kind } = line.steps[place] as TracedStep;
    windows[place] = { stepId: id, stepKind: kind, from: span.from, until: span.until, basis };
  };
  for (let place = coded - 1; place >= 0; place -= 1) {
    const stretch = covering(stretches, place);
    // A stretch that reaches beyond the coding step still bounds what lies before it.
    const end = Math.min(stretch?.to ?? place + 1, coded);
    if (!stretch) set(place, windows[place + 1] as StepWindow, 'unknown');
    else {
      const back = walkBack(windows[end] as StepWindow, [{ shortestSeconds: stretch.from === place && end === stretch.to ? stretch.shortestSeconds : 0, longestSeconds: stretch.longestSeconds }]);
      set(place, stoodBefore(back, (windows[end] as StepWindow).until, line.steps.slice(place, end + 1), events), 'transit');
    }
    const byCounts = counting(place, coded, counted, stretches, windows);
    if (byCounts) set(place, byCounts, byCounts.basis);
  }
  for (let place = 1; place < coded; place += 1) {
    if (windows[place]?.basis !== 'transit') continue;
    const both = between(place, windows, stretches);
    if (both && both.until >= both.from) set(place, both, 'counts');
  }
  for (let place = coded + 1; place < line.steps.length; place += 1) {
    const way = chain(stretches, place - 1, place);
    set(place, walkOn(windows[place - 1] as StepWindow, way ?? []), way ? 'transit' : 'unknown');
  }
  return windows;
}

/** After the nearest step before that is told by counts and before the next one, whatever stood in between. */
function between(place: number, windows: readonly StepWindow[], stretches: readonly Placed[]): Span | null {
  const [own, before] = [windows[place] as StepWindow, windows.slice(0, place).findLastIndex(({ basis }) => basis === 'counts')];
  const after = windows.findIndex(({ basis }, at) => at > place && (basis === 'counts' || basis === 'code'));
  const [earlier, later] = [windows[before], windows[after]];
  if (!earlier || !later) return null;
  const [there, on] = [chain(stretches, before, place), chain(stretches, place, after)];
  const until = later.until - (on ? asOne(on).shortestSeconds * 1000 : 0);
  return { from: earlier.from + (there ? asOne(there).shortestSeconds * 1000 : 0), until: there ? Math.min(until, Math.max(own.until, earlier.until + asOne(there).longestSeconds * 1000)) : until };
}

/** The stretch that begins at a place or leads over it. */
const covering = (stretches: readonly Placed[], place: number): Placed | null => stretches.find(({ from }) => from === place) ?? stretches.find(({ from, to }) => from < place && to > place) ?? null;

/** By the counts of this step and of the nearest later one that is counted, up to the coding step. */
function counting(place: number, coded: number, counted: readonly CountSpan[][], stretches: readonly Placed[], windows: readonly StepWindow[]): (Span & { basis: 'counts' | 'transit' }) | null {
  const later = counted.findIndex((spans, at) => at > place && at <= coded && spans.length > 0);
  const way = later < 0 ? null : chain(stretches, place, later);
  if ((counted[place] as CountSpan[]).length === 0 || way === null) return null;
  // Where counts do not reach, it answers by time, with the stops of the later step added.
  return walkBackByCounts(windows[later] as StepWindow, counted[place] as CountSpan[], counted[later] as CountSpan[], asOne(way));
}
