import { isStepKind, type StepKind, stepKinds } from '../line/steps.js';
import { likelyOrigins } from './likely-origins.js';
import type { LikelyOrigin } from './origin.js';
import { defects } from './taxonomy.js';

/** What a plant says instead of the trade: how often such a defect begins at a step of its lines. */
export type OriginWeight = { step: string; units: LikelyOrigin['units']; weight: number };

/** Shares typed as hundredths may miss 1 by a little: they are scaled to it. */
const SUM_TOLERANCE = 0.005;

/** What is wrong with a list of weights, as the place in the list (null: the list as a whole) and what is expected there. */
export function weightFaults(weights: readonly OriginWeight[]): { place: number | null; expected: string }[] {
  const faults: { place: number | null; expected: string }[] = [];
  for (const [place, { step, units, weight }] of weights.entries()) {
    if (!isStepKind(step)) faults.push({ place, expected: `a kind of step (${stepKinds.join(', ')}), not "${step}"` });
    if (!(weight > 0 && weight <= 1)) faults.push({ place, expected: `a share above 0 and at most 1, not ${weight}` });
    if (weights.findIndex((other) => other.step === step && other.units === units) < place) faults.push({ place, expected: `each step once: ${step} (${units}) is there twice` });
  }
  const sum = weights.reduce((total, { weight }) => total + weight, 0);
  if (faults.length === 0 && Math.abs(sum - 1) > SUM_TOLERANCE) faults.push({ place: null, expected: `shares that add up to 1 (100 %); they add up to ${Math.round(sum * 1000) / 1000}` });
  return faults;
}

/**
 * Origins after a plant's weights. In which measurements an origin shows is the trade's knowledge of the same step: of this
 * defect, else of all defects that begin there.
 * @throws RangeError for weights that have faults.
 */
export function plantOrigins(defect: string, weights: readonly OriginWeight[]): LikelyOrigin[] {
  const [fault] = weightFaults(weights);
  if (fault) throw new RangeError(`weights: needs ${fault.expected}`);
  const sum = weights.reduce((total, { weight }) => total + weight, 0);
  return weights.flatMap(({ step, units, weight }) => (isStepKind(step) ? [{ step, units, weight: weight / sum, characteristics: showsIn(defect, step, units) }] : []));
}

function showsIn(defect: string, step: StepKind, units: LikelyOrigin['units']): readonly string[] {
  const own = likelyOrigins(defect).filter((origin) => origin.step === step);
  const exact = own.filter((origin) => origin.units === units);
  const known = exact.length > 0 ? exact : own.length > 0 ? own : defects.flatMap(({ code }) => likelyOrigins(code)).filter((origin) => origin.step === step);
  return [...new Set(known.flatMap(({ characteristics }) => characteristics))];
}
