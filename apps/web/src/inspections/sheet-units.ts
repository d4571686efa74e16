import type { Sheet } from './entry-draft.js';

/** The cans of a plan: so many of the machine, or of each unit, each lane, or each of both. Numbered from `first` on. */
export function cansOf({ units, lanes, cans }: Sheet['every'], first = 1): Sheet['cans'] {
  const [ofUnits, ofLanes] = [units.length > 0 ? units : [null], lanes.length > 0 ? lanes : [null]];
  const places = ofUnits.flatMap((unit) => ofLanes.flatMap((lane) => Array.from({ length: cans }, () => ({ unitId: unit?.id ?? null, unit: unit?.code ?? null, laneId: lane?.id ?? null, lane: lane?.code ?? null }))));
  return places.map((place, index) => ({ number: first + index, ...place }));
}

/**
 * The sheet with the cans of these units only, in the order given. What the machine has no more is left out, and no unit
 * that it has means all of them. Units added at the end leave every other can at its place.
 */
export function withUnits(sheet: Sheet, unitIds: readonly number[]): Sheet {
  const units = [...new Set(unitIds)].flatMap((id) => sheet.every.units.filter((unit) => unit.id === id));
  return { ...sheet, cans: cansOf(units.length === 0 ? sheet.every : { ...sheet.every, units }) };
}

/** The units that this sheet asks for, each once, in its order; empty where the plan does not ask by unit. */
export const unitsAsked = ({ cans, every }: Sheet): { id: number; code: string }[] => [...new Set(cans.map(({ unitId }) => unitId))].flatMap((id) => every.units.filter((unit) => unit.id === id));

/** The units of the machine that it does not ask for. */
export function unitsLeft(sheet: Sheet): { id: number; code: string }[] {
  const asked = new Set(sheet.cans.map(({ unitId }) => unitId));
  return sheet.every.units.filter(({ id }) => !asked.has(id));
}
