import { BEYOND_TOLERANCE, type RunRule } from './verdict.js';

/**
 * The rule "at least `needed` of the last `size` points beyond `boundary` sigma on one side, the last one among them".
 * A point that is not beyond may lie anywhere, also on the other side. No full window is needed: `needed` points in a
 * row suffice from the start. Memory: one bit a point, the last point lowest; above in the low bits, below shifted up.
 */
export function zoneWindow(size: number, needed: number, boundary: number): RunRule {
  const mask = 2 ** size - 1;
  const line = boundary + BEYOND_TOLERANCE;
  const met = (bits: number): boolean => (bits & 1) === 1 && ones(bits) >= needed;
  return {
    sees: 'zone',
    start: 0,
    step: (state, z) => {
      const above = ((state << 1) & mask) | (z > line ? 1 : 0);
      const below = (((state >> size) << 1) & mask) | (z < -line ? 1 : 0);
      return above | (below << size);
    },
    fired: (state) => {
      const above = state & mask;
      const below = state >> size;
      if (met(above)) return { side: 'above', back: highest(above) };
      if (met(below)) return { side: 'below', back: highest(below) };
      return null;
    },
  };
}

function ones(bits: number): number {
  let count = 0;
  for (let rest = bits; rest !== 0; rest &= rest - 1) count += 1;
  return count;
}

function highest(bits: number): number {
  return 31 - Math.clz32(bits);
}
