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
 * What the plant says of its line, by the word of one person: the longest transit is a round figure for full tables at what
 * the person takes for the speed of the line, a little short stopping included; long stops and nights are not in it. The least
 * cans are zero, or, in some plants, a usual filling taken for the least. A third state stretches only between the steps that count.
 */
export function stateLine(seed: number, layout: Layout, flow: Flow, clockMinutes: number, from: EpochMs, until: EpochMs): Stated {
  const dice = diceOf(seed, 'line map');
  const leastHours = dice.spread(0.3, 6);
  const store = { leastHours, mostHours: leastHours + dice.spread(1, 24) };
  const sparse = dice.chance(0.35);
  const person: Person = {
    takesUsualForLeast: dice.chance(0.15), statesCans: dice.chance(0.7), cansPerMinute: layout.cansPerMinute * dice.between(0.9, 1.1),
    shortStops: dice.between(1, 1.3),
  };
  const beyond: string[] = [];
  const flowing = layout.steps.filter(({ id }) => id !== layout.slitter?.id);
  const named = sparse ? flowing.filter(({ kind }) => ['body-maker', 'flanger', 'seamer', 'tester', 'palletizer'].includes(kind)) : flowing;
  const leaveOutInLine = !sparse && dice.chance(0.15);
  const stretches: Stretch[] = [];
  named.slice(1).forEach((to, i) => {
    const before = named[i] as TracedStep;
    const inLine = stationOf(layout, before.id).place === stationOf(layout, to.id).place;
    if (inLine && leaveOutInLine) { beyond.push('short stretch not stated'); return; }
    stretches.push(stretchOf(dice, layout, flow, before, to, { from, until, person, beyond }));
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

/** Drawn once a plant: one person states all stretches, with the same habits. */
type Person = { takesUsualForLeast: boolean; statesCans: boolean; cansPerMinute: number; shortStops: number };
type Knowing = { from: EpochMs; until: EpochMs; person: Person; beyond: string[] };

function stretchOf(dice: Dice, layout: Layout, flow: Flow, before: TracedStep, to: TracedStep, { from, until, person, beyond }: Knowing): Stretch {
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
  // Behind the body makers nothing waits: the belt at its slowest.
  const full = between.length === 0 ? at(seconds, 0.9) : between.reduce((sum, { travelSeconds, holdsCans }) => sum + travelSeconds + (holdsCans / person.cansPerMinute) * 60, 0);
  const longestSeconds = roundUp(full * person.shortStops);
  if (longestSeconds < at(seconds, 0.95)) beyond.push('one passage in twenty longer than stated');
  const stated = { fromStepId: before.id, toStepId: to.id, shortestSeconds: Math.floor(at(seconds, 0) * 0.9), longestSeconds };
  if (between.length === 0 || !person.statesCans) return { ...stated, leastCans: null, mostCans: null };
  const leastCans = person.takesUsualForLeast ? Math.floor(at(onTheWay, 0.03)) : 0;
  if (leastCans > at(onTheWay, 0)) beyond.push('fewer cans on the way than stated');
  return { ...stated, leastCans, mostCans: Math.ceil(between.reduce((sum, { holdsCans }) => sum + holdsCans, 0) * dice.between(1, 1.15)) };
}

/** As people say it: to ten seconds below two minutes, to half minutes below ten, else to whole minutes. */
function roundUp(seconds: number): number {
  const step = seconds < 120 ? 10 : seconds < 600 ? 30 : 60;
  return Math.ceil(seconds / step) * step;
}
