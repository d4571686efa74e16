import { deriveReading, formulas, type FormulaId, type Plate } from '#canmaking/seam/derive';

type Readings = readonly (number | null)[];
/** One subgroup of a check; all that are planned together are of the same cans, in the same order. */
export type GroupMember = { characteristic: string; formula: string | null; readings: Readings };
export type Derivable = { id: number; code: string; formula: FormulaId };

export type CorrectionPlan = {
  /** Subgroups that get other readings: the corrected one, and the derived ones that depend on it. */
  replaced: { characteristic: string; readings: (number | null)[]; basisGone: boolean }[];
  /** Derived subgroups that come into being, since their last missing input was filled in. */
  added: { characteristicId: number; characteristic: string; readings: (number | null)[]; formula: string }[];
  /** Derived readings that were taken away: what they were computed from cannot be reproduced any more. */
  notRecomputed: { characteristic: string; formula: string }[];
};

/** Relative, for the order of additions only: an honest recomputation gives the same double or its neighbour. */
const SAME = 1e-9;

/**
 * What follows from putting `value` at `place` (an index into the readings) of one measured characteristic.
 * A derived reading is computed anew only where the formula version is still the product's, and the plate thickness and
 * factor of today reproduce every reading stored in that subgroup; else two measures would be mixed on one chart, so the
 * reading is taken away instead, and that is said.
 */
export function planCorrection(group: readonly GroupMember[], characteristic: string, place: number, value: number | null, derivable: readonly Derivable[], plate: Plate, k: number): CorrectionPlan {
  const before = new Map(group.map((member) => [member.characteristic, member.readings]));
  const corrected = (before.get(characteristic) ?? []).map((reading, index) => (index === place ? value : reading));
  const after = new Map(before).set(characteristic, corrected);
  const plan: CorrectionPlan = { replaced: [{ characteristic, readings: corrected, basisGone: false }], added: [], notRecomputed: [] };

  for (const { id, code, formula } of derivable) {
    const { inputs, version } = formulas[formula];
    if (!inputs.includes(characteristic) || inputs.some((input) => !before.has(input))) continue;
    const derive = (from: ReadonlyMap<string, Readings>, index: number): number | null => {
      const answer = deriveReading(formula, Object.fromEntries(inputs.map((input) => [input, from.get(input)?.[index] ?? null])), plate, k);
      return answer && 'value' in answer ? answer.value : null;
    };
    const stored = group.find((member) => member.characteristic === code);
    const fresh = derive(after, place);
    if (!stored) {
      const missingBefore = corrected.every((_, index) => derive(before, index) === null);
      if (fresh !== null && missingBefore) plan.added.push({ characteristicId: id, characteristic: code, readings: corrected.map((_, index) => derive(after, index)), formula: version(k) });
      continue;
    }
    const reproducible = stored.formula === version(k) && stored.readings.every((reading, index) => same(reading, derive(before, index)));
    const next = reproducible ? fresh : null;
    const old = stored.readings[place] ?? null;
    if (!reproducible && (old !== null || fresh !== null)) plan.notRecomputed.push({ characteristic: code, formula: stored.formula ?? '' });
    if (next !== old) plan.replaced.push({ characteristic: code, readings: stored.readings.map((reading, index) => (index === place ? next : reading)), basisGone: !reproducible });
  }
  return plan;
}

function same(a: number | null, b: number | null): boolean {
  if (a === null || b === null) return a === b;
  return Math.abs(a - b) <= SAME * Math.max(1, Math.abs(a));
}
