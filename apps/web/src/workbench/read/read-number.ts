export type DecimalMark = '.' | ',';

const SHAPES = { '.': /^[+-]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?$/i, ',': /^[+-]?(?:\d+,?\d*|,\d+)(?:e[+-]?\d+)?$/i } as const;

/** What one cell says: a number, nothing (a missing reading), or text that is no finite number. Thousands are never grouped. */
export function readNumber(cell: string, mark: DecimalMark): number | 'missing' | 'text' {
  const text = cell.trim();
  if (text === '') return 'missing';
  const plain = text.replace('−', '-');
  if (!SHAPES[mark].test(plain)) return 'text';
  const number = Number(mark === ',' ? plain.replace(',', '.') : plain);
  return Number.isFinite(number) ? number : 'text';
}

/** Digits after the decimal mark, so that figures can be shown as finely as the readings came. */
export function decimalsOf(cell: string, mark: DecimalMark): number {
  const text = cell.trim();
  const at = text.indexOf(mark);
  if (at < 0) return 0;
  const end = text.slice(at + 1).search(/[^\d]/);
  return end < 0 ? text.length - at - 1 : end;
}
