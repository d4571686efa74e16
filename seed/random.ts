/** Random numbers that depend on seed and label alone. */
export type Random = {
  /** Uniform in [0, 1), 53 bits. */
  uniform(): number;
  /** Standard normal deviate. */
  normal(): number;
  /** Whole number from 0 to `below` − 1. */
  whole(below: number): number;
  between(low: number, high: number): number;
  chance(probability: number): boolean;
  pick<T>(items: readonly [T, ...T[]]): T;
  poisson(mean: number): number;
};

/**
 * A generator for one label, so that a change in one part of the scenario leaves all other parts as they were.
 * Source: xoshiro128**, D. Blackman and S. Vigna, "Scrambled linear pseudorandom number generators",
 * ACM Transactions on Mathematical Software 47(4), 2021; its state is filled by a 32-bit mixing of the FNV-1a hash of
 * seed and label. Normal deviates by the polar method of Marsaglia and Bray, SIAM Review 6(3), 1964.
 * Good enough for scenarios; not for anything secret.
 */
export function createRandom(seed: number, label: string): Random {
  if (!Number.isSafeInteger(seed)) throw new RangeError(`seed must be a whole number, got ${seed}`);
  let mixed = fnv1a(`${seed}/${label}`);
  const mix = () => {
    mixed = (mixed + 0x9e3779b9) | 0;
    let z = mixed;
    z = Math.imul(z ^ (z >>> 16), 0x85ebca6b);
    z = Math.imul(z ^ (z >>> 13), 0xc2b2ae35);
    return (z ^ (z >>> 16)) >>> 0;
  };
  const [a, b, c, d] = [mix(), mix(), mix(), mix()] as const;
  const next = xoshiro128StarStar(a, b, c, d);
  const uniform = () => ((next() >>> 5) * 67_108_864 + (next() >>> 6)) / 9_007_199_254_740_992;

  let spare: number | null = null;
  const normal = () => {
    if (spare !== null) {
      const kept = spare;
      spare = null;
      return kept;
    }
    // Accepted with probability π/4; the bound only guards against a broken generator.
    for (let tries = 0; tries < 1000; tries += 1) {
      const u = 2 * uniform() - 1;
      const v = 2 * uniform() - 1;
      const s = u * u + v * v;
      if (s > 0 && s < 1) {
        const factor = Math.sqrt((-2 * Math.log(s)) / s);
        spare = v * factor;
        return u * factor;
      }
    }
    throw new Error('the random generator does not move');
  };
  const whole = (below: number) => Math.floor(uniform() * below);

  return {
    uniform,
    normal,
    whole,
    between: (low, high) => low + (high - low) * uniform(),
    chance: (probability) => uniform() < probability,
    pick: (items) => items[whole(items.length)] ?? items[0],
    poisson: (mean) => poisson(mean, uniform, normal),
  };
}

/** The generator itself, 32 bits a call, from four words of state. An all-zero state would stay zero for ever: it becomes 1, 0, 0, 0. */
export function xoshiro128StarStar(first: number, b: number, c: number, d: number): () => number {
  let a = (first | b | c | d) === 0 ? 1 : first;
  return () => {
    const result = Math.imul(rotateLeft(Math.imul(b, 5), 7), 9) >>> 0;
    const t = b << 9;
    c ^= a;
    d ^= b;
    b ^= c;
    a ^= d;
    c ^= t;
    d = rotateLeft(d, 11);
    return result;
  };
}

// Counting uniform factors (Knuth) needs about `mean` draws; above 30 the rounded normal is close enough for counts.
function poisson(mean: number, uniform: () => number, normal: () => number): number {
  if (!(mean >= 0)) throw new RangeError(`mean must be zero or more, got ${mean}`);
  if (mean > 30) return Math.max(0, Math.round(mean + Math.sqrt(mean) * normal()));
  const floor = Math.exp(-mean);
  let product = uniform();
  let count = 0;
  while (product > floor && count < 1000) {
    product *= uniform();
    count += 1;
  }
  return count;
}

function rotateLeft(value: number, by: number): number {
  return (value << by) | (value >>> (32 - by));
}

// 32-bit FNV-1a of the UTF-16 code units.
function fnv1a(text: string): number {
  let hash = 0x811c9dc5;
  for (let index = 0; index < text.length; index += 1) hash = Math.imul(hash ^ text.charCodeAt(index), 0x01000193);
  return hash >>> 0;
}
