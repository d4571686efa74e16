import type { StepKind } from '#canmaking/line/steps';
import type { LineMap, TracedMachine, TracedStep } from './evidence.js';
import type { Lot } from './lots.js';
import type { Pattern } from './origin.js';

/** One place at which the fault may sit, before anything is known of it. */
export type Candidate = {
  readonly step: TracedStep;
  readonly machine: TracedMachine;
  readonly unitId: number | null;
  readonly laneId: number | null;
  readonly pattern: Pattern;
  /** The material lot that may be to blame instead of the machine. */
  readonly lot: Lot | null;
};

/** Steps at which the halves of a body still lie in one piece, so that a fault may be of one half only. */
export const isInOnePiece = (kind: StepKind): boolean => kind === 'body-maker' || kind === 'stripe-applicator' || kind === 'curing-oven' || kind === 'parter';

/**
 * Every machine as a whole, each of its units, each half of its bodies, every n-th body of a body maker (a lane of the
 * slitter), and each lot of material that was on there. Steps after the one at which the code was put on come too: what happens to a can later is no excuse for leaving it out.
 */
export function candidatesOf(line: LineMap, lots: readonly Lot[]): Candidate[] {
  return line.steps.flatMap((step) => step.machines.flatMap((machine): Candidate[] => {
    const whole = { step, machine, unitId: null, laneId: null, lot: null };
    return [
      { ...whole, pattern: 'all' },
      ...machine.units.map((unit): Candidate => ({ ...whole, unitId: unit.id, pattern: 'one' })),
      ...(isInOnePiece(step.kind) ? line.lanes.map((lane): Candidate => ({ ...whole, laneId: lane.id, pattern: 'one' })) : []),
      ...(step.kind === 'body-maker' ? [{ ...whole, pattern: 'periodic' } as const] : []),
      ...lots.filter(({ machineId }) => machineId === machine.id).map((lot): Candidate => ({ ...whole, pattern: 'lot', lot })),
    ];
  }));
}
