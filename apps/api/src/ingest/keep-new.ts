import type { RowReason } from '#contract/ingest';
import { canKey, cansOfRows } from './cans-of-rows.js';
import { numberTag, spotKey, tagOfKey } from './group-checks.js';
import type { PlacedRow, Refusal, Spot } from './placed-row.js';

/** A reading that is stored; a value of null was there and was taken out by a correction. */
export type StoredPlace = { unitId: number | null; laneId: number | null; can: number; characteristicId: number; position: string; value: number | null; checkId: number; key: string };

type Given = { value: number; row: number };

/** The readings of one can that are to be stored, by row; by spot only from where a second row speaks of the can. */
class FreshCan {
  private readonly rows: PlacedRow[] = [];
  private readonly given = new Map<Spot, Given>();
  private filled = 0;

  add(row: PlacedRow): void { this.rows.push(row); }

  find(spot: Spot): Given | undefined {
    for (; this.filled < this.rows.length; this.filled += 1) {
      const { row, spots, values } = this.rows[this.filled] as PlacedRow;
      spots.forEach((there, index) => { this.given.set(there, { value: values[index] as number, row }); });
    }
    return this.given.get(spot);
  }
}

const withoutRepeats = new WeakMap<readonly Spot[], boolean>();
function isWithoutRepeats(spots: readonly Spot[]): boolean {
  const known = withoutRepeats.get(spots) ?? new Set(spots).size === spots.length;
  withoutRepeats.set(spots, known);
  return known;
}

/**
 * What of the rows of one check is to be stored, how many readings are known already, and what is refused because another
 * value stands at the place. A numbered check of the file is compared with imported checks of that number, and with those
 * that were entered by hand.
 */
export function keepNew(rows: readonly PlacedRow[], there: readonly StoredPlace[]): { fresh: readonly PlacedRow[]; known: number; refusals: Refusal[] } {
  // The usual check, each row the only one of its can and all of it new, is taken whole.
  if (there.length === 0 && cansOfRows(rows).cans.size === rows.length && rows.every(({ spots }) => isWithoutRepeats(spots))) return { fresh: rows, known: 0, refusals: [] };
  const tag = numberTag(rows[0]?.checkNumber ?? '');
  const stored = new Map(there.filter(({ key }) => [null, tag].includes(tagOfKey(key))).map((entry) => [`${canKey(entry)}/${spotKey(entry)}`, entry]));
  const cans = new Map<string, FreshCan>();
  const [fresh, refusals]: [PlacedRow[], Refusal[]] = [[], []];
  let known = 0;
  for (const row of rows) {
    const key = canKey(row);
    const can = cans.get(key) ?? new FreshCan();
    const first = !cans.has(key);
    cans.set(key, can);
    // So is such a row of another check.
    let kept = row;
    if (!first || stored.size > 0 || !isWithoutRepeats(row.spots)) {
      const [spots, values]: [Spot[], number[]] = [[], []];
      const own = new Map<Spot, Given>();
      row.spots.forEach((spot, index) => {
        const value = row.values[index] as number;
        const [old, twin] = [stored.get(`${key}/${spotKey(spot)}`), can.find(spot) ?? own.get(spot)];
        if (old?.value === value || twin?.value === value) known += 1;
        else if (old || twin) refusals.push(refusal(row.row, old, twin));
        else {
          spots.push(spot);
          values.push(value);
          own.set(spot, { value, row: row.row });
        }
      });
      kept = { ...row, spots, values };
    }
    if (kept.values.length === 0) continue;
    can.add(kept);
    fresh.push(kept);
  }
  return { fresh, known, refusals };
}

function refusal(row: number, old: StoredPlace | undefined, twin: Given | undefined): Refusal {
  const make = (code: RowReason['code'], values: RowReason['values'], reason: string, sort: string): Refusal => ({ row, reason, sort, why: { code, values } });
  if (old?.value === null) return make('corrected-away', { check: old.checkId }, `was taken out of check ${old.checkId} by a correction: correct that check if it holds after all`, 'was taken out of a stored check by a correction: correct that check if it holds after all');
  if (old) return make('differs', { check: old.checkId, value: old.value }, `differs from what check ${old.checkId} holds at this place (${old.value}): correct that check instead`, 'differs from what a stored check holds at this place: correct that check instead');
  return make('twice', { row: twin?.row ?? row }, `another value for the place that row ${twin?.row ?? row} has already given`, 'another value for a place that an earlier row has already given');
}
