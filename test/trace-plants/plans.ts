import type { StepKind } from '#canmaking/line/steps';
import { type Dice, diceOf } from './dice.js';
import type { Fault } from './draw-fault.js';
import type { Layout } from './layout.js';

/** One plan of one machine. A check of a machine with units picks cans of each unit, one with halves both cans of each body. */
export type Plan = {
  readonly id: number;
  readonly machineId: number;
  readonly stepId: number;
  readonly stepKind: StepKind;
  readonly name: string;
  readonly everyMinutes: number;
  readonly codes: readonly string[];
  /** Cans of a unit, or bodies. */
  readonly cans: number;
  readonly consecutive: boolean;
  /** Overlap of the hooks is derived from the cans of this plan. */
  readonly derivesOverlap: boolean;
};

/** Plans as plants keep them: common practice, no source. What the fault moves is measured unless the fault says otherwise. */
export function drawPlans(seed: number, layout: Layout, fault: Fault): Plan[] {
  const dice = diceOf(seed, 'plans');
  const perStep: [StepKind, string, readonly string[], number, number, boolean][] = [
    ['body-maker', 'Weld', ['weld-overlap', 'weld-thickness'], dice.one([20, 30, 30, 60]), dice.chance(0.7) ? 2 : dice.whole(3, Math.max(3, layout.slitterLanes)), dice.chance(0.75)],
    ['stripe-applicator', 'Side stripe', ['stripe-film'], dice.one([30, 30, 60]), dice.whole(1, 2), false],
    ['flanger', 'Flange', ['flange-width'], dice.one([30, 60, 60, 120]), 1, false],
    ['seamer', 'Seam gauge', ['seam-thickness', 'countersink'], dice.one([30, 60, 60, 120]), 1, false],
    ['seamer', 'Teardown', ['body-hook', 'cover-hook', 'seam-length', 'tightness'], dice.one([120, 240, 240, 480]), 1, false],
  ];
  const left = (code: string) => (code in fault.kind.moves ? fault.unmeasured && fault.kind.step === stepOf(perStep, code) : dice.chance(seldomKept[code] ?? 0));
  const gone = new Set(perStep.flatMap(([, , codes]) => codes).filter(left));
  const overlap = dice.chance(0.4) && !gone.has('body-hook') && !gone.has('cover-hook') && !gone.has('seam-length');
  let id = layout.lineId * 1000;
  return perStep.flatMap(([stepKind, name, all, everyMinutes, cans, consecutive]) => {
    const codes = all.filter((code) => !gone.has(code));
    const step = layout.steps.find(({ kind }) => kind === stepKind);
    if (!step || codes.length === 0) return [];
    return step.machines.map((machine) => {
      id += 1;
      return {
        id, machineId: machine.id, stepId: step.id, stepKind, everyMinutes, codes, cans, consecutive, derivesOverlap: overlap && name === 'Teardown',
        name: `${name} ${machine.code}${stepKind === 'body-maker' ? `, ${cans} ${consecutive ? 'consecutive ' : ''}bodies` : ''}`,
      };
    });
  });
}

/** Shares of the plants that do not keep these. */
const seldomKept: Readonly<Record<string, number>> = { 'seam-length': 0.3, tightness: 0.4, countersink: 0.15, 'weld-thickness': 0.1, 'stripe-film': 0.1 };

const stepOf = (perStep: readonly [StepKind, string, readonly string[], number, number, boolean][], code: string) => perStep.find(([, , codes]) => codes.includes(code))?.[0];

export const jitterMinutes = (dice: Dice, everyMinutes: number): number => dice.normal() * Math.min(8, everyMinutes * 0.1);
