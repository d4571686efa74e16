/**
 * Numbers from 0 to 1: Marsaglia 2003, "Xorshift RNGs", 32 bits, started through a multiplicative hash of the seed. The
 * same seed gives the same numbers.
 * @throws RangeError when the seed is not whole
 */
export function randomNumbers(seed: number): () => number {
  if (!Number.isInteger(seed)) throw new RangeError(`randomNumbers: needs a whole seed, ${String(seed)} given`);
  let state = (Math.imul(seed ^ 0x9e3779b9, 0x85ebca6b) ^ 0x5bd1e995) | 1;
  return () => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return (state >>> 0) / 2 ** 32;
  };
}
