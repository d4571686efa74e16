/**
 * Upper confidence bound of the proportion defective when none was found among n: 1 - (1-confidence)^(1/n).
 * What a clean sample does prove, and how little: 0 in 100 still allows 3 % at 95 %.
 * Source: Clopper & Pearson 1934, "The use of confidence or fiducial limits illustrated in the case of the binomial",
 * the case of no defective; about 3/n at 95 % (the "rule of three", Hanley & Lippman-Hand 1983).
 * @param n units looked at, sampled at random from the population the bound is for
 * @returns a proportion between 0 and 1
 * @throws RangeError when n is not a whole number of 1 or more, or confidence not strictly between 0 and 1
 */
export function upperBoundZeroFound(n: number, confidence = 0.95): number {
  if (!Number.isInteger(n) || n < 1) throw new RangeError(`upperBoundZeroFound: needs a whole number of units, 1 or more, ${n} given`);
  if (!(confidence > 0 && confidence < 1)) throw new RangeError(`upperBoundZeroFound: needs a confidence strictly between 0 and 1, ${confidence} given`);
  return -Math.expm1(Math.log1p(-confidence) / n);
}
