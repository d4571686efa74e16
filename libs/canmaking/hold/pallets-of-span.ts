import { requireFinite, requirePositive } from '../require-number.js';
import type { EpochMs } from '../units.js';
import type { HoldSpan, PalletSpan } from './hold-arithmetic.js';

const minute = 60_000;
const MOST_PALLETS = 2_000;

export type PalletFigure = {
  /** Pallets that leave the palletizer in a minute, such as 0.1 for one in ten minutes. */
  readonly palletsPerMinute: number;
  /** A moment at which a pallet was begun; null = not known. */
  readonly boundaryAt: EpochMs | null;
  /** Before the running number, such as `P`. */
  readonly prefix: string;
};

/**
 * The pallets that a span at the palletizer touches, by a steady rate. Rounded outward: a pallet that is touched is held whole, and where
 * it is not known when one was begun, one more is counted and no span is given.
 * @returns how many, and their spans where a beginning is known
 * @throws RangeError naming the bad input, or when more than 2,000 pallets would be touched
 */
export function palletsOfSpan(span: HoldSpan, { palletsPerMinute, boundaryAt, prefix }: PalletFigure): { count: number; pallets: PalletSpan[] } {
  const rate = requirePositive('palletsPerMinute', palletsPerMinute);
  if (!(requireFinite('until', span.until) > requireFinite('from', span.from))) throw new RangeError(`until: needs a moment after from ${span.from}, ${span.until} given`);
  const length = minute / rate;
  // Rounding of the division must not add or lose a pallet where a boundary is hit exactly.
  const slack = 1e-9 * Math.max(1, (span.until - span.from) / length);
  if (boundaryAt === null) return limited(Math.ceil((span.until - span.from) / length - slack) + 1, []);
  const first = Math.floor((span.from - requireFinite('boundaryAt', boundaryAt)) / length + slack);
  const end = Math.ceil((span.until - boundaryAt) / length - slack);
  const { count } = limited(Math.max(1, end - first), []);
  const edge = (index: number) => boundaryAt + (first + index) * length;
  // To whole seconds, outward: the list is read and typed by people.
  const second = 1000;
  return { count, pallets: Array.from({ length: count }, (_, index) => ({ code: `${prefix}${index + 1}`, span: { from: Math.floor(edge(index) / second) * second, until: Math.ceil(edge(index + 1) / second) * second } })) };
}

function limited(count: number, pallets: PalletSpan[]): { count: number; pallets: PalletSpan[] } {
  if (count > MOST_PALLETS) throw new RangeError(`palletsPerMinute: needs a figure and a span of at most ${MOST_PALLETS} pallets, ${count} would be touched`);
  return { count, pallets };
}
