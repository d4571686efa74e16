import type { RatingScale } from '#contract/gauge-studies';

/** One a line, without empty lines and doubled spaces. */
export const linesOf = (text: string): string[] => text.split('\n').map((line) => line.trim().replace(/\s+/g, ' ')).filter((line) => line !== '');

/** Numbers that rise are grades in order; anything else is a list of words. Null under two ratings. */
export function scaleOf(text: string, { steps, least, reject }: { steps: number; least: string; reject: string }): RatingScale | null {
  const words = linesOf(text);
  if (words.length < 2) return null;
  const grades = words.map(Number);
  if (grades.every((grade, i) => Number.isFinite(grade) && (i === 0 || grade > (grades[i - 1] as number)))) return { kind: 'ordinal', grades, steps, least: least.trim() === '' || !Number.isFinite(Number(least)) ? null : Number(least) };
  return { kind: 'nominal', categories: words, reject: linesOf(reject) };
}

/** One number for each master; 'wrong' where one is no number, one is missing or all are the same. */
export function referencesOf(text: string, parts: number): number[] | 'wrong' {
  const values = linesOf(text).map(Number);
  return values.length === parts && values.every(Number.isFinite) && new Set(values).size > 1 ? values : 'wrong';
}

/** Places in the scale of what each part is by a reference; null where nothing is stated, 'wrong' where it does not fit. */
export function standardOf(text: string, scale: RatingScale | null, parts: number): number[] | null | 'wrong' {
  const words = linesOf(text);
  if (words.length === 0 || scale === null) return null;
  const places = words.map((word) => (scale.kind === 'ordinal' ? scale.grades.indexOf(Number(word)) : scale.categories.indexOf(word)));
  return places.length === parts && places.every((place) => place >= 0) ? places : 'wrong';
}
