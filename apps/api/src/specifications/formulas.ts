import { type FormulaId, formulaIds } from '#canmaking/seam/derive';

export const isFormula = (text: string | null): text is FormulaId => text !== null && (formulaIds as readonly string[]).includes(text);
