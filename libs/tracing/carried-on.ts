import { stepOrder } from '#canmaking/line/steps';
import type { Candidate } from './candidates.js';
import type { StepWindow } from './origin.js';
import { factorOf, shiftEvidence } from './shift-evidence.js';
import type { StandardStream } from './standardise.js';

/** A fault that shows in what its own step measures moves what later steps measure of it so often; one that shows in nothing there, seldom. Common practice, no source. */
const [CARRIES, UNSEEN_CARRIES] = [0.6, 0.1];
/** Worked out from readings that are weighed themselves: they tell nothing new. */
const derived = new Set(['seam-overlap', 'percent-overlap', 'free-space', 'body-hook-butting']);
export const isDerived = (characteristic: string): boolean => derived.has(characteristic);

/** Factors, as logarithms, by what later steps measure: for a fault that shows at its own step, and for one that does not. */
export type CarriedOn = { readonly seen: number; readonly unseen: number };

/**
 * What a fault of the whole machine moves at later steps, such as the body hook by the flange width: without it the machine that
 * shows a fault would be taken for the one that makes it. One unit or half reaches a part of the later cans only, and is left out;
 * so is a step without readings of its own, which is judged by the later ones anyway.
 * @param expected codes of the characteristics in which such a defect from that step shows, wherever they are taken
 */
export function carriedOn({ step, machine, pattern }: Candidate, standard: readonly StandardStream[], expected: readonly string[], windows: readonly StepWindow[]): CarriedOn {
  const own = new Set(standard.filter(({ stream }) => stream.machineId === machine.id).map(({ stream }) => stream.characteristic));
  if (own.size === 0 || (pattern !== 'all' && pattern !== 'lot')) return { seen: 0, unseen: 0 };
  const later = standard.filter(({ stream }) => stepOrder(stream.stepKind) > stepOrder(step.kind) && expected.includes(stream.characteristic) && !own.has(stream.characteristic) && !isDerived(stream.characteristic));
  const factors = [...new Set(later.map(({ stream }) => stream.characteristic))].flatMap((code) => {
    const streams = later.filter(({ stream }) => stream.characteristic === code);
    const window = windows.find(({ stepKind }) => stepKind === streams[0]?.stream.stepKind);
    const found = window ? shiftEvidence(streams, window) : null;
    return found ? [factorOf(found.logRatio)] : [];
  });
  const together = (share: number): number => factors.reduce((sum, factor) => sum + Math.log(1 - share + share * factor), 0);
  return { seen: together(CARRIES), unseen: together(UNSEEN_CARRIES) };
}
