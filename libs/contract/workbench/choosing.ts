import { z } from 'zod';
import { firingSide } from '../rule-names.js';
import { confidence, MOST_VALUES, method, positive, probability, real, subgroups, valuesWithGaps, whole } from './method.js';

const count = z.number().int().nonnegative();
const share = z.number().min(0).max(1);
const kind = z.enum(['xbar-r', 'xbar-s', 'i-mr']);
const label = z.union([z.string().max(100, 'at most 100 characters are expected'), z.number({ error: 'a word or a finite number is expected' })]);
const informs = "The figures inform; what is done with product, the plant's process authority and the customer's specification decide.";

export const partOfVariation = method('variance-components', {
  summary: 'How much of the variation comes from each level of a hierarchy',
  description: [
    'Levels are random and nested, outermost first (unit, can, position); any number of them, even or uneven. Mean squares of the nested analysis of variance are set equal to their expectations; for uneven groups with the coefficients of Searle, Casella & McCulloch 1992, Variance Components, 3.6 and 5.2.',
    'Variances are in the squared unit of the readings. `raw` may be negative, `variance` is cut at 0, `share` is of the sum of the cut ones. The F test is against the next level inside, exact when balanced.',
    'Intervals of components in even hierarchies: modified large samples (Ting et al. 1990).',
    'Source: NIST/SEMATECH e-Handbook 3.2.3.3; Montgomery, Design and Analysis of Experiments, "Nested designs".', informs,
  ].join(' '),
  body: z.object({
    values: valuesWithGaps.describe('readings, null = missing'),
    levels: z.array(z.object({
      name: z.string().min(1, 'a name is expected').max(100, 'at most 100 characters are expected'),
      labels: z.array(label).max(MOST_VALUES, `at most ${MOST_VALUES} labels are expected`).describe('one a reading: the group it is in; counts within its branch only, so every can may be called 1'),
    })).min(1, 'at least one level is expected').max(10, 'at most 10 levels are expected').describe('outermost first'),
    confidence,
  }),
  answer: z.object({
    n: count, balanced: z.boolean(), total: real.describe('sum of the cut components'),
    components: z.array(z.object({
      level: z.string().nullable().describe('null = between readings of one innermost group'), groups: count, ss: real, df: count, ms: real,
      test: z.object({ f: real, p: share }).nullable().describe('null for the innermost, and where that does not vary'),
      raw: real, variance: real, share: share.nullable().describe('null where nothing varies'),
      interval: z.object({ low: real, high: real }).nullable().describe('of the variance, cut at 0; null where the hierarchy is uneven'),
    })).describe('in the order of `levels`, then the readings'),
  }),
});

export const chartToUse = method('recommend-chart', {
  summary: 'Which chart fits readings that come like this, and why',
  description: [
    'Limits have to come from variation that the plotted statistic has too (rational subgroups: Shewhart 1931). Places on one piece do not vary as the next piece does, and checks that always differ by more than their spread make limits from within too narrow: their means are charted as individuals beside their moving range (Woodall & Thomas 1995, IIE Transactions 27).',
    'Ranges up to 10 even readings, sds above or when uneven (Montgomery, Introduction to Statistical Quality Control). A share of 0.2 between checks with p under 0.001 counts as more than their spread: common practice, no source; it may also be a cause that can be found.',
  ].join(' '),
  body: z.object({
    subgroups: subgroups.describe('one list a check, in time order, null = missing'), members: z.enum(['pieces', 'positions']).default('pieces').describe('readings of one check: separate pieces, or places on one piece'),
    products: whole(1, 10_000).default(1).describe('products that share the chart'),
  }),
  answer: z.object({
    chart: z.enum(['i-mr', 'xbar-r', 'xbar-s', 'between-within', 'deviation-from-nominal']),
    reason: z.enum(['several-products', 'single-readings', 'positions-of-one-piece', 'checks-differ-by-more-than-their-spread', 'small-even-subgroups', 'large-or-uneven-subgroups']),
    sizes: z.object({ least: count, most: count }), between: z.object({ share, p: share }).nullable().describe('share of the variation between checks and the p of its F test; null where it cannot be told apart'),
  }),
});

