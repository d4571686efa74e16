import { adjustPs, compareMany, compareTwo } from '#contract/workbench/association';
import { standardisedDifference } from '#statistics/association/effect-size';
import { adjustForMany } from '#statistics/association/false-discovery';
import { equalSpreadTest, oneWayAnova, welchAnova } from '#statistics/association/one-way';
import { everyPair } from '#statistics/association/pairwise';
import { permutationTest } from '#statistics/association/permutation';
import { kruskalWallis, rankSumTest } from '#statistics/association/rank-tests';
import { momentsOf } from '#statistics/association/samples';
import { welchTest } from '#statistics/association/welch';
import { computes, type Method } from '../method.js';

type Refused = { of: string; because: string }[];

export const associationMethods: readonly Method[] = [
  computes(compareTwo, ({ first, second, confidence, draws, seed }, progress) => {
    const refused: Refused = [];
    const one = eachAlone(refused);
    return {
      welch: one('welch', () => welchTest(first, second, { confidence })),
      permutation: one('permutation', () => permutationTest(first, second, { draws, seed, progress })),
      ranks: one('ranks', () => rankSumTest(first, second)),
      effect: one('effect', () => standardisedDifference(first, second, confidence)),
      spread: one('spread', () => equalSpreadTest([first, second])),
      refused,
    };
  }),
  computes(compareMany, ({ samples, adjust, confidence }) => {
    const refused: Refused = [];
    const one = eachAlone(refused);
    return {
      samples: samples.map((sample, i) => momentsOf(sample, 'compareMany', `sample ${i + 1}`)),
      anova: one('anova', () => oneWayAnova(samples)),
      welch: one('welch', () => welchAnova(samples)),
      kruskalWallis: one('kruskalWallis', () => kruskalWallis(samples)),
      spread: one('spread', () => equalSpreadTest(samples)),
      pairs: one('pairs', () => everyPair(samples, { confidence, adjust })),
      refused,
    };
  }),
  computes(adjustPs, ({ ps, method, at }) => {
    const adjusted = adjustForMany(ps, method);
    return { adjusted, discoveries: adjusted.flatMap((p, i) => (p <= at ? [i] : [])) };
  }),
];

/** Samples that do not vary allow one test and not another: each is asked alone, and what it refuses is said. */
function eachAlone(refused: Refused) {
  return <Answer>(of: string, ask: () => Answer): Answer | null => {
    try {
      return ask();
    } catch (error) {
      if (!(error instanceof RangeError)) throw error;
      refused.push({ of, because: error.message });
      return null;
    }
  };
}
