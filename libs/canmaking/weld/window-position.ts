import { requireFinite } from '../require-number.js';

/**
 * Where the set current stands in the weld window: 0 at the cold edge (tear test fails below), 1 at the splash edge.
 * Values outside 0..1 are returned as they are. Common practice, no source. The window belongs to one coil, speed and
 * wire; a window older than the coil says nothing about the coil.
 * @param input currents in ampere
 * @throws RangeError naming the bad input.
 */
export function windowPosition(input: { current: number; coldEdge: number; splashEdge: number }): number {
  const current = requireFinite('current', input.current);
  const coldEdge = requireFinite('coldEdge', input.coldEdge);
  const splashEdge = requireFinite('splashEdge', input.splashEdge);
  if (!(splashEdge > coldEdge)) throw new RangeError(`splashEdge must be above coldEdge ${coldEdge}, got ${splashEdge}`);
  return (current - coldEdge) / (splashEdge - coldEdge);
}
