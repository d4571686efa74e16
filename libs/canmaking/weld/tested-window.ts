import { requireFinite } from '../require-number.js';
import { windowPosition } from './window-position.js';

/** Share of the width at either edge within which a setting is told as near it, in percent. Common practice, no source. */
export const USUAL_NEAR_EDGE = 20;

export type WindowZone = 'below' | 'near-lower' | 'inside' | 'near-upper' | 'above';
/** `percent`: 0 at the lower limit, 100 at the upper one, not cut off. `toLower` and `toUpper`: what is left to each, negative beyond it, in the unit of the setting. */
export type WindowPlace = { percent: number; zone: WindowZone; toLower: number; toUpper: number };

/**
 * Where a reading of the welding current, or of another heat setting, stands in the window that a test proved. The lower
 * limit is the cold edge (the tear test fails below), the upper one the splash edge. Common practice, no source.
 * @param nearEdge percent of the width, 0 up to 50
 * @throws RangeError naming the bad input.
 */
export function placeInWindow(value: number, { lower, upper, nearEdge }: { lower: number; upper: number; nearEdge: number }): WindowPlace {
  requireFinite('nearEdge', nearEdge);
  if (nearEdge < 0 || nearEdge > 50) throw new RangeError(`nearEdge must be 0 to 50 percent, got ${nearEdge}`);
  const percent = 100 * windowPosition({ current: value, coldEdge: lower, splashEdge: upper });
  return { percent, zone: zoneOf(percent, nearEdge), toLower: value - lower, toUpper: upper - value };
}

function zoneOf(percent: number, nearEdge: number): WindowZone {
  if (percent < 0) return 'below';
  if (percent > 100) return 'above';
  if (percent < nearEdge) return 'near-lower';
  return 100 - percent < nearEdge ? 'near-upper' : 'inside';
}
