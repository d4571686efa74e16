import { deriveReading, formulas, type FormulaId, type Plate } from '#canmaking/seam/derive';

export type Measured = { code: string; readings: readonly (number | null)[] };
export type DerivedCharacteristic = { characteristicId: number; code: string; readings: (number | null)[]; formula: string; refused: { index: number; why: string }[] };

/**
 * Overlap, butting, free space and the rest, point by point of the same can, for every derived characteristic whose
 * inputs were all measured in the check. The formula version, k included, belongs to the result.
 */
export function deriveCharacteristics(measured: readonly Measured[], derived: readonly { id: number; code: string; formula: FormulaId }[], plate: Plate, k: number): DerivedCharacteristic[] {
  const byCode = new Map(measured.map((entry) => [entry.code, entry.readings]));
  return derived.flatMap(({ id, code, formula }) => {
    const inputs = formulas[formula].inputs;
    if (byCode.has(code) || inputs.some((input) => !byCode.has(input))) return [];
    const length = Math.max(...inputs.map((input) => byCode.get(input)?.length ?? 0));
    const refused: { index: number; why: string }[] = [];
    const readings = Array.from({ length }, (_, index) => {
      const answer = deriveReading(formula, Object.fromEntries(inputs.map((input) => [input, byCode.get(input)?.[index] ?? null])), plate, k);
      if (answer && 'refused' in answer) refused.push({ index, why: answer.refused });
      return answer && 'value' in answer ? answer.value : null;
    });
    return [{ characteristicId: id, code, readings, formula: formulas[formula].version(k), refused }];
  });
}
