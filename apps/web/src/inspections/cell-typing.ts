/** What a cell knows of its characteristic: the gauge's step says where the point stands, the plausible range when a number is complete. */
export type Typed = { unit: string; gaugeStep: number; low: number | null; high: number | null };

const MOST_PLACES = 6;
/** Choices that still fit as large buttons on a tablet. */
const MOST_CHOICES = 21;

/** How many decimals a gauge of this step shows: 0.01 has two, 0.25 two, 5 none. */
export function placesOf(gaugeStep: number): number {
  if (!(Number.isFinite(gaugeStep) && gaugeStep > 0)) throw new RangeError(`gaugeStep: needs a number above 0, ${gaugeStep} given`);
  return gaugeStep.toFixed(MOST_PLACES).replace(/0+$/, '').split('.')[1]?.length ?? 0;
}

/** True while the text is digits alone and the gauge's step puts a point into them; typing a point ends it for that cell. */
export const isShorthand = (text: string, gaugeStep: number): boolean => placesOf(gaugeStep) > 0 && /^[+-]?\d+$/.test(text.trim());

/** "237" at a step of 0.01 is "2.37". The point is moved in the text, so that no digit is rounded on the way. */
function withPoint(text: string, places: number): string {
  const [, sign = '', digits = ''] = /^([+-]?)(\d+)$/.exec(text) ?? [];
  const padded = digits.padStart(places + 1, '0');
  const whole = padded.slice(0, -places).replace(/^0+(?=\d)/, '');
  return `${sign === '-' ? '-' : ''}${whole}.${padded.slice(-places)}`;
}

/** What the text of a cell stands for, as text: the point put in, a comma made a point, the gauge's own unit left out. */
export function meantText(text: string, { gaugeStep, unit }: Pick<Typed, 'gaugeStep' | 'unit'>): string {
  const bare = withoutUnit(text.trim(), unit);
  return isShorthand(bare, gaugeStep) ? withPoint(bare, placesOf(gaugeStep)) : bare;
}

/** A unit behind the number is dropped where it is the characteristic's own; another one stays, so that it is asked about. */
export function withoutUnit(text: string, unit: string): string {
  const match = /^([+-]?[\d.,]+)\s*(\p{L}+|%)$/u.exec(text);
  if (!match) return text;
  const [, number = '', said = ''] = match;
  return sameUnit(said, unit) ? number : text;
}
const sameUnit = (said: string, unit: string) => said.normalize('NFKC').toLowerCase() === unit.normalize('NFKC').toLowerCase() || (unit.normalize('NFKC') === 'μm' && said.toLowerCase() === 'um');

/** A number with decimal point or comma, or by the gauge's step without one; null where nothing was typed; "unreadable" for anything else. */
export function readCell(text: string, typed?: Pick<Typed, 'gaugeStep' | 'unit'>): number | null | 'unreadable' {
  const plain = (typed ? meantText(text, typed) : text.trim()).replace(',', '.');
  if (plain === '') return null;
  return /^[+-]?(\d+\.?\d*|\.\d+)$/.test(plain) ? Number(plain) : 'unreadable';
}

export const isPlausible = (value: number, { low, high }: Pick<Typed, 'low' | 'high'>): boolean => (low === null || value >= low) && (high === null || value <= high);

/**
 * Whether the number can grow no further: it is plausible as it stands, and one more digit, which makes it at least
 * ten times as large, would not be. Only for digits without a point, and only where the range has an upper end.
 */
export function isComplete(text: string, typed: Typed): boolean {
  if (!/^\d+$/.test(text) || typed.high === null) return false;
  const value = readCell(text, typed);
  return typeof value === 'number' && value > 0 && isPlausible(value, typed) && value * 10 > typed.high;
}

/** The few values that a rating can take, lowest first; null where there are too many for buttons or no ends are known. */
export function choicesOf({ gaugeStep, low, high }: Typed): number[] | null {
  if (low === null || high === null || gaugeStep < 1) return null;
  const count = Math.floor((high - low) / gaugeStep) + 1;
  return count >= 2 && count <= MOST_CHOICES ? Array.from({ length: count }, (_, index) => low + index * gaugeStep) : null;
}
