import { overlapTaper, type Taper } from '#canmaking/weld/taper';
import type { CheckView } from '#contract/inspections';

export type CanTaper = { number: number; lane: string | null; front: number; middle: number | null; back: number; taper: Taper };
export type Tapers = { unit: string; decimals: number; gaugeStep: number; cans: CanTaper[]; unread: number };

const placeOf = (positions: readonly string[], names: readonly string[]) => positions.findIndex((position) => names.includes(position.trim().toLowerCase()));

/** Wedge and bow of the weld overlap of each can of a check; null where it was not read in front and at the back. `unread`: cans that lack one of both. */
export function weldTapers(check: Pick<CheckView, 'cans' | 'positions' | 'characteristics'>): Tapers | null {
  const overlap = check.characteristics.find(({ code }) => code === 'weld-overlap');
  const [front, middle, back] = [placeOf(check.positions, ['front', 'leading']), placeOf(check.positions, ['middle', 'mid']), placeOf(check.positions, ['back', 'trailing'])];
  if (!overlap || front < 0 || back < 0) return null;
  const gaugeStep = 10 ** -overlap.decimals;
  const at = (can: number, place: number) => (place < 0 ? null : overlap.readings[can * check.positions.length + place] ?? null);
  const cans = check.cans.flatMap(({ number, lane }, can): CanTaper[] => {
    const [first, between, last] = [at(can, front), at(can, middle), at(can, back)];
    return first === null || last === null ? [] : [{ number, lane, front: first, middle: between, back: last, taper: overlapTaper({ front: first, middle: between, back: last, gaugeStep }) }];
  });
  return { unit: overlap.unit, decimals: overlap.decimals, gaugeStep, cans, unread: check.cans.length - cans.length };
}
