import { findRoot } from '../numeric/find-root.js';
import { runLengthsOfCusum } from './run-length-of-cusum.js';
import { runLengthsOfEwma } from './run-length-of-ewma.js';

const LONGEST = 1e6;

/**
 * Width of the limits with which an EWMA of this lambda has the wanted mean run length in control, both sides, fixed limits.
 * Source: the equation of Crowder 1989, "Design of exponentially weighted moving average schemes", Journal of Quality
 * Technology 21(3), solved by root finding on runLengthsOfEwma; the run length found agrees to 1e-8.
 * @throws RangeError when lambda is not above 0 and at most 1, or arl not from 2 to 1,000,000
 */
export function designEwma(lambda: number, arl: number): { readonly width: number; readonly arl: number } {
  requireArl(arl, 'designEwma');
  if (!(lambda >= 0.001 && lambda <= 1)) throw new RangeError(`designEwma: needs a lambda from 0.001 to 1, ${lambda} given`);
  const lengthAt = (width: number): number => runLengthsOfEwma({ lambda, width }, [0])[0]?.arl ?? Number.NaN;
  const width = findRoot((at) => Math.log(lengthAt(at) / arl), 0.05, upperEnd(lengthAt, arl, 1, 6), { tolerance: 1e-10 });
  return { width, arl: lengthAt(width) };
}

/**
 * Decision interval h with which cumulative sums of this allowance have the wanted mean run length in control.
 * Source: root finding on runLengthsOfCusum, in place of the nomogram of Goel & Wu 1971, Technometrics 13(2).
 * An allowance below 0.1 is for shifts below 0.2 sigma, which no plant waits for; it would take minutes to compute.
 * @throws RangeError when k is not from 0.1 to 5, or arl not from 2 (and more than plain chance gives with h near 0) to 1,000,000
 */
export function designCusum(k: number, arl: number, sides: 'both' | 'above' = 'both'): { readonly h: number; readonly arl: number } {
  requireArl(arl, 'designCusum');
  if (!(k >= 0.1 && k <= 5)) throw new RangeError(`designCusum: needs an allowance k from 0.1 to 5, ${k} given`);
  const lengthAt = (h: number): number => runLengthsOfCusum({ k, h, sides }, [0])[0]?.arl ?? Number.NaN;
  const least = lengthAt(0.01);
  if (least >= arl) throw new RangeError(`designCusum: needs a run length above ${least.toFixed(1)}, which the allowance alone gives, ${arl} given`);
  const h = findRoot((at) => Math.log(lengthAt(at) / arl), 0.01, upperEnd(lengthAt, arl, 2, 90), { tolerance: 1e-10 });
  return { h, arl: lengthAt(h) };
}

/** A place where the run length is long enough: doubled, so that no far longer one is computed in vain. */
function upperEnd(lengthAt: (at: number) => number, arl: number, from: number, most: number): number {
  for (let at = from; at < most; at *= 1.5) if (lengthAt(at) >= arl) return at;
  return most;
}

function requireArl(arl: number, caller: string): void {
  if (!(arl >= 2 && arl <= LONGEST)) throw new RangeError(`${caller}: needs a run length in control from 2 to ${LONGEST} points, ${arl} given`);
}
