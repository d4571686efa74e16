/** Draws that depend on seed and topic alone, so that one part of a plant can change without moving the others. */
export type Dice = {
  /** 0 up to, not including, 1. */
  unit(): number;
  normal(): number;
  between(low: number, high: number): number;
  /** Evenly spread over the logarithm: as many between 1 and 10 as between 10 and 100. */
  spread(low: number, high: number): number;
  /** Whole number, both ends possible. */
  whole(low: number, high: number): number;
  chance(probability: number): boolean;
  one<T>(of: readonly T[]): T;
  weighed<T>(of: readonly { readonly weight: number; readonly value: T }[]): T;
};

/**
 * Small fast counting generator with 128 bits of state (C. Doty-Humphrey, PractRand, from memory), normal deviates after
 * Box and Muller, Annals of Mathematical Statistics 29(2), 1958. Good enough for invented plants.
 * @throws RangeError where the seed is no whole number
 */
export function diceOf(seed: number, topic: string): Dice {
  if (!Number.isSafeInteger(seed)) throw new RangeError(`seed: needs a whole number, ${seed} given`);
  let [a, b, c, counter] = [seed >>> 0, Math.floor(seed / 2 ** 32) >>> 0, 0x51ed270b, 1];
  for (const letter of topic) c = Math.imul(c ^ letter.charCodeAt(0), 0x01000193) >>> 0;
  const next = () => {
    const out = (a + b + counter) >>> 0;
    counter = (counter + 1) >>> 0;
    a = (b ^ (b >>> 9)) >>> 0;
    b = (c + (c << 3)) >>> 0;
    c = (((c << 21) | (c >>> 11)) + out) >>> 0;
    return out;
  };
  for (let turn = 0; turn < 20; turn += 1) next();
  const unit = () => next() / 2 ** 32;
  const one = <T>(of: readonly T[]): T => {
    if (of.length === 0) throw new RangeError('of: needs something to choose from, nothing given');
    return of[Math.floor(unit() * of.length)] as T;
  };
  return {
    unit, one,
    normal: () => Math.sqrt(-2 * Math.log(1 - unit())) * Math.cos(2 * Math.PI * unit()),
    between: (low, high) => low + (high - low) * unit(),
    spread: (low, high) => low * (high / low) ** unit(),
    whole: (low, high) => low + Math.floor(unit() * (high - low + 1)),
    chance: (probability) => unit() < probability,
    weighed: (of) => {
      let left = unit() * of.reduce((sum, { weight }) => sum + weight, 0);
      return (of.find(({ weight }) => { left -= weight; return left < 0; }) ?? one(of)).value;
    },
  };
}
