import { z } from 'zod';
import { firingSide, ruleName } from '../rule-names.js';
import { method, positive, probability, real, subgroups, valuesWithGaps, whole } from './method.js';

const MOST = 1_000_000;
const gapsOf = <T extends z.ZodType>(entry: T) => z.array(entry.nullable()).min(1, 'at least one is expected').max(MOST, `at most ${MOST} are expected`);
const count = z.number({ error: 'a whole number is expected' }).int('a whole number is expected').min(0, '0 or more is expected');
const counts = gapsOf(count).describe('whole counts in time order, null = sample missing');
const wholeSizes = z.union([count.min(1), z.array(count).max(MOST)]).describe('units in a sample: one number for all, or one a sample');
const realSizes = z.union([positive, z.array(positive).max(MOST)]).describe('size inspected, may be fractional: one number for all, or one a sample');
const alpha = probability.lt(0.5, 'below 0.5 is expected').default(0.00135).describe('probability of a false alarm on each side');

const judged = {
  rules: z.array(ruleName).max(20).default(['beyond-limits']).describe('run rules to judge the panels by; `beyond-limits` by the limits of the panel, whatever they are'),
  patternsOnSkewed: z.boolean().default(false).describe('true: pattern rules judge ranges, sds, counts and EWMA as well; without it these are judged by their limits only. Gaps, times, cumulative sums and extremes of heads always are'),
  changes: z.array(count).max(MOST).default([]).describe('positions (from 0) of points before which a change was declared: no pattern reaches across one'),
};
const baseline = whole(2, MOST).optional().describe('the first so many subgroups set the limits and all are plotted; left out: all set them');
const weighted = {
  values: valuesWithGaps.optional().describe('plotted values in time order; either these or `subgroups`'),
  subgroups: subgroups.optional().describe('their means are plotted, sigma is that within subgroups over root n; either these or `values`'),
  target: real.optional().describe('left out: the mean of all readings'),
  sigma: positive.optional().describe('sigma of one reading (of one plotted value with `values`); left out: MRbar/d2(2) of the values, Rbar/d2 of the subgroups'),
};
const oneOf = (body: { values?: unknown; subgroups?: unknown }) => (body.values === undefined) !== (body.subgroups === undefined);
const oneOfMessage = { error: 'either `values` or `subgroups` is expected', path: ['values'] };

export const chartBody = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('xbar-r'), subgroups, baseline, ...judged }),
  z.object({ kind: z.literal('xbar-s'), subgroups, baseline, ...judged }),
  z.object({ kind: z.literal('i-mr'), values: valuesWithGaps, baseline, ...judged }),
  z.object({ kind: z.literal('between-within'), subgroups, spread: z.enum(['range', 'sd']).default('range').describe('what the third panel shows'), ...judged }),
  z.object({
    kind: z.literal('deviation-from-nominal'), chart: z.enum(['xbar-r', 'xbar-s', 'i-mr']),
    checks: z.array(z.object({ product: z.string().min(1).max(200), nominal: real, readings: z.array(real.nullable()).max(10_000) })).min(1, 'at least one check is expected').max(MOST),
    significance: probability.default(0.05).describe('below this p the spreads of the products are said to differ'), ...judged,
  }),
  z.object({ kind: z.literal('p'), counts, sizes: wholeSizes, ...judged }),
  z.object({ kind: z.literal('p-prime'), counts, sizes: wholeSizes, ...judged }),
  z.object({ kind: z.literal('np'), counts, size: whole(1, Number.MAX_SAFE_INTEGER), ...judged }),
  z.object({ kind: z.literal('c'), counts, ...judged }),
  z.object({ kind: z.literal('u'), counts, sizes: realSizes, ...judged }),
  z.object({ kind: z.literal('u-prime'), counts, sizes: realSizes, ...judged }),
  z.object({ kind: z.literal('g'), gaps: gapsOf(count).describe('good units between one event and the next, 0 or more; null = unknown'), falseAlarm: alpha, proportion: probability.optional().describe('where it is known'), ...judged }),
  z.object({ kind: z.literal('t'), times: gapsOf(z.number().nonnegative('0 or more is expected')).describe('times between events, any unit'), falseAlarm: alpha, method: z.enum(['exponential', 'power']).default('exponential').describe('power: times to the power 1/3.6 charted as individuals (Nelson 1994)'), ...judged }),
  z.object({
    kind: z.literal('ewma'), ...weighted, lambda: positive.max(1, '1 or less is expected').default(0.2), factor: positive.default(3).describe('half width of the limits in sigmas of the average'),
    limits: z.enum(['exact', 'steady-state']).default('exact'), ...judged,
  }).refine(oneOf, oneOfMessage),
  z.object({
    kind: z.literal('cusum'), ...weighted, k: z.number().nonnegative().default(0.5).describe('allowance, in sigmas of the plotted value'), h: positive.default(5).describe('decision interval, in sigmas of the plotted value'),
    headStart: z.number().nonnegative().default(0).describe('start of both sums, in sigmas, below h; h/2 for a fast initial response'), ...judged,
  }).refine(oneOf, oneOfMessage),
  z.object({
    kind: z.literal('group'), heads: z.array(z.string().min(1).max(100)).min(2).max(1000).describe('names, in the order in which every check lists them'),
    checks: z.array(z.array(z.array(real.nullable()).max(10_000)).max(1000)).min(1).max(MOST).describe('check, head, readings'),
    spread: z.enum(['range', 'sd']).default('range').describe('what sigma is taken from when a head has two or more readings a check'),
    run: whole(2, 100).optional().describe('times in a row the same head is the extreme before it signals; left out: the fewest with 370 checks or more between false alarms'), ...judged,
  }),
]);

