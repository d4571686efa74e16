import { requireFinite } from '../require-number.js';

/** Known, or not known and why: an assumed half or head would send the search to the wrong machine. */
export type Answer<T> = { known: true; value: T } | { known: false; because: string };
const known = <T>(value: T): Answer<T> => ({ known: true, value });
const unknown = (because: string): Answer<never> => ({ known: false, because });

/** What a flange of a can was on the body: the front or back end of the weld, or a cut of the parter. */
export type BodyEnd = 'weld-front' | 'weld-back' | 'parted';

/**
 * Which ends of the body the two flanges of a can were. Can 0 is the leading one: it carries the front end of the weld, the
 * last one carries the back end, and a middle can of three neither. Common practice, no source.
 * @param place of the can in its body, 0 for the leading; null where it is not known
 * @throws RangeError naming the bad input.
 */
export function bodyEndsOf(place: number | null, cansPerBody: number): Answer<{ leading: BodyEnd; trailing: BodyEnd }> {
  requireWhole('cansPerBody', cansPerBody, 1);
  if (place === null) return cansPerBody === 1 ? known({ leading: 'weld-front', trailing: 'weld-back' }) : unknown('which can of the body it was is not recorded');
  requireWhole('place', place, 0, cansPerBody - 1);
  return known({ leading: place === 0 ? 'weld-front' : 'parted', trailing: place === cansPerBody - 1 ? 'weld-back' : 'parted' });
}

/** The can of the body, 0 for the leading, that a fault of one weld end falls on; the others do not carry that end. */
export function canWithWeldEnd(end: 'weld-front' | 'weld-back', cansPerBody: number): number {
  requireWhole('cansPerBody', cansPerBody, 1);
  return end === 'weld-front' ? 0 : cansPerBody - 1;
}

/** Lanes of the slitter, 0 first, as each body maker gets them. */
export function splitLanes(lanes: number, bodyMakers: number, how: 'in-blocks' | 'in-turn'): number[][] {
  requireWhole('lanes', lanes, 1);
  requireWhole('bodyMakers', bodyMakers, 1);
  if (lanes % bodyMakers !== 0) throw new RangeError(`lanes must be a multiple of bodyMakers ${bodyMakers}, got ${lanes}`);
  const each = lanes / bodyMakers;
  return Array.from({ length: bodyMakers }, (_, maker) => Array.from({ length: each }, (__, index) => (how === 'in-blocks' ? maker * each + index : index * bodyMakers + maker)));
}

/** The unit (0 first) that one numbered can or body is known to have come from, by a mark or by sight. */
export type KnownUnit = { number: number; unit: number };

/**
 * How far the numbering of cans is shifted against the units of a turning machine (heads, spindles, pockets) or the lanes of
 * a feed: unit = (number + shift) mod units. Several known cans must agree; where they do not, the counter has slipped
 * between them (a can taken out, a pocket left empty) and no unit is told.
 * @throws RangeError naming the bad input.
 */
export function learnShift(cans: readonly KnownUnit[], units: number): Answer<number> {
  requireWhole('units', units, 1);
  const shifts = new Set(cans.map(({ number, unit }) => {
    requireWhole('number', number);
    requireWhole('unit', unit, 0, units - 1);
    return modulo(unit - number, units);
  }));
  const [shift] = shifts;
  if (shift === undefined) return unknown('no can is known with its unit');
  return shifts.size === 1 ? known(shift) : unknown(`the known cans do not agree: ${[...shifts].sort((a, b) => a - b).join(', ')}`);
}

/** The unit (0 first) of a can by its number; unknown as long as the number or the shift is. */
export function unitByNumber(number: number | null, units: number, shift: Answer<number>): Answer<number> {
  requireWhole('units', units, 1);
  if (number === null) return unknown('the number of the can is not recorded');
  requireWhole('number', number);
  return shift.known ? known(modulo(number + requireWhole('shift', shift.value), units)) : shift;
}

/** The slitter lane of the n-th body of a body maker that gets `lanes` in turn. */
export function laneOfBody(bodyNumber: number | null, lanes: readonly number[], shift: Answer<number>): Answer<number> {
  if (lanes.length === 0) return unknown('the lanes of this body maker are not recorded');
  const place = unitByNumber(bodyNumber, lanes.length, shift);
  return place.known ? known(lanes[place.value] ?? 0) : place;
}

/** After how many cans in a row a fault of one lane comes back: once in as many bodies as the maker gets lanes. */
export function cansBetweenLaneFaults(lanesOfMaker: number, cansPerBody: number): number {
  return requireWhole('lanesOfMaker', lanesOfMaker, 1) * requireWhole('cansPerBody', cansPerBody, 1);
}

const modulo = (value: number, by: number) => ((value % by) + by) % by;

function requireWhole(field: string, value: number, least = Number.NEGATIVE_INFINITY, most = Number.POSITIVE_INFINITY): number {
  requireFinite(field, value);
  if (!Number.isInteger(value) || value < least || value > most) throw new RangeError(`${field} must be a whole number${Number.isFinite(least) ? ` from ${least}` : ''}${Number.isFinite(most) ? ` to ${most}` : ''}, got ${value}`);
  return value;
}
