import type { Sheet } from './entry-draft.js';
import type { ChangedThing, QueueItem, SheetBasis } from './queue-item.js';
import { withUnits } from './sheet-units.js';
import { choices, type EntryPlant, sheetOf } from './sheet.js';

export function basisOf(sheet: Sheet): SheetBasis {
  return {
    plan: JSON.stringify([sheet.cans.map(({ number, unitId, laneId }) => [number, unitId, laneId]), sheet.positions, sheet.measured.map(({ code, rating }) => [code, rating]), sheet.counted.map(({ code }) => code)]),
    product: { bodyPlate: sheet.product.bodyPlate, endPlate: sheet.product.endPlate, overlapFactor: sheet.product.overlapFactor },
    specifications: Object.fromEntries(sheet.measured.map(({ code, specification }) => [code, specification?.revision ?? null])),
  };
}

/** The sheet that a queued check was entered on, as the plant has it now; null where something of it is gone. */
export const sheetNow = (plant: EntryPlant, { check, draft }: Pick<QueueItem, 'check' | 'draft'>): Sheet | null => {
  const chosen = choices(plant, { machine: check.machineId, product: check.productId, plan: check.planId ?? null });
  const sheet = chosen.plan?.id === check.planId ? sheetOf(plant, chosen) : null;
  return sheet && withUnits(sheet, draft.units);
};

/** What of a check's ground changed between entering and sending; empty where nothing did. */
export function changedSince(plant: EntryPlant, item: Pick<QueueItem, 'check' | 'basis' | 'draft'>): ChangedThing[] {
  const { check, basis } = item;
  if (!plant.machines.some(({ id }) => id === check.machineId)) return ['machine'];
  if (!plant.products.some(({ id }) => id === check.productId)) return ['product'];
  const sheet = sheetNow(plant, item);
  if (!sheet) return ['plan'];
  const now = basisOf(sheet);
  const plate = (['bodyPlate', 'endPlate', 'overlapFactor'] as const).some((what) => now.product[what] !== basis.product[what]);
  const specification = Object.entries(basis.specifications).some(([code, revision]) => (now.specifications[code] ?? null) !== revision);
  return [...(now.plan === basis.plan ? [] : ['plan' as const]), ...(plate ? ['plate' as const] : []), ...(specification ? ['specification' as const] : [])];
}
