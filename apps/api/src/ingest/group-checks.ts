import { hash } from 'node:crypto';
import { type NewCheck, newCheck } from '#contract/inspections';
import { remember } from '../platform/remember.js';
import { type CansOfRows, cansOfRows } from './cans-of-rows.js';
import type { Place, PlacedRow, Spot } from './placed-row.js';

/** What of a check the contract has to look at: cans and readings were held against their bounds when their cells were read, and there are many. */
const frame = newCheck.omit({ cans: true, characteristics: true });

export type ImportCheck = { check: NewCheck; rows: number[]; readings: number };

export const checkKey = (place: Pick<Place, 'machineId' | 'productId' | 'takenAt'>): string => `${place.machineId}/${place.productId}/${place.takenAt}`;
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
  const { cans, places } = cansOfRows(rows);
  const notes = new Set<string>();
  let readings = 0;
  for (const row of rows) {
    if (row.note !== null) notes.add(row.note);
    readings += row.values.length;
  }
  const { positions, codes, slots, inOrder } = arrange(rows);
  const size = { cans: cans.size, positions: positions.size, characteristics: codes.size };
  const expected = `at most 200 cans, 24 positions and 40 characteristics at one moment of one machine expected, not ${size.cans}, ${size.positions} and ${size.characteristics}: is the time missing, or is there a column with the number of the check?`;
  if (size.cans > 200 || size.positions > 24 || size.characteristics > 40) return { expected, size };
  const grid = fill(rows, places, slots, size);
  const parsed = frame.safeParse({
    key: `import:${numberTag(first.checkNumber)}:${digest(`${checkKey(first)} ${placesOf(cans, inOrder, grid, size, readings)}`, 40)}`, machineId: first.machineId, productId: first.productId, takenAt: first.takenAt,
    positions: listOfPositions(positions), confirmed: asMeasured, ...(first.inspector === null ? {} : { inspector: first.inspector }), ...(notes.size === 0 ? {} : { note: [...notes].join('; ').slice(0, 8000) }),
  });
  if (!parsed.success) return { expected, size };
  const check: NewCheck = {
    ...parsed.data, positions: listOfPositions(positions),
    cans: listOfCans(cans),
    characteristics: [...codes].map(([code, { place, gaugeId }]) => ({ code, ...(gaugeId === null ? {} : { gaugeId }), readings: withNulls(grid[place] as number[]) })),
  };
  return { rows: [...new Set(rows.map(({ row }) => row))], check, readings };
}

// Checks with the same cans and positions share their lists.
const listOfPositions = remember((positions: Arranged['positions']): string[] => [...positions.keys()]);
const listOfCans = remember((cans: CansOfRows['cans']): NewCheck['cans'] => [...cans.values()].map(({ number, unitId, laneId }) => ({ number, ...(unitId === null ? {} : { unitId }), ...(laneId === null ? {} : { laneId }) })));

/** Readings as a check has them, from a list that has NaN where none is. */
export function withNulls(values: number[]): (number | null)[] {
  // Place by place: handed to a function, each of a million numbers would become an object.
  for (let at = 0; at < values.length; at += 1) if (Number.isNaN(values[at])) return values.map((value) => (Number.isNaN(value) ? null : value));
  return values;
}

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

/** To be copied: a copy of plain numbers is an array of plain numbers to the engine, while one that is made by its length has holes, and reading it makes objects. */
const emptyGrid = remember((length: number) => Array.from({ length }, () => NaN));

/** A grid of cans by positions for each characteristic; NaN where nothing was read. */
function fill(rows: readonly PlacedRow[], places: CansOfRows['places'], slots: Slots, size: Size): number[][] {
  const empty = emptyGrid(size.cans * size.positions);
  const grid = Array.from({ length: size.characteristics }, () => empty.slice());
  let [last, own]: [readonly Spot[], Slot[]] = [[], []];
  for (const [place, row] of rows.entries()) {
    const at = (places[place] as number) * size.positions;
    if (row.spots !== last) [last, own] = [row.spots, row.spots.map((spot) => slots.get(spot) as Slot)];
    for (let index = 0; index < own.length; index += 1) {
      const { code, position } = own[index] as Slot;
      (grid[code] as number[])[at + position] = row.values[index] as number;
    }
  }
  return grid;
}

/** Which places of a check are given, as one text that does not depend on the order of rows and columns. */
function placesOf(cans: CansOfRows['cans'], sortedSpots: Arranged['inOrder'], grid: readonly number[][], { positions }: Size, readings: number): string {
  const { all, sortedCans } = wholeOf(cans)(sortedSpots);
  if (readings === sortedCans.length * sortedSpots.length) return all;
  const given = sortedCans.map(([, place]) => sortedSpots.map(([, slot]) => (Number.isNaN((grid[slot.code] as number[])[place * positions + slot.position]) ? '0' : '1')).join(''));
  return textOfPlaces(sortedCans, sortedSpots, given);
}

type Sorted = readonly (readonly [string, unknown])[];
const textOfPlaces = (cans: Sorted, spots: Sorted, given: 'all' | string[]): string => JSON.stringify([cans.map(([key]) => key), spots.map(([key]) => key), given]);

/** Of the cans and spots of a check, which are those of the check before in most files: the text where all places are given. */
const wholeOf = remember((cans: CansOfRows['cans']) => {
  const sortedCans = sorted([...cans].map(([key, { place }]) => [key, place] as const));
  return remember((spots: Arranged['inOrder']) => ({ sortedCans, all: textOfPlaces(sortedCans, spots, 'all') }));
});

const sorted = <Value>(entries: (readonly [string, Value])[]) => entries.sort(([one], [other]) => (one < other ? -1 : one > other ? 1 : 0));
