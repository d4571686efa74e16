import { smallestWhole } from './smallest-whole.js';

/** Worst average quality that leaves inspection, and the incoming share defective where it does. */
export type OutgoingLimit = { readonly share: number; readonly incoming: number };

const GRID = 400;
const GOLDEN = (Math.sqrt(5) - 1) / 2;
/** The grid is even in the logarithm of the share, from a share that no inspection sees up to 1. */
const FINEST = 1e-9;

/**
 * The highest point of the curve of average outgoing quality: between the neighbours of the best point of a grid the
 * curve has one peak, which is closed in on. In one finite lot only whole numbers of defectives are asked for.
 * Accuracy of the outgoing share 1e-13 relative, of the incoming one 1e-7, as a flat peak allows.
 * @param outgoing average outgoing share at an incoming one
 * @param lot units in a lot whose defectives are whole, null where the share may be any number
 */
export function highestOutgoing(outgoing: (incoming: number) => number, lot: number | null): OutgoingLimit {
  const grid = Array.from({ length: GRID + 1 }, (_, i) => FINEST ** (1 - i / GRID));
  const points = lot === null ? grid : [...new Set(grid.map((share) => Math.round(share * lot)))].map((defective) => defective / lot);
  let best = 0;
  const heights = points.map(outgoing);
  heights.forEach((height, i) => { if (height > (heights[best] as number)) best = i; });
  const low = points[Math.max(0, best - 1)] as number;
  const high = points[Math.min(points.length - 1, best + 1)] as number;
  const incoming = lot === null ? golden(outgoing, low, high) : wholePeak(outgoing, low, high, lot);
  const share = outgoing(incoming);
  return share > 0 ? { share, incoming } : { share: 0, incoming: 0 };
}

function golden(f: (x: number) => number, from: number, to: number): number {
  let [a, b] = [from, to];
  let [left, right] = [b - GOLDEN * (b - a), a + GOLDEN * (b - a)];
  let [fl, fr] = [f(left), f(right)];
  for (let turn = 0; turn < 60; turn += 1) {
    if (fl >= fr) {
      [b, right, fr] = [right, left, fl];
      left = b - GOLDEN * (b - a);
      fl = f(left);
    } else {
      [a, left, fl] = [left, right, fr];
      right = a + GOLDEN * (b - a);
      fr = f(right);
    }
  }
  return (a + b) / 2;
}

/** The first number of defectives after which the curve no longer rises. */
function wholePeak(f: (x: number) => number, from: number, to: number, lot: number): number {
  const [low, high] = [Math.round(from * lot), Math.round(to * lot)];
  return (smallestWhole((d) => f((d + 1) / lot) <= f(d / lot), low, high - 1) ?? high) / lot;
}
