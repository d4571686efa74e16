import { expect, it } from 'vitest';
import { createRandom, xoshiro128StarStar } from './random.js';

it('is xoshiro128**', () => {
  // Made with the authors' C code, as kept in the public repository edorfaus/xoshiro-6502, test-rom/testdata.asm (read).
  const reference = xoshiro128StarStar(0x964d4a0c, 0xd40ab895, 0xad7fdecb, 0x3006f0f0);
  expect(Array.from({ length: 4 }, reference)).toEqual([0xf1391922, 0x6fe53806, 0xa5be2840, 0xf510ee70]);
});

it('depends on seed and label alone', () => {
  const draw = (seed: number, label: string) => { const random = createRandom(seed, label); return Array.from({ length: 20 }, () => random.uniform()); };
  expect(draw(7, 'a')).toEqual(draw(7, 'a'));
  expect(draw(7, 'a')).not.toEqual(draw(7, 'b'));
  expect(draw(7, 'a')).not.toEqual(draw(8, 'a'));
  expect(() => createRandom(0.5, 'a')).toThrow(/seed/);
});

it('draws normal, uniform and Poisson deviates with their means and spreads', () => {
  const random = createRandom(1, 'moments');
  const n = 40_000;
  const normal = Array.from({ length: n }, () => random.normal());
  // Five standard errors: a sound generator fails one of these about once in a million seeds.
  expect(Math.abs(mean(normal))).toBeLessThan(5 / Math.sqrt(n));
  expect(Math.abs(mean(normal.map((z) => z * z)) - 1)).toBeLessThan(5 * Math.sqrt(2 / n));
  expect(normal.filter((z) => Math.abs(z) > 3).length / n).toBeCloseTo(0.0027, 2);
  for (const expected of [0.4, 6, 80]) {
    const counts = Array.from({ length: n }, () => random.poisson(expected));
    expect(Math.abs(mean(counts) - expected)).toBeLessThan(5 * Math.sqrt(expected / n));
    expect(counts.every((count) => Number.isInteger(count) && count >= 0)).toBe(true);
  }
  const uniform = Array.from({ length: n }, () => random.uniform());
  expect(Math.abs(mean(uniform) - 0.5)).toBeLessThan(5 * Math.sqrt(1 / 12 / n));
  expect(uniform.every((u) => u >= 0 && u < 1)).toBe(true);
});

const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;
