import { nameKey } from './names.js';

/** Ways in which files write the same unit. Both micro signs become one by NFKC. */
const SAME: Record<string, string> = {
  millimetre: 'mm', millimeter: 'mm', millimetres: 'mm', millimeters: 'mm', um: 'μm', micron: 'μm', microns: 'μm', micrometre: 'μm', micrometer: 'μm', micrometres: 'μm', micrometers: 'μm',
  percent: '%', 'per cent': '%', inch: 'in', inches: 'in', '"': 'in', thou: 'mil', degree: '°', degrees: '°', deg: '°', newton: 'n',
};
const KNOWN = new Set(['mm', 'cm', 'm', 'μm', 'in', 'mil', '%', '°', 'n', 'kn', 'nm', 'bar', 'kpa', 'g', 'mg', 'g/m2', 'mg/m2', 'ma', 'a', 'v', '°c']);

/** One spelling for each unit of measure, to compare by. */
export function unitKey(text: string): string {
  const word = nameKey(text);
  return SAME[word] ?? word;
}

/**
 * The unit of measure in a column's name, and the name without it: "Body hook [mm]", "overlap (µm)", "overlap front mm".
 * What stands in brackets and is no unit, such as a place, stays in the name. `others` are further units of the plant.
 */
export function unitInName(column: string, others: readonly string[] = []): { name: string; unit: string | null } {
  const known = (text: string) => KNOWN.has(unitKey(text)) || others.some((other) => unitKey(other) === unitKey(text));
  const bracketed = /^(.*\S)\s*[[(]\s*([^\])]*[^\])\s])\s*[\])]\s*$/.exec(column);
  if (bracketed?.[1] && bracketed[2] && known(bracketed[2])) return { name: bracketed[1], unit: bracketed[2] };
  // A bare last word: only those that are no other word or abbreviation at the end of a name.
  const bare = /^(.*[^\s_/])[\s_/]+(mm|µm|μm|um|inch)\s*$/i.exec(column);
  return bare?.[1] && bare[2] ? { name: bare[1], unit: bare[2] } : { name: column, unit: null };
}
