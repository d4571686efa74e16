import type { EpochMs } from '#canmaking/units';
import { cansBy, type Flow, momentOf } from './flow.js';
import type { Layout } from './layout.js';

/** The station a step moves with, and how much later than there a can is at it. */
export function stationOf(layout: Layout, stepId: number): { place: number; later: number } {
  const inLine = layout.inLine.find(({ step }) => step.id === stepId);
  if (inLine) return { place: 0, later: inLine.secondsAfterBodyMaker * 1000 };
  const place = layout.stations.findIndex(({ step }) => step.id === stepId);
  if (place < 0) throw new RangeError(`stepId: needs a step that cans flow through, ${stepId} given`);
  return { place, later: 0 };
}

/**
 * When the can that is at one step at `at` is at another one: the same can in the order of both, whichever lies first.
 * Null where it does not get there before the records end, or was on the way before they began.
 */
export function passes(layout: Layout, flow: Flow, fromStepId: number, at: EpochMs, toStepId: number): EpochMs | null {
  const start = stationOf(layout, fromStepId);
  const goal = stationOf(layout, toStepId);
  const leaving = flow.stations[start.place];
  // The can that left last, whole: while the step stands that was some time ago.
  let moment = leaving ? momentOf(leaving.good, flow.from, Math.ceil(cansBy(leaving.good, flow.from, at - start.later))) : null;
  for (let place = start.place; moment !== null && place < goal.place; place += 1) {
    const [here, next] = [flow.stations[place], flow.stations[place + 1]];
    moment = here && next ? momentOf(next.entered, flow.from, cansBy(here.good, flow.from, moment)) : null;
  }
  for (let place = start.place; moment !== null && place > goal.place; place -= 1) {
    const [here, earlier] = [flow.stations[place], flow.stations[place - 1]];
    const cans: number = here ? cansBy(here.entered, flow.from, moment) : 0;
    moment = earlier && cans > 0 ? momentOf(earlier.good, flow.from, cans) : null;
  }
  return moment === null ? null : moment + goal.later;
}

/** Whether the step made cans in the minute before. */
export function ran(layout: Layout, flow: Flow, machineId: number, stepId: number, at: EpochMs): boolean {
  const { place, later } = stationOf(layout, stepId);
  const station = flow.stations[place];
  const good = station?.machines.find((machine) => machine.machineId === machineId)?.good ?? station?.good;
  return good !== undefined && cansBy(good, flow.from, at - later) - cansBy(good, flow.from, at - later - 60_000) > 0;
}
