/* Two-parameter Weibull: P(X <= x) = 1 - exp(-(x/scale)^shape). Source: Weibull 1951, Journal of Applied Mechanics 18. */

/** P(X <= x), 0 below 0; accurate in the lower tail. @throws RangeError when shape or scale is not positive and finite or x not finite */
export function weibullCdf(x: number, shape: number, scale: number): number {
  requireArguments(shape, scale, 'weibullCdf');
  if (!Number.isFinite(x)) throw new RangeError(`weibullCdf: needs a finite value, ${x} given`);
  return x <= 0 ? 0 : -Math.expm1(-((x / scale) ** shape));
}

/** The x with weibullCdf(x) = p. @throws RangeError when p is not strictly between 0 and 1, shape or scale not positive and finite, or x beyond the range of numbers */
export function weibullQuantile(p: number, shape: number, scale: number): number {
  requireArguments(shape, scale, 'weibullQuantile');
  if (!(p > 0 && p < 1)) throw new RangeError(`weibullQuantile: needs a probability strictly between 0 and 1, ${p} given`);
  const x = scale * (-Math.log1p(-p)) ** (1 / shape);
  if (!Number.isFinite(x)) throw new RangeError(`weibullQuantile: needs a larger shape or a smaller scale, ${shape} and ${scale} given lead beyond the range of numbers`);
  return x;
}

function requireArguments(shape: number, scale: number, caller: string): void {
  if (!(shape > 0 && Number.isFinite(shape))) throw new RangeError(`${caller}: needs a positive shape, ${shape} given`);
  if (!(scale > 0 && Number.isFinite(scale))) throw new RangeError(`${caller}: needs a positive scale, ${scale} given`);
}
