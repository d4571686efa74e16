import type { EpochMs } from '#canmaking/units';
import type { StreamLimits, TracedCheck, TracedStream } from '#tracing/evidence';
import { type Dice, diceOf } from './dice.js';
import type { Fault } from './draw-fault.js';
import { cansBy, type Flow } from './flow.js';
import type { Layout } from './layout.js';
import type { Level, Where } from './levels.js';
import { type Measured, measuredOf } from './measured.js';
import { ran } from './passing.js';
import { jitterMinutes, type Plan } from './plans.js';

const MINUTE = 60_000;
const endPlate = 0.2;

type Open = { where: Where; plan: Plan; measured: Measured | null; centre: number; points: TracedStream['points'][number][] };

/** True moments of the checks of a plan: due, a little early or late, left out now and then, never while the machine stands. */
function momentsOf(dice: Dice, layout: Layout, flow: Flow, plan: Plan, fault: Fault, missing: number, from: EpochMs, until: EpochMs): EpochMs[] {
  const found: EpochMs[] = [];
  const every = plan.everyMinutes * MINUTE;
  // After the jam nobody looked: the checks of the next hours are the ones that are missing.
  const unseen = fault.kind.name === 'jam without a check after it' && plan.stepKind === 'seamer' ? { from: fault.from, until: fault.from + Math.min(2.5 * every, 5 * 60 * MINUTE) } : null;
  for (let due = from + dice.unit() * every; due < until; due += every) {
    const at = due + jitterMinutes(dice, plan.everyMinutes) * MINUTE;
    if (dice.chance(missing) || at <= from || at >= until || (unseen && at >= unseen.from && at < unseen.until)) continue;
    if (ran(layout, flow, plan.machineId, plan.stepId, at)) found.push(at);
  }
  return found;
}

/** Mean of a can's readings as the gauge shows them. */
function readCan(dice: Dice, { canToCan, withinCan, gaugeStep, positions }: Measured, level: number): number {
  const can = level + dice.normal() * canToCan;
  let sum = 0;
  for (let position = 0; position < positions; position += 1) sum += Math.round((can + dice.normal() * withinCan) / gaugeStep) * gaugeStep;
  return sum / positions;
}

/** Frozen limits from 20 to 60 subgroups of clean production: estimates, so with error. Sigma within subgroups, or from moving ranges where a subgroup is one can (range constant 1.128). */
function limitsFrom(dice: Dice, subgroup: () => number[]): StreamLimits {
  const subgroups = Array.from({ length: dice.whole(20, 60) }, subgroup);
  const means = subgroups.map(meanOf);
  const cans = subgroups[0]?.length ?? 1;
  const sigma = cans > 1
    ? Math.sqrt(meanOf(subgroups.map((members) => { const mean = meanOf(members); return members.reduce((sum, x) => sum + (x - mean) ** 2, 0) / (cans - 1); })))
    : meanOf(means.slice(1).map((mean, i) => Math.abs(mean - (means[i] as number)))) / 1.128;
  return { centre: meanOf(means), sigma };
}

const meanOf = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;

export type Checked = { readonly streams: readonly TracedStream[]; readonly checks: readonly TracedCheck[] };

/**
 * All checks of the records with their readings, by streams: units apart at flanger and seamer, halves apart at the weld.
 * @param recorded moment that is written down for a check's true one, by the log book's clock; late entries included
 */
export function takeChecks(
  seed: number, layout: Layout, flow: Flow, plans: readonly Plan[], fault: Fault, level: Level, span: { from: EpochMs; until: EpochMs }, recorded: (at: EpochMs) => EpochMs,
): Checked {
  const dice = diceOf(seed, 'checks');
  const missing = dice.between(0.05, 0.25);
  const withoutLimits = dice.chance(0.08) ? 0.15 : 0;
  const checks: TracedCheck[] = [];
  const streams: TracedStream[] = [];
  for (const plan of plans) {
    const machine = layout.steps.find(({ id }) => id === plan.stepId)?.machines.find(({ id }) => id === plan.machineId);
    const good = flow.stations[0]?.machines.find(({ machineId }) => machineId === plan.machineId)?.good;
    const halves = plan.stepKind === 'body-maker' && layout.lanes.length > 0 ? layout.lanes.map(({ id }) => id) : [null];
    const places: Where[] = (machine && machine.units.length > 0 ? machine.units.map(({ id }) => id) : [null]).flatMap((unitId) => halves.map((laneId) => ({ stepId: plan.stepId, machineId: plan.machineId, unitId, laneId })));
    const open: Open[][] = places.map((where) => {
      const kept: Open[] = plan.codes.map((code) => ({ where, plan, measured: measuredOf(code), centre: 0, points: [] }));
      return plan.derivesOverlap ? [...kept, { where, plan, measured: null, centre: 0, points: [] }] : kept;
    });
    for (const at of momentsOf(dice, layout, flow, plan, fault, missing, span.from, span.until)) {
      const written = recorded(at);
      checks.push({ id: checks.length + 1, machineId: plan.machineId, at: written, planId: plan.id });
      const first = good ? Math.floor(cansBy(good, flow.from, at) / Math.max(1, layout.lanes.length)) : 0;
      const bodies = Array.from({ length: plan.cans }, (_, i) => first - plan.cans + i - (plan.consecutive ? 0 : dice.whole(0, 400)));
      for (const place of open) {
        // One spindle's share of the cans: the same can shows it in all its characteristics.
        const lucks = bodies.map(() => dice.unit());
        const read = new Map<string, number[]>();
        for (const { measured, where, points } of place) {
          const members = measured
            ? bodies.map((body, i) => readCan(dice, measured, level(measured, where, at, body, lucks[i] as number)))
            : bodies.map((_, i) => (read.get('body-hook')?.[i] ?? 0) + (read.get('cover-hook')?.[i] ?? 0) + endPlate - (read.get('seam-length')?.[i] ?? 0));
          if (measured) read.set(measured.code, members);
          points.push({ at: written, mean: meanOf(members), n: members.length, members });
        }
      }
    }
    for (const place of open) {
      const clean = new Map<string, number[]>();
      for (const { measured, where, points } of place) {
        // Clean production long before the records: no fault reaches back there, and no lot of today.
        const centre = measured ? level(measured, where, Number.NEGATIVE_INFINITY, 1, 1) : 0;
        const cleanCan = (of: Measured, middle: number) => Array.from({ length: plan.cans }, () => readCan(dice, of, middle));
        if (measured) clean.set(measured.code, [centre]);
        const limits = limitsFrom(dice, () => (measured ? cleanCan(measured, centre) : Array.from({ length: plan.cans }, () => {
          const one = (code: string) => readCan(dice, measuredOf(code), clean.get(code)?.[0] ?? 0);
          return one('body-hook') + one('cover-hook') + endPlate - one('seam-length');
        })));
        points.sort((a, b) => a.at - b.at);
        streams.push({
          id: streams.length + 1, characteristic: measured?.code ?? 'seam-overlap', stepKind: plan.stepKind, machineId: where.machineId, laneId: where.laneId, unitId: where.unitId,
          limits: dice.chance(withoutLimits) ? null : limits, points,
        });
      }
    }
  }
  return { streams, checks: checks.sort((a, b) => a.at - b.at) };
}
