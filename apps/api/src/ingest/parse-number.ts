/** A number as the file writes it; null is an empty cell, undefined is text that is no number. Thousands marks and exponents are not guessed at. */
export function parseNumber(text: string, decimal: '.' | ','): number | null | undefined {
  const trimmed = text.trim();
  if (trimmed === '' || trimmed === '-' || trimmed === '–') return null;
  const pattern = decimal === ',' ? /^[+-]?(\d+(,\d*)?|,\d+)$/ : /^[+-]?(\d+(\.\d*)?|\.\d+)$/;
  if (!pattern.test(trimmed)) return undefined;
  const value = Number(trimmed.replace(',', '.'));
  return Number.isFinite(value) ? value : undefined;
}
