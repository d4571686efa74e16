/**
 * A root of f between low and high, where f has opposite signs, by Brent's method (inverse quadratic steps kept inside a
 * bracket that always shrinks). Source: R. P. Brent 1973, Algorithms for Minimization without Derivatives, chapter 4.
 * @param options.tolerance absolute width of the bracket to stop at, in the unit of the argument; by default the last digits
 * @throws RangeError when the ends are not finite, f has the same sign at both, or f is NaN somewhere
 */
export function findRoot(f: (x: number) => number, low: number, high: number, options: { readonly tolerance?: number } = {}): number {
  if (!(Number.isFinite(low) && Number.isFinite(high))) throw new RangeError(`findRoot: needs a finite interval, ${low} to ${high} given`);
  let [a, b] = [low, high];
  let [fa, fb] = [valueAt(f, a), valueAt(f, b)];
  if (fa === 0) return a;
  if (fb === 0) return b;
  if (fa > 0 === fb > 0) throw new RangeError(`findRoot: needs opposite signs at the ends, ${fa} at ${low} and ${fb} at ${high} given`);
  let [c, fc] = [a, fa];
  let last = b - a;
  let step = last;
  for (let turn = 0; turn < 300; turn += 1) {
    if (fb > 0 === fc > 0) {
      [c, fc] = [a, fa];
      last = b - a;
      step = last;
    }
    if (Math.abs(fc) < Math.abs(fb)) [a, b, c, fa, fb, fc] = [b, c, b, fb, fc, fb];
    const enough = 2 * Number.EPSILON * Math.abs(b) + (options.tolerance ?? 0) / 2;
    const middle = (c - b) / 2;
    if (Math.abs(middle) <= enough || fb === 0) return b;
    let next = middle;
    if (Math.abs(last) >= enough && Math.abs(fa) > Math.abs(fb)) {
      const s = fb / fa;
      let [p, q] = [2 * middle * s, 1 - s];
      if (a !== c) {
        const [r, t] = [fb / fc, fa / fc];
        p = s * (2 * middle * t * (t - r) - (b - a) * (r - 1));
        q = (t - 1) * (r - 1) * (s - 1);
      }
      if (p > 0) q = -q;
      p = Math.abs(p);
      // Interpolation is taken only where it lands inside and gains on the step before last.
      if (2 * p < Math.min(3 * middle * q - Math.abs(enough * q), Math.abs(last * q))) next = p / q;
      else last = middle;
      last = next === middle ? middle : step;
    } else last = middle;
    step = next;
    [a, fa] = [b, fb];
    b += Math.abs(step) > enough ? step : Math.sign(middle) * enough;
    fb = valueAt(f, b);
  }
  return b;
}

function valueAt(f: (x: number) => number, x: number): number {
  const value = f(x);
  if (Number.isNaN(value)) throw new RangeError(`findRoot: needs a function that is a number everywhere in the interval, NaN at ${x} given`);
  return value;
}
