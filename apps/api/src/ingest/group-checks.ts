import { hash } from 'node:crypto';
import { type NewCheck, newCheck } from '#contract/inspections';
import type { Place, PlacedRow, Spot } from './placed-row.js';

/** What of a check the contract has to look at: cans and readings were held against their bounds when their cells were read, and there are many. */
const frame = newCheck.omit({ cans: true, characteristics: true });

export type ImportCheck = { check: NewCheck; rows: number[]; readings: number };

export const checkKey = (place: Pick<Place, 'machineId' | 'productId' | 'takenAt'>): string => `${place.machineId}/${place.productId}/${place.takenAt}`;
/** Which can of a check it is: numbers are counted by unit and lane. */
export const canKey = ({ unitId, laneId, can }: Pick<Place, 'unitId' | 'laneId' | 'can'>): string => `${unitId ?? 0}/${laneId ?? 0}/${can}`;
/** Where a reading stands on its can. */
export const spotKey = ({ characteristicId, position }: Pick<Spot, 'characteristicId' | 'position'>): string => `${characteristicId}/${position}`;

const digest = (text: string, digits: number) => hash('sha256', text).slice(0, digits);
/** The check number of the file, as the key of its check carries it: a later file finds by it which of several checks of one moment is meant. */
export const numberTag = (checkNumber: string): string => (checkNumber === '' ? '-' : digest(checkNumber, 12));
/** Null: not the key of an imported check. */
export const tagOfKey = (key: string): string | null => /^import:([^:]+):/.exec(key)?.[1] ?? null;

/**
 * One check from the rows of one machine, product, moment and check number, which give each place once. Places without a
 * reading are missing ones, not zeros. The key is made of which places the check holds, so that the same rows make the
 * same key. Answers, instead of a check that would be larger than a check may be, what is expected.
 */
export function groupCheck(rows: readonly PlacedRow[], asMeasured: boolean): ImportCheck | { expected: string; size: { cans: number; positions: number; characteristics: number } } {
  const first = rows[0];
  if (!first) throw new RangeError('groupCheck: a check needs at least one reading');
  const cans = new Map<string, { place: number; number: number; unitId: number | null; laneId: number | null }>();
  const notes = new Set<string>();
  let readings = 0;
  for (const row of rows) {
    const key = canKey(row);
    if (!cans.has(key)) cans.set(key, { place: cans.size, number: row.can, unitId: row.unitId, laneId: row.laneId });
    if (row.note !== null) notes.add(row.note);
    readings += row.values.length;
  }
  const { positions, codes, slots, inOrder } = arrange(rows);
  const size = { cans: cans.size, positions: positions.size, characteristics: codes.size };
  const expected = `at most 200 cans, 24 positions and 40 characteristics at one moment of one machine expected, not ${size.cans}, ${size.positions} and ${size.characteristics}: is the time missing, or is there a column with the number of the check?`;
  if (size.cans > 200 || size.positions > 24 || size.characteristics > 40) return { expected, size };
  const grid = fill(rows, cans, slots, size);
  const parsed = frame.safeParse({
    key: `import:${numberTag(first.checkNumber)}:${digest(`${checkKey(first)} ${placesOf(cans, inOrder, grid, size, readings)}`, 40)}`, machineId: first.machineId, productId: first.productId, takenAt: first.takenAt,
    positions: [...positions.keys()], confirmed: asMeasured, ...(first.inspector === null ? {} : { inspector: first.inspector }), ...(notes.size === 0 ? {} : { note: [...notes].join('; ').slice(0, 8000) }),
  });
  if (!parsed.success) return { expected, size };
  const check: NewCheck = {
    ...parsed.data,
    cans: [...cans.values()].map(({ number, unitId, laneId }) => ({ number, ...(unitId === null ? {} : { unitId }), ...(laneId === null ? {} : { laneId }) })),
    characteristics: [...codes].map(([code, { place, gaugeId }]) => ({ code, ...(gaugeId === null ? {} : { gaugeId }), readings: withNulls(grid[place] as number[]) })),
  };
  return { rows: [...new Set(rows.map(({ row }) => row))], check, readings };
}

