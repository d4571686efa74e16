import type { Choices } from '../choices.js';
import { readTyped } from './read-typed.js';

export type Specification = { lsl: number | null; target: number | null; usl: number | null };
export type SpecificationFault = { field: 'lsl' | 'target' | 'usl'; code: 'notNumber' | 'reversed' | 'targetOutside' };

/** The limits as typed, or what is wrong with them; empty fields are limits that do not exist. */
export function readSpecification(choices: Pick<Choices, 'lsl' | 'target' | 'usl'>): { specification: Specification } | { faults: readonly SpecificationFault[] } {
  const [lsl, target, usl] = [readTyped(choices.lsl), readTyped(choices.target), readTyped(choices.usl)];
  const faults: SpecificationFault[] = ([['lsl', lsl], ['target', target], ['usl', usl]] as const).flatMap(([field, value]) => (value === 'bad' ? [{ field, code: 'notNumber' as const }] : []));
  if (lsl === 'bad' || target === 'bad' || usl === 'bad') return { faults };
  if (lsl !== null && usl !== null && lsl >= usl) return { faults: [{ field: 'usl', code: 'reversed' }] };
  if (target !== null && ((lsl !== null && target < lsl) || (usl !== null && target > usl))) return { faults: [{ field: 'target', code: 'targetOutside' }] };
  return { specification: { lsl, target, usl } };
}