const side = z.enum(['above', 'below']);
const perPoint = z.array(real.nullable());
export const chartPanel = z.object({
  statistic: z.enum(['mean', 'individual', 'range', 'sd', 'moving-range', 'p', 'np', 'c', 'u', 'gap', 'time', 'ewma', 'cusum-above', 'cusum-below', 'highest', 'lowest']),
  points: perPoint.describe('null = gap; every list of a panel is as long as this one. `cusum-below` is plotted below zero'),
  centre: perPoint.describe('for each point; median for gaps and times'),
  lower: perPoint.describe('null: nothing can be beyond it'),
  upper: perPoint,
  sigma: perPoint.describe('sigma of the plotted statistic; null with probability limits'),
  out: z.array(z.object({ index: count, side })).describe('points beyond a limit, from 0'),
  rules: z.array(ruleName).describe('those of the rules asked for that may judge this statistic'),
  firings: z.array(z.object({ index: count, rule: ruleName, side: firingSide, firstIndex: count })).describe('`firstIndex`: where the pattern begins'),
});

const optional = real.nullable().optional();
export const chartAnswer = z.object({
  kind: z.enum(['xbar-r', 'xbar-s', 'i-mr', 'between-within', 'deviation-from-nominal', 'p', 'p-prime', 'np', 'c', 'u', 'u-prime', 'g', 't', 'ewma', 'cusum', 'group']),
  panels: z.array(chartPanel),
  notes: z.array(z.enum([
    'rules-left-out', 'no-variation', 'spreads-differ', 'spreads-unknown', 'no-between', 'short-gap-cannot-signal', 'below-means-more-often', 'no-lower-limit',
  ])).describe('`rules-left-out`: pattern rules asked for do not suit some panel; `no-variation`: no limits exist; `spreads-differ`: the products do not vary alike, one pair of limits misleads; `spreads-unknown`: too few readings to compare them; `no-between`: means vary no more than the readings within explain; `short-gap-cannot-signal`: events are so common that even a gap of 0 is no surprise; `below-means-more-often`: a point below the lower limit says events have become MORE frequent'),
  estimates: z.object({
    centre: optional, sigma: optional.describe('of one reading within subgroups, of an individual, or of a plotted value (ewma, cusum)'), spreadCentre: optional.describe('mean range, sd or moving range'),
    sigmaOfMeans: optional, sigmaWithin: optional, sigmaBetween: optional.describe('0 where the means vary no more than the readings within explain'), varianceBetween: optional.describe('before it is cut at 0'), sigmaTotal: optional,
    sigmaZ: optional.describe('Laney 2002: times the binomial or Poisson spread; null where it cannot be had'),
    proportion: optional.describe('of events, unbiased (Haldane 1945)'), proportionMle: optional, meanGap: optional, meanTime: optional,
    falseAlarmBelow: optional.describe('probability that a gap is below the lower limit while nothing has changed'), falseAlarmAbove: optional,
    transformedCentre: optional, transformedSigma: optional,
    target: optional,
  }).describe('figures the kind has, in the unit of the readings; others are left out'),
  products: z.array(z.object({ product: z.string(), checks: count, readings: count, meanDeviation: real.nullable(), sd: real.nullable(), freedom: real })).optional().describe('deviation-from-nominal'),
  equalSpreads: z.object({ statistic: real, freedom: real, p: real }).nullable().optional().describe("Bartlett's test on the spreads of the products"),
  cusum: z.object({
    above: perPoint, below: perPoint.describe('both sums 0 or more'), countAbove: perPoint, countBelow: perPoint.describe('values in a row with a sum above 0'),
    signals: z.array(z.object({ index: count, side, from: count.describe('estimated first value after the shift'), mean: real.describe('estimated mean since then'), shift: real.describe('from the target, in sigmas') })),
  }).optional(),
  group: z.object({
    heads: z.array(z.string()), sigmaFrom: z.enum(['range', 'sd', 'moving-range']),
    highest: z.array(z.array(z.string())), lowest: z.array(z.array(z.string())).describe('names for each check; several when tied'),
    beyond: z.array(z.object({ index: count, head: z.string(), side })),
    run: count, probability: real.describe('that a head is the extreme so often again by chance, heads^-(run-1)'), averageRunLength: real.describe('checks between false alarms on one side'),
    runs: z.array(z.object({ index: count, head: z.string(), side, length: count, from: count })),
  }).optional(),
});

export const chart = method('chart', {
  summary: 'Limits, points and signals of a control chart',
  description: [
    'One chart of the kind asked for, each panel with points, centre, limits and sigma for each point, ready to be drawn, and the firings of the rules asked for.',
    'xbar-r, xbar-s, i-mr: sigma = Rbar/d2, sbar/c4 (pooled sd for unequal sizes), MRbar/d2(2); three-sigma limits of each subgroup\'s own size.',
    'between-within: means by their moving range, and ranges or sds within. deviation-from-nominal: each reading less its product\'s nominal, with Bartlett\'s test that the products vary alike.',
    'p, np, c, u: binomial and Poisson limits, cut where the statistic cannot go. p-prime, u-prime: widened after Laney 2002.',
    'g: exact limits of the geometric distribution; t: of the exponential one (or times to the power 1/3.6). A short gap, below the lower limit, says events have become more frequent.',
    'ewma, cusum: weighted averages and tabular cumulative sums from a target. group: the highest and the lowest of many heads, named, with the test for one head being the extreme too often.',
    'Positions count from 0. Figures inform; whether product is released is for the process authority and the customer\'s specification.',
  ].join(' '),
  body: chartBody,
  answer: chartAnswer,
});
