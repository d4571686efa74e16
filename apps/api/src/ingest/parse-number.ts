/** Powers of ten up to these are exact, and so is a whole number of so many digits: their quotient is then the nearest number to what was written. */
const MOST_DIGITS = 15;
const POWERS = Array.from({ length: MOST_DIGITS + 1 }, (_, places) => 10 ** places);
const [ZERO, NINE, POINT, COMMA] = [48, 57, 46, 44];

/** A number as the file writes it; null is an empty cell, undefined is text that is no number. Thousands marks and exponents are not guessed at. */
export function parseNumber(text: string, decimal: '.' | ','): number | null | undefined {
  const plain = plainNumber(text, decimal === ',' ? COMMA : POINT);
  if (plain !== undefined) return plain;
  const trimmed = text.trim();
  if (trimmed === '' || trimmed === '-' || trimmed === '–') return null;
  const pattern = decimal === ',' ? /^[+-]?(\d+(,\d*)?|,\d+)$/ : /^[+-]?(\d+(\.\d*)?|\.\d+)$/;
  if (!pattern.test(trimmed)) return undefined;
  const value = Number(trimmed.replace(',', '.'));
  return Number.isFinite(value) ? value : undefined;
}

/** Digits with or without a decimal sign, as nearly all cells of a file are, an order of size faster than by pattern; undefined: ask the pattern. */
function plainNumber(text: string, decimal: number): number | undefined {
  let whole = 0;
  let digits = 0;
  let places = -1;
  for (let at = 0; at < text.length; at += 1) {
    const sign = text.charCodeAt(at);
    if (sign >= ZERO && sign <= NINE) {
      whole = whole * 10 + (sign - ZERO);
      digits += 1;
      if (places >= 0) places += 1;
    } else if (sign === decimal && places < 0) places = 0;
    else return undefined;
  }
  if (digits === 0 || digits > MOST_DIGITS) return undefined;
  return places > 0 ? whole / (POWERS[places] as number) : whole;
}
