import type { EpochMs } from '#canmaking/units';
import type { LineMap, Stretch, TracedStep } from '#tracing/evidence';
import { type Dice, diceOf } from './dice.js';
import { cansBy, type Flow } from './flow.js';
import type { Layout } from './layout.js';
import { passes, ran, stationOf } from './passing.js';

const MINUTE = 60_000;
/** Blanks wait between slitter and body maker; hours. */
export type Store = { readonly leastHours: number; readonly mostHours: number };
export type Stated = { readonly line: LineMap; readonly store: Store; readonly beyond: readonly string[]; readonly sparse: boolean };

/**
 * What the plant says of its line. Most know their longest transit from experience, stops included; some state the full table
 * at line speed, which a stop exceeds. A third state stretches only between the steps that count.
 */
export function stateLine(seed: number, layout: Layout, flow: Flow, clockMinutes: number, from: EpochMs, until: EpochMs): Stated {
  const dice = diceOf(seed, 'line map');
  const leastHours = dice.spread(0.3, 6);
  const store = { leastHours, mostHours: leastHours + dice.spread(1, 24) };
  const sparse = dice.chance(0.35);
  const fromExperience = dice.chance(0.8);
  const beyond: string[] = [];
  const flowing = layout.steps.filter(({ id }) => id !== layout.slitter?.id);
  const named = sparse ? flowing.filter(({ kind }) => ['body-maker', 'flanger', 'seamer', 'tester', 'palletizer'].includes(kind)) : flowing;
  const leaveOutInLine = !sparse && dice.chance(0.15);
  const stretches: Stretch[] = [];
  named.slice(1).forEach((to, i) => {
    const before = named[i] as TracedStep;
    const inLine = stationOf(layout, before.id).place === stationOf(layout, to.id).place;
    if (inLine && leaveOutInLine) { beyond.push('short stretch not stated'); return; }
    stretches.push(stretchOf(dice, layout, flow, before, to, { from, until, fromExperience, beyond }));
  });
  const bodyMaker = flowing[0];
  if (layout.slitter && bodyMaker && !sparse) {
    stretches.unshift({
      fromStepId: layout.slitter.id, toStepId: bodyMaker.id, leastCans: null, mostCans: null,
      shortestSeconds: Math.floor(store.leastHours * 3600 * 0.9), longestSeconds: Math.ceil(store.mostHours * 3600 * 1.1),
    });
  }
  const { lineId: id, steps, lanes, slitterLanes, slitterLanesKnown } = layout;
  return { line: { id, steps, stretches, lanes, slitterLanes: slitterLanesKnown ? slitterLanes : null, clockMinutes }, store, sparse, beyond: [...new Set(beyond)] };
}

type Knowing = { from: EpochMs; until: EpochMs; fromExperience: boolean; beyond: string[] };

function stretchOf(dice: Dice, layout: Layout, flow: Flow, before: TracedStep, to: TracedStep, { from, until, fromExperience, beyond }: Knowing): Stretch {
  const [first, last] = [stationOf(layout, before.id).place, stationOf(layout, to.id).place];
  const between = layout.stations.slice(first + 1, last + 1);
  const [seconds, onTheWay]: [number[], number[]] = [[], []];
  for (let at = from; at < until; at += 7 * MINUTE) {
    if (!to.machines.some(({ id }) => ran(layout, flow, id, to.id, at))) continue;
    const earlier = passes(layout, flow, to.id, at, before.id);
    if (earlier === null || earlier < from) continue;
    seconds.push((at - earlier) / 1000);
    const [left, came] = [flow.stations[first], flow.stations[last]];
    if (left && came) onTheWay.push(cansBy(left.good, flow.from, at) - cansBy(came.entered, flow.from, at));
  }
  seconds.sort((a, b) => a - b);
  onTheWay.sort((a, b) => a - b);
  const at = (sorted: readonly number[], share: number) => sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? 0;
  const experienced = Math.ceil((at(seconds, 0.997) * 1.05) / 5) * 5 + 5;
  const fullTables = Math.ceil(between.reduce((sum, { travelSeconds, holdsCans }) => sum + travelSeconds + (holdsCans / layout.cansPerMinute) * 60, 0) + (between.length === 0 ? experienced : 0));
  if (!fromExperience && fullTables < at(seconds, 0.997)) beyond.push('transit longer than stated');
  const stated = { fromStepId: before.id, toStepId: to.id, shortestSeconds: Math.floor(at(seconds, 0) * 0.9), longestSeconds: fromExperience ? experienced : fullTables };
  if (between.length === 0 || dice.chance(0.3)) return { ...stated, leastCans: null, mostCans: null };
  // A usual filling, not the least one: some plants take it for the same.
  const usual = dice.chance(0.15);
  const leastCans = usual ? Math.floor(at(onTheWay, 0.03)) : 0;
  if (leastCans > at(onTheWay, 0)) beyond.push('fewer cans on the way than stated');
  return { ...stated, leastCans, mostCans: Math.ceil(between.reduce((sum, { holdsCans }) => sum + holdsCans, 0) * dice.between(1, 1.15)) };
}
