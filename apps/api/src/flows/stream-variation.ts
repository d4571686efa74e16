import { formulas } from '#canmaking/seam/derive';
import { mostVariationChecks, type StreamVariation } from '#contract/planner';
import { Problem } from '#contract/problem';
import type { StreamView } from '#contract/specifications';
import type { Tx } from '../platform/work.js';
import { isFormula } from '../specifications/formulas.js';
import { partVariation } from '../specifications/part-variation.js';
import { countOpenSignals, countOtherStreams, findPlanOf, findStreamView, listNewestChecks, sumOutput } from '../specifications/planning.store.js';
import { countParts, listMeasuredOrDerived } from '../specifications/set-up.store.js';

const DAY_MS = 86_400_000;
const SPEED_DAYS = 7;

/** What the Planner starts from: the variation of a stream by its sources, the plan by which it is checked, the speed of its machine. */
export async function streamVariation(tx: Tx, plantId: number, streamId: number, span: { from?: string | undefined; to?: string | undefined }, now: Date): Promise<StreamVariation> {
  const stream = await findStreamView(tx, plantId, streamId);
  if (!stream) throw new Problem('not-found', `There is no stream ${streamId}.`);
  const rows = await listNewestChecks(tx, plantId, streamId, { from: span.from === undefined ? null : new Date(span.from), to: span.to === undefined ? null : new Date(span.to) }, mostVariationChecks + 1);
  const newest = rows.slice(-mostVariationChecks);
  // Readings of another formula version are another measure.
  const used = newest.filter(({ formula }) => formula === newest.at(-1)?.formula);
  const [first, last] = [used[0], used.at(-1)];
  const { cans, readings, mean, components, refusal } = partVariation(used);
  const parts = await countParts(tx, plantId, stream.machine.id);
  return {
    stream, mean, components, refusal,
    used: { checks: used.length, cans, readings, from: first?.at.toISOString() ?? null, to: last?.at.toISOString() ?? null, older: rows.length > newest.length, otherFormula: newest.length - used.length },
    steadiness: {
      openSignals: first && last ? await countOpenSignals(tx, plantId, streamId, first.at, last.at) : 0,
      signalled: used.filter(({ signalled }) => signalled).length, notJudged: used.filter(({ judged }) => !judged).length,
    },
    plan: await planOf(tx, plantId, stream, parts),
    speed: await speedOf(tx, plantId, stream, parts, last?.at ?? now),
  };
}

/** The characteristics that must be measured for this one. */
export const measuredFor = ({ code, formula }: StreamView['characteristic']): readonly string[] => (isFormula(formula) ? formulas[formula].inputs : [code]);

/** Everything that follows from measuring these characteristics, themselves included. */
export async function fedBy(tx: Tx, plantId: number, measured: readonly string[]): Promise<string[]> {
  const known = await listMeasuredOrDerived(tx, plantId);
  return known.filter(({ code, formula }) => (isFormula(formula) ? formulas[formula].inputs.every((input) => measured.includes(input)) : measured.includes(code))).map(({ code }) => code);
}

async function planOf(tx: Tx, plantId: number, stream: StreamView, { units, lanes }: { units: number; lanes: number }): Promise<StreamVariation['plan']> {
  const identity = { id: stream.id, machineId: stream.machine.id, productId: stream.product.id };
  const plan = await findPlanOf(tx, plantId, identity, measuredFor(stream.characteristic));
  if (!plan) return null;
  const { plantId: _plant, retiredAt, ...fields } = plan;
  const otherStreams = await countOtherStreams(tx, plantId, identity, await fedBy(tx, plantId, plan.characteristics));
  return { ...fields, retired: retiredAt !== null, parts: Math.max(1, plan.perUnit ? units : 1) * Math.max(1, plan.perLane ? lanes : 1), otherStreams };
}

async function speedOf(tx: Tx, plantId: number, stream: StreamView, { units, lanes }: { units: number; lanes: number }, to: Date): Promise<StreamVariation['speed']> {
  const output = await sumOutput(tx, plantId, stream.machine.id, new Date(to.getTime() - SPEED_DAYS * DAY_MS), to);
  if (output.first === null || output.cans <= 0 || output.minutes <= 0) return null;
  const days = Math.max(1, Math.ceil((to.getTime() - output.first.getTime()) / DAY_MS));
  // Where units or lanes are kept apart they are taken to make equal shares, as in the suspect window.
  const share = (stream.unit === null ? 1 : Math.max(1, units)) * (stream.lane === null ? 1 : Math.max(1, lanes));
  const machineCansPerMinute = output.cans / output.minutes;
  return { machineCansPerMinute, share, cansPerMinute: machineCansPerMinute / share, hoursPerDay: Math.min(24, output.minutes / 60 / days), days, from: output.first.toISOString(), to: to.toISOString() };
}
