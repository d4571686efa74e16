import type { TracedLane, TracedMachine, TracedStep } from '#tracing/evidence';
import { type Dice, diceOf } from './dice.js';

/** A step with a flow of its own: it stops, waits and rejects by itself. */
export type Station = {
  readonly step: TracedStep;
  readonly cansPerMinute: number;
  readonly rejectShare: number;
  /** Cans taken away before the step that no counter sees: for checks, by hand. */
  readonly pulledShare: number;
  /** Path from the station before, and the most cans that find room on the way. */
  readonly travelSeconds: number;
  readonly holdsCans: number;
  /** After running empty it waits until so many cans are there. */
  readonly slugCans: number;
};
/** Stands in the line behind the body makers and never stops by itself: what goes in comes out so much later. */
export type InLine = { readonly step: TracedStep; readonly secondsAfterBodyMaker: number };

export type Layout = {
  readonly lineId: number;
  readonly steps: readonly TracedStep[];
  readonly lanes: readonly TracedLane[];
  readonly slitter: TracedStep | null;
  readonly slitterLanes: number;
  readonly slitterLanesKnown: boolean;
  readonly cansPerMinute: number;
  readonly stations: readonly Station[];
  readonly inLine: readonly InLine[];
  readonly codedAt: TracedStep;
};

/** One line of an invented plant; ids run on from the lines that the plant has besides. */
export function drawLayout(seed: number): Layout {
  const dice = diceOf(seed, 'layout');
  const line = dice.whole(1, 4);
  let [id, stepId] = [line * 100, line * 20];
  const machine = (code: string, letter = '', units = 0): TracedMachine => {
    id += 1;
    const machineId = id;
    return { id: machineId, code, units: Array.from({ length: units }, (_, i) => { id += 1; return { id: id + 5000, code: `${letter}${i + 1}`, position: i + 1 }; }) };
  };
  const step = (kind: TracedStep['kind'], ...machines: TracedMachine[]): TracedStep => {
    stepId += 1;
    return { id: stepId, kind, machines };
  };

  const doubleHigh = dice.chance(0.4);
  const makers = dice.whole(1, 3);
  const slitterLanes = dice.whole(3, 8);
  const slitter = dice.chance(0.8) ? step('slitter', machine(`SL${line}`, 'L', slitterLanes)) : null;
  const bodyMakers = step('body-maker', ...Array.from({ length: makers }, (_, i) => machine(`BM${line}${i + 1}`)));
  const applicators = step('stripe-applicator', ...Array.from({ length: dice.chance(0.8) ? makers : 1 }, (_, i) => machine(`ST${line}${i + 1}`)));
  const oven = step('curing-oven', machine(`CO${line}`));
  const later = [
    ...(doubleHigh ? [step('parter', machine(`PA${line}`))] : []),
    ...(dice.chance(0.4) ? [step('necker', machine(`NK${line}`))] : []),
    step('flanger', machine(`FL${line}`, 'S', dice.whole(4, 10))),
    ...(dice.chance(0.35) ? [step('beader', machine(`BD${line}`))] : []),
    step('seamer', machine(`SM${line}`, 'H', dice.whole(4, 10))),
    ...(dice.chance(0.85) ? [step('tester', machine(`TE${line}`))] : []),
    step('palletizer', machine(`PZ${line}`)),
  ];
  const stripeAfter = dice.between(2, 6);
  const ovenAfter = stripeAfter + dice.between(10, 45);
  const cansPerMinute = Math.round(dice.between(doubleHigh ? 500 : 220, doubleHigh ? 960 : 480));
  const pulledShare = dice.chance(0.4) ? dice.spread(2e-5, 3e-4) : 0;
  const stations = [bodyMakers, ...later].map((at, i) => station(dice, at, i, cansPerMinute, ovenAfter, pulledShare));
  const codedAtKind = dice.chance(0.6) ? 'seamer' : 'palletizer';
  const codedAt = later.find(({ kind }) => kind === codedAtKind) ?? bodyMakers;
  return {
    lineId: line, steps: [...(slitter ? [slitter] : []), bodyMakers, applicators, oven, ...later],
    lanes: doubleHigh ? [{ id: line * 10 + 1, code: 'A', position: 1 }, { id: line * 10 + 2, code: 'B', position: 2 }] : [],
    slitter, slitterLanes, slitterLanesKnown: dice.chance(0.85), cansPerMinute, stations, codedAt,
    inLine: [{ step: applicators, secondsAfterBodyMaker: stripeAfter }, { step: oven, secondsAfterBodyMaker: ovenAfter }],
  };
}

/** Tables stand before flanger and seamer, a big one before the palletizer; elsewhere only the conveyor holds cans. */
function station(dice: Dice, step: TracedStep, place: number, lineSpeed: number, ovenAfter: number, pulledShare: number): Station {
  const table = { flanger: [1, 5], seamer: [0.5, 5], palletizer: [2, 8] }[step.kind as string] ?? [0.1, 0.3];
  const travelSeconds = (place === 1 ? ovenAfter : 0) + dice.between(5, 25);
  const cansPerMinute = lineSpeed * dice.between(0.97, 1.12) * (place === 0 ? 1.02 : 1);
  // Room for what is under way at full speed, or the belt itself would be the bottleneck; and for what leaves the oven after a stop.
  const holdsCans = Math.ceil((lineSpeed * 1.3 * (travelSeconds + 15)) / 60 + lineSpeed * dice.between(table[0] as number, table[1] as number));
  return {
    step, cansPerMinute, holdsCans, travelSeconds,
    rejectShare: dice.spread(5e-5, step.kind === 'body-maker' ? 3e-3 : 8e-4), pulledShare: place === 0 ? 0 : pulledShare, slugCans: dice.chance(0.5) ? 1 : Math.ceil(lineSpeed * dice.between(0.05, 0.3)),
  };
}
