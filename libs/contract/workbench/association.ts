import { z } from 'zod';
import { confidence, MOST_VALUES, method, probability, real, whole } from './method.js';

const share = z.number().min(0).max(1);
const sample = z.array(real).min(2, 'at least two values a sample are expected').max(MOST_VALUES, `at most ${MOST_VALUES} values are expected`);
const adjust = z.enum(['benjamini-hochberg', 'benjamini-yekutieli', 'holm']);
const refused = z.array(z.object({ of: z.string(), because: z.string() })).describe('figures that are null, and what they would need');
const f = z.object({ f: real, df1: real, df2: real, p: share });
const shows = 'A difference shows that something changed, not what changed it.';

export const compareTwo = method('compare-two', {
  summary: 'Two samples: has the level moved?',
  description: [
    'As for readings before and after an event. Welch: difference of the means (second less first, unit of the readings) with interval, variances not taken as equal (Welch 1947).',
    'Permutation: share of the divisions of all readings whose means differ at least as much; every division up to 50,000 of them, else random ones from `seed`, p = (as extreme + 1)/(draws + 1) (Phipson & Smyth 2010).',
    'Ranks: Mann & Whitney 1947, exact without ties below 50 values a sample. Effect: difference in pooled sds without small-sample bias (Hedges 1981, interval by noncentral t) and Cliff 1993 delta, the chance that the second exceeds the first less the opposite, -1 to 1.',
    'Spread: Brown & Forsythe 1974. All ps two-sided. They take readings as independent: readings that remember each other make every p too small.', shows,
  ].join(' '),
  body: z.object({
    first: sample.describe('readings before, or of one machine'), second: sample.describe('readings after, or of the other, same unit'), confidence,
    draws: whole(99, 10_000_000).default(9_999).describe('random divisions where not all can be looked at'), seed: whole(0, 2 ** 31 - 1).default(1).describe('the same seed gives the same answer'),
  }),
  answer: z.object({
    welch: z.object({ difference: real, low: real, high: real, t: real, df: real, p: share }).nullable(),
    permutation: z.object({ difference: real, p: share, divisions: z.number().int(), exact: z.boolean(), standardError: real.describe('of p; 0 when exact') }).nullable(),
    ranks: z.object({ u: real.describe('pairs in which the second is larger, equal ones half'), p: share, exact: z.boolean(), delta: real }).nullable(),
    effect: z.object({ g: real, low: real, high: real }).nullable().describe('difference in pooled sds'), spread: f.nullable(), refused,
  }),
});

export const compareMany = method('compare-many', {
  summary: 'Several samples: is one unlike the others?',
  description: [
    'As for the heads of a machine. One-way analysis of variance (e-Handbook 7.4.3) with eta squared and omega squared, the shares of variation between samples; Welch 1951 where variances differ; Kruskal & Wallis 1952 by ranks, corrected for ties, p from chi-square, effect H/(N - 1); Brown & Forsythe 1974 for the spread.',
    'Then every pair by Welch with Cliff 1993 delta, and ps adjusted for the number of pairs: Benjamini & Yekutieli 2001 by default, as pairs share their samples. The interval of a pair is for that pair alone. Positions count from 0.', shows,
  ].join(' '),
  body: z.object({
    samples: z.array(sample).min(2, 'at least two samples are expected').max(100, 'at most 100 samples are expected').describe('one list of readings a head or machine, same unit'),
    adjust: adjust.default('benjamini-yekutieli'), confidence,
  }),
  answer: z.object({
    samples: z.array(z.object({ n: z.number().int(), mean: real, variance: real })),
    anova: z.object({
      between: z.object({ ss: real, df: z.number().int(), ms: real }), within: z.object({ ss: real, df: z.number().int(), ms: real }), f: real, p: share, etaSquared: share, omegaSquared: share,
    }).nullable(),
    welch: f.nullable(), kruskalWallis: z.object({ h: real, df: z.number().int(), p: share, epsilonSquared: share }).nullable(), spread: f.nullable(),
    pairs: z.array(z.object({ first: z.number().int(), second: z.number().int(), difference: real, low: real, high: real, delta: real, p: share, adjusted: share })).nullable(), refused,
  }),
});

export const adjustPs = method('adjust-for-many', {
  summary: 'Many comparisons at once: how many are chance?',
  description: 'Adjusts ps so that calling those at or below q discoveries keeps the expected share of false ones at q: Benjamini & Hochberg 1995 for independent comparisons, Benjamini & Yekutieli 2001 whatever their dependence; or the chance of any false one: Holm 1979. In the order given.',
  body: z.object({ ps: z.array(z.number({ error: 'a number from 0 to 1 is expected' }).min(0, 'a number from 0 to 1 is expected').max(1, 'a number from 0 to 1 is expected')).min(1, 'at least one p is expected').max(MOST_VALUES), method: adjust.default('benjamini-hochberg'), at: probability.default(0.05).describe('q') }),
  answer: z.object({ adjusted: z.array(share), discoveries: z.array(z.number().int()).describe('positions from 0 of those at or below q') }),
});