export const memoryOfReadings = method('autocorrelation', {
  summary: 'Whether readings remember the ones before, and what that does to limits',
  description: [
    'Autocorrelation of Box & Jenkins 1976 with the bound z/sqrt(n); all lags together by Ljung & Box 1978, Biometrika 65. A gap (null) breaks the pairs that reach over it.',
    'First-order memory: sigma from moving ranges is short by sqrt(1 - phi) (Vasilopoulos & Stamboulis 1978, Journal of Quality Technology 10), `sigmaRatio` says by how much limits are too narrow.',
  ].join(' '),
  body: z.object({
    values: valuesWithGaps.describe('in time order, null = missing'), lags: whole(1, 1000).nullable().default(null).describe('null = 10, or a quarter of the readings if that is less'),
    confidence, tolerated: probability.default(0.1).describe('correlation that does no harm: 0.1 is common practice, no source'),
  }),
  answer: z.object({
    n: count, lags: z.array(z.object({ lag: count, r: real, pairs: count })), bound: real.describe('a correlation outside -bound to bound is not chance, one lag at a time'),
    together: z.object({ q: real, df: count, p: share }).describe('a small p: the readings remember'),
    memory: z.object({
      phi: real, sigmaRatio: real.describe('true sigma over that from moving ranges'), falseAlarm: share.describe('probability that a point is beyond three of the short sigmas; 0.0027 without memory'),
      every: count.nullable().describe('take every so-manieth reading and the correlation is tolerated; null where it is already, or does not fade'),
    }),
    tooOften: z.boolean().describe('lag 1 is above its bound: readings come too often for limits that take them as independent'),
  }),
});

const position = whole(0, MOST_VALUES);
const cause = z.object({ index: position.describe('subgroup from 0'), cause: z.string().min(1, 'a cause in words is expected').max(1000, 'at most 1,000 characters are expected') });
const outPoint = z.object({ index: count, panel: z.enum(['location', 'spread']), side: firingSide, cause: z.string().nullable() });
const basis = z.object({
  kind, centre: real, sigma: real.describe('within subgroups, of one charted reading'), spreadCentre: real.describe('mean range, mean sd or mean moving range'), subgroups: count, readings: count,
});

export const trialLimits = method('phase-one', {
  summary: 'Trial limits round by round; only points with an assigned cause leave',
  description: [
    'A point beyond a limit leaves the baseline only if a cause was assigned to it; then limits are computed anew, until no such point is out. A point without a cause stays in and is listed: limits made by dropping whatever is out describe a process that never ran.',
    'Source: Shewhart 1931; Montgomery, Introduction to Statistical Quality Control, "Trial control limits". How many subgroups: 20 to 25 there; Quesenberry 1993, Journal of Quality Technology 25, asks for more.',
  ].join(' '),
  body: z.object({
    kind, subgroups: subgroups.describe('in time order; one reading each for `i-mr`'), causes: z.array(cause).max(10_000, 'at most 10,000 causes are expected').default([]),
    needed: whole(2, MOST_VALUES).default(20).describe('subgroups that must be left for limits to be frozen'),
  }),
  answer: z.object({
    rounds: z.array(z.object({ basis, out: z.array(outPoint), removed: z.array(cause) })), outWithoutCause: z.array(outPoint).describe('still out at the end, and kept'),
    unused: z.array(cause).describe('causes of points that never were out; these stay in'), candidate: basis.nullable().describe('what may be frozen; null where too few subgroups are left'),
    subgroups: z.object({ kept: count, needed: count }),
  }),
});

const revision = z.object({
  centre: real, sigma: positive.describe('of one charted reading'), readings: whole(2, 1_000_000_000).describe('behind the limits'),
  freedom: positive.describe('degrees of freedom of the sigma: sum of n - 1 for pooled sds, fewer for ranges'),
});
export const revisionsOfLimits = method('compare-limits', {
  summary: 'How a revision of limits differs from the one before',
  description: 'Shift of the centre in sigmas of the old revision with the t of Welch 1947, ratio of the sigmas with the two-sided F of Fisher 1924; at equal n the ratio is also how much wider the limits are. The t takes readings as independent: where checks differ among themselves it finds too much.',
  body: z.object({ before: revision, after: revision }),
  answer: z.object({
    shift: z.object({ value: real, inSigma: real, t: real, df: real, p: share }), spread: z.object({ ratio: real, f: real, p: share }),
  }),
});
