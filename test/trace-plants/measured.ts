import type { StepKind } from '#canmaking/line/steps';

/** A characteristic of an invented can: millimetres, micrometres for the film, percent for the tightness. */
export type Measured = {
  readonly code: string;
  readonly step: StepKind;
  readonly target: number;
  /** Standard deviations from can to can and within a can, and the step of the gauge. */
  readonly canToCan: number;
  readonly withinCan: number;
  readonly gaugeStep: number;
  readonly positions: number;
  /** Machines of one kind, their units and halves differ by this standard deviation, for good. */
  readonly apart: number;
  /** Steps at a change of coil or end lot. */
  readonly lotToLot: number;
};

const of = (code: string, step: StepKind, target: number, [canToCan, withinCan, apart, lotToLot]: readonly [number, number, number, number], gaugeStep: number, positions: number): Measured => ({
  code, step, target, canToCan, withinCan, apart, lotToLot, gaugeStep, positions,
});

/** All invented, of the order that is common practice for a can of 65 to 99 mm. */
export const measured: readonly Measured[] = [
  of('weld-overlap', 'body-maker', 0.44, [0.012, 0.015, 0.008, 0.002], 0.01, 3),
  of('weld-thickness', 'body-maker', 0.224, [0.004, 0.005, 0.002, 0.001], 0.001, 3),
  of('stripe-film', 'stripe-applicator', 60, [5, 6, 2, 0], 1, 3),
  of('flange-width', 'flanger', 2.6, [0.025, 0.03, 0.02, 0], 0.01, 4),
  of('seam-thickness', 'seamer', 1.06, [0.008, 0.01, 0.01, 0.002], 0.001, 3),
  of('countersink', 'seamer', 3.1, [0.01, 0.012, 0.012, 0], 0.01, 3),
  of('seam-length', 'seamer', 2.9, [0.015, 0.02, 0.015, 0], 0.01, 3),
  of('body-hook', 'seamer', 1.95, [0.02, 0.03, 0.025, 0], 0.01, 3),
  of('cover-hook', 'seamer', 1.9, [0.02, 0.03, 0.025, 0.003], 0.01, 3),
  of('tightness', 'seamer', 90, [4, 0, 2, 0], 5, 1),
];

export function measuredOf(code: string): Measured {
  const found = measured.find((candidate) => candidate.code === code);
  if (!found) throw new RangeError(`code: needs a characteristic of the invented can, ${code} given`);
  return found;
}
