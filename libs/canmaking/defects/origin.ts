import type { StepKind } from '../line/steps.js';

/**
 * A step at which a defect is likely to begin. Weights and assignments are common practice, no source: they order a
 * search and prove nothing.
 */
export type LikelyOrigin = {
  step: StepKind;
  /** Share among the origins of one defect, above 0; they sum to 1. */
  weight: number;
  /** Codes of the measurements in which a fault of this origin would show, wherever they are taken; none where only looking helps. */
  characteristics: readonly string[];
  /** What a fault of one only sits on there: a head, spindle or pocket, a slitter lane or half of the body, or the machine. */
  units: 'unit' | 'lane' | 'machine';
};

export const origin = (step: StepKind, weight: number, units: LikelyOrigin['units'], ...characteristics: string[]): LikelyOrigin => ({ step, weight, characteristics, units });

/** Several sets of origins in one, each with its share; the same step and unit are added up, in the order first met. */
export function mix(parts: readonly { share: number; origins: readonly LikelyOrigin[] }[]): LikelyOrigin[] {
  const added = new Map<string, LikelyOrigin>();
  for (const { share, origins } of parts) {
    for (const { step, weight, units, characteristics } of origins) {
      const key = `${step}/${units}`;
      const before = added.get(key);
      added.set(key, { step, units, weight: (before?.weight ?? 0) + share * weight, characteristics: [...new Set([...(before?.characteristics ?? []), ...characteristics])] });
    }
  }
  return [...added.values()];
}