/** Readings as a check has them, from a list that has NaN where none is. */
export const withNulls = (values: number[]): (number | null)[] => (values.some(Number.isNaN) ? values.map((value) => (Number.isNaN(value) ? null : value)) : values);

type Cans = ReadonlyMap<string, { place: number }>;
type Slot = { code: number; position: number };
type Slots = ReadonlyMap<Spot, Slot>;
type Arranged = { positions: Map<string, number>; codes: Map<string, { place: number; gaugeId: number | null }>; slots: Map<Spot, Slot>; /** Spots in an order that does not depend on the rows. */ inOrder: (readonly [string, Slot])[] };
type Size = { cans: number; positions: number; characteristics: number };

const arrangements = new WeakMap<readonly Spot[], { gaugeId: number | null; arranged: Arranged }>();

/** Positions and characteristics in the order in which they come, and where each spot stands in a grid of them; found again where all rows read the same spots, as in most files. */
function arrange(rows: readonly PlacedRow[]): Arranged {
  const { spots, gaugeId } = rows[0] as PlacedRow;
  if (rows.some((row) => row.spots !== spots || row.gaugeId !== gaugeId)) return arrangeAnew(rows);
  const known = arrangements.get(spots);
  if (known && known.gaugeId === gaugeId) return known.arranged;
  const arranged = arrangeAnew(rows);
  arrangements.set(spots, { gaugeId, arranged });
  return arranged;
}

function arrangeAnew(rows: readonly PlacedRow[]): Arranged {
  const positions = new Map<string, number>();
  const codes = new Map<string, { place: number; gaugeId: number | null }>();
  const slots = new Map<Spot, Slot>();
  let last: readonly Spot[] = [];
  for (const { spots, gaugeId } of rows) {
    if (spots === last) continue;
    last = spots;
    for (const spot of spots) {
      if (slots.has(spot)) continue;
      if (!positions.has(spot.position)) positions.set(spot.position, positions.size);
      if (!codes.has(spot.characteristic)) codes.set(spot.characteristic, { place: codes.size, gaugeId });
      slots.set(spot, { code: (codes.get(spot.characteristic) as { place: number }).place, position: positions.get(spot.position) as number });
    }
  }
  return { positions, codes, slots, inOrder: sorted([...slots].map(([spot, slot]) => [spotKey(spot), slot] as const)) };
}

/** A grid of cans by positions for each characteristic; NaN where nothing was read. */
function fill(rows: readonly PlacedRow[], cans: Cans, slots: Slots, size: Size): number[][] {
  const grid = Array.from({ length: size.characteristics }, () => new Array<number>(size.cans * size.positions).fill(NaN));
  let [last, own]: [readonly Spot[], Slot[]] = [[], []];
  for (const row of rows) {
    const at = (cans.get(canKey(row)) as { place: number }).place * size.positions;
    if (row.spots !== last) [last, own] = [row.spots, row.spots.map((spot) => slots.get(spot) as Slot)];
    for (let index = 0; index < own.length; index += 1) {
      const { code, position } = own[index] as Slot;
      (grid[code] as number[])[at + position] = row.values[index] as number;
    }
  }
  return grid;
}

/** Which places of a check are given, as one text that does not depend on the order of rows and columns. */
function placesOf(cans: Cans, sortedSpots: Arranged['inOrder'], grid: readonly number[][], { positions }: Size, readings: number): string {
  const sortedCans = sorted([...cans].map(([key, { place }]) => [key, place] as const));
  const given = readings === sortedCans.length * sortedSpots.length ? 'all' : sortedCans.map(([, place]) => sortedSpots.map(([, slot]) => (Number.isNaN((grid[slot.code] as number[])[place * positions + slot.position]) ? '0' : '1')).join(''));
  return JSON.stringify([sortedCans.map(([key]) => key), sortedSpots.map(([key]) => key), given]);
}

const sorted = <Value>(entries: (readonly [string, Value])[]) => entries.sort(([one], [other]) => (one < other ? -1 : one > other ? 1 : 0));
