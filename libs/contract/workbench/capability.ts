import { z } from 'zod';
import { confidence, MOST_VALUES, method, positive, probability, real, subgroups, values, whole } from './method.js';

const count = z.number().int().nonnegative();
const figure = real.nullable();
const interval = z.object({ low: real, high: real }).nullable();
const eachSide = z.object({ below: figure, above: figure });
const limits = {
  lsl: real.nullable().default(null).describe('lower specification limit in the unit of the readings; null = none'),
  usl: real.nullable().default(null).describe('upper specification limit; null = none. At least one of the two is needed'),
};
const target = real.nullable().default(null).describe('for Cpm; null = none');
const chart = z.enum(['xbar-r', 'xbar-s', 'i-mr']).describe('how sigma within subgroups is estimated: Rbar/d2, sbar/c4 (pooled sd for unequal sizes), MRbar/d2(2)');
const scale = z.enum(['open', 'bounded', 'ordinal']).default('open').describe('bounded: a share or percentage; ordinal: a grade. Neither has an index: the answer is a refusal, use fraction-nonconforming');
const testAgainstNormal = z.object({
  n: count, a2: real.describe('unadjusted, mean and sd estimated'), a2Star: real.describe('a2 (1 + 0.75/n + 2.25/n^2)'), p: real,
  pIsUpperBound: z.boolean().describe('p is only known to be below the value given'),
});
const informs = 'The figures inform; whether product is released, the process authority and the customer\'s specification decide.';

const figures = z.object({
  n: count.describe('readings'), subgroups: count.describe('with at least one reading'), mean: real,
  sdWithin: figure, withinGap: z.enum(['no-variation', 'too-few-subgroups', 'several-members-an-individual']).nullable().describe('why sdWithin is null'),
  nuWithin: figure.describe('effective degrees of freedom of sdWithin (Patnaik 1950)'), sdOverall: figure.describe('of all readings, divisor n-1; null where nothing varies'),
  cp: figure, cpk: figure, cpu: figure, cpl: figure, pp: figure, ppk: figure, ppu: figure, ppl: figure, cpm: figure,
  confidence: real,
  intervals: z.object({ cp: interval, cpk: interval, pp: interval, ppk: interval, cpm: interval }).describe('two-sided'),
  ppkLowerBound: figure.describe('one-sided, by Bissell 1990'), cpmLowerBound: figure.describe('one-sided, by Boyles 1991'),
  expectedPpm: z.object({ within: eachSide, overall: eachSide }).describe('parts per million beyond each limit if the characteristic is normal'),
});

export const capabilityIndices = method('capability', {
  summary: 'Capability indices with intervals',
  description: [
    'Cp = (USL-LSL)/(6 sigma within), Cpk the nearer existing side, (mean-LSL)/(3 sigma) or (USL-mean)/(3 sigma); Pp and Ppk the same with the sd of all readings (divisor n-1); Cpm = (USL-LSL)/(6 sqrt(s^2 + (mean-target)^2)).',
    'With one limit the two-sided indices are null. A mean outside gives a negative index. Nothing varies: null.',
    'Intervals: Cp and Pp chi-square (Kushler & Hurley 1992), Cpk and Ppk normal approximation (Bissell 1990), Cpm Boyles 1991, and with one limit only the exact interval of Ppk by the noncentral t (Chou, Owen & Borrego 1990).',
    'Source: Montgomery, Introduction to Statistical Quality Control; Kane 1986, Journal of Quality Technology 18(1); Chan, Cheng & Spiring 1988. All of it assumes a stable, normal stream.', informs,
  ].join(' '),
  body: z.object({ subgroups: subgroups.describe('in time order; for i-mr one reading a subgroup'), chart: chart.default('xbar-r'), ...limits, target, confidence, scale }),
  answer: figures.extend({
    exactOneSided: z.object({ low: real, high: real, lowerBound: real }).nullable().describe('of Ppk, exact; null with two limits, with nothing that varies, beyond a million readings or an index of 100'),
  }),
});

export const capabilityOfUnits = method('capability-by-unit', {
  summary: 'Capability of every head, chuck, lane or machine beside the pooled figure',
  description: [
    'The figures of `capability` for each unit, for all of them together (no subgroup mixes units), and the unit with the smallest Ppk.',
    'A pooled index is an average that hides one bad unit among many. Source: common practice, no source; formulas as in `capability`.', informs,
  ].join(' '),
  body: z.object({
    units: z.array(z.object({ unit: z.string().min(1, 'a name is expected').max(100, 'at most 100 characters are expected'), subgroups })).min(1, 'at least one unit is expected').max(1000, 'at most 1,000 units are expected'),
    chart: chart.default('xbar-r'), ...limits, target, confidence, scale,
  }),
  answer: z.object({
    units: z.array(z.object({ unit: z.string(), figures: figures.nullable().describe('null under two readings') })), pooled: figures,
    worst: z.object({ unit: z.string(), ppk: real }).nullable(), hidden: figure.describe('pooled Ppk less that of the worst unit; above 0 the pooled figure hides it'),
  }),
});

const shapeTest = z.object({ z: real, p: real }).nullable();
export const normality = method('normality', {
  summary: 'Tests of normality, skewness and kurtosis',
  description: [
    'Anderson-Darling with estimated mean and sd, p after D\'Agostino & Stephens 1986, table 4.9. Readings rounded to a coarse gauge step make p too small.',
    'Skewness g1 = m3/m2^1.5 and G1 = g1 sqrt(n(n-1))/(n-2); kurtosis b2 = m4/m2^2 (3 for a normal), excess g2 = b2-3 and G2 = (n-1)((n+1)g2+6)/((n-2)(n-3)) (Joanes & Gill 1998).',
    'Tests of skewness (D\'Agostino 1970, from 8 values), of kurtosis (Anscombe & Glynn 1983, from 20 values) and of both, K2 (D\'Agostino & Pearson 1973). Small p: not normal. A large p does not prove a normal.',
  ].join(' '),
  body: z.object({ values: values.describe('8 or more') }),
  answer: z.object({
    andersonDarling: testAgainstNormal,
    shape: z.object({
      n: count, skewness: real.describe('g1'), skewnessAdjusted: figure.describe('G1'), kurtosis: real.describe('b2'), excess: real.describe('g2'), excessAdjusted: figure.describe('G2'),
      skewnessTest: shapeTest, kurtosisTest: shapeTest, both: z.object({ k2: real, p: real }).nullable(),
    }),
  }),
});

const family = z.enum(['normal', 'lognormal', 'weibull', 'gamma']);
const likelihood = { n: count, logLikelihood: real, aic: real.describe('4 - 2 log-likelihood') };
const threshold = real.describe('known lower end, given and not estimated');
const fit = z.discriminatedUnion('family', [
  z.object({ family: z.literal('normal'), mean: real, sd: real.describe('divisor n'), ...likelihood }),
  z.object({ family: z.literal('lognormal'), threshold, mu: real, sigma: real.describe('of the logarithms, divisor n'), ...likelihood }),
  z.object({ family: z.literal('weibull'), threshold, shape: real, scale: real, ...likelihood }),
  z.object({ family: z.literal('gamma'), threshold, shape: real, scale: real, ...likelihood }),
]);

export const fitDistributions = method('fit-distributions', {
  summary: 'Indices of a skewed characteristic by the percentiles of a fitted distribution',
  description: [
    'Fits normal, lognormal, Weibull and gamma by maximum likelihood, tests each by Anderson-Darling, and chooses the one with the smallest AIC among those whose p is not below the level. When all are below none is chosen (`none-fits`), however much better the best of them is.',
    'p: normal and lognormal D\'Agostino & Stephens 1986; Weibull and gamma by response surfaces fitted to simulations, within 13 % of the simulated levels from 0.9 to 0.01.',
    'Ppu = (USL-x50)/(x99.865-x50), Ppl = (x50-LSL)/(x50-x0.135), Pp = (USL-LSL)/(x99.865-x0.135), Ppk the smaller existing one: ISO 22514-2, ISO/TR 22514-4. The indices rest on tails in which there are few values or none.',
    'Families within two AIC of the chosen one (`notToldApart`) suit the values as well; compare their indices.', informs,
  ].join(' '),
  body: z.object({
    values: values.describe('3 or more; from 8 on the fit is tested'), ...limits,
    families: z.array(family).min(1, 'at least one family is expected').max(4, 'at most 4 families are expected').default(['normal', 'lognormal', 'weibull', 'gamma']),
    threshold: real.default(0).describe('known lower end of lognormal, Weibull and gamma'), level: probability.default(0.05).describe('a family with p below this is refused'), scale,
  }),
  answer: z.object({
    candidates: z.array(z.object({
      family, fit: fit.nullable(), gap: z.enum(['not-above-threshold', 'as-normal']).nullable().describe('why there is no fit: a value is not above the threshold; a gamma so narrow that it is a normal'),
      goodness: z.object({ n: count, a2: real, p: real, pIsUpperBound: z.boolean() }).nullable(), accepted: z.boolean(),
      points: z.object({ low: real, middle: real, high: real }).nullable().describe('x0.135, x50, x99.865'),
      indices: z.object({ pp: figure, ppl: figure, ppu: figure, ppk: figure }).nullable().describe('null without limits'), expectedPpm: eachSide.nullable(), aicAboveBest: figure,
    })),
    chosen: family.nullable(), refusal: z.enum(['none-fits', 'too-few-values']).nullable(), notToldApart: z.array(family),
  }),
});

export const probabilityPlotOfValues = method('probability-plot', {
  summary: 'Probability plot with a band',
  description: [
    'Values in rising order against a family fitted by maximum likelihood. Plotting positions: medians of the order statistics, beta(i, n-i+1), or (i-3/8)/(n+1/4) (Blom 1958).',
    'Band: fitted quantiles at the order-statistic beta quantiles, for each point by itself (David & Nagaraja 2003); among many points some lie outside it even where the family fits.',
    'Above 500 values a part is drawn, with the 50 lowest and the 50 highest.',
  ].join(' '),
  body: z.object({ values: values.describe('3 or more'), family: family.default('normal'), threshold: real.default(0), position: z.enum(['median-rank', 'blom']).default('median-rank'), confidence }),
  answer: z.object({
    fit,
    points: z.array(z.object({
      order: count.describe('from 1'), value: real, p: real.describe('plotting position'),
      score: real.describe('of p on the axis that makes the line straight: normal quantile (lognormal: against ln(value - threshold)), ln(-ln(1-p)) (Weibull, against the same logarithm), quantile of a gamma of the fitted shape and scale 1'),
      line: real, low: real, high: real,
    })),
    leftOut: count, outside: count.describe('drawn values outside the band'),
  }),
});

export const histogramOfValues = method('histogram', {
  summary: 'Counts for a histogram whose bins suit the gauge',
  description: 'Width 2 IQR n^(-1/3) (Freedman & Diaconis 1981), whole gauge steps where the step is given, with edges half a step off what the gauge can read; else 1, 2 or 5 times a power of ten. At most about 200 bins. Count i lies in [edge i, edge i+1).',
  body: z.object({ values, gaugeStep: positive.optional().describe('smallest difference the gauge shows, in the unit of the values') }),
  answer: z.object({ edges: z.array(real), counts: z.array(count) }),
});

export const sampleSizeForIndex = method('capability-sample-size', {
  summary: 'Readings needed to show that an index is not below a target',
  description: [
    'The fewest readings whose one-sided lower confidence bound reaches the target: with the estimate as assumed (no power given), or with the power given when the assumed index is true.',
    'Spread (Cp, Pp): chi-square, exact. Location (Cpk, Ppk, one-sided): noncentral t, exact for one limit; with two limits the confidence holds at least and the power is a little overstated. Beside it the size by the approximation of Bissell 1990.',
    'Source: Franklin 1999, Computers & Industrial Engineering 36(3); Kushler & Hurley 1992. Sigma is taken from all readings, which are one random sample of a stable, normal stream.', informs,
  ].join(' '),
  body: z.object({
    index: z.enum(['spread', 'location']).default('location'), target: positive.max(100, '100 or less is expected').describe('index to be shown'),
    assumed: positive.max(100, '100 or less is expected').describe('index believed true, above the target'), confidence, power: probability.optional(),
  }),
  answer: z.object({
    n: whole(2, MOST_VALUES).nullable().describe('null: more than a million'), needed: figure.describe('smallest estimate from n readings whose bound reaches the target'), approximateN: count.nullable(),
  }),
});

export const fractionOutside = method('fraction-nonconforming', {
  summary: 'Counted share of units outside the limits, with exact bounds',
  description: [
    'For bounded and ordinal characteristics (tightness %, overlap %, grades), which have no capability index, and for any other as a figure without a distribution. A value on a limit is inside. One value a unit: positions round one can are not independent.',
    'Interval and one-sided upper bound of Clopper & Pearson 1934.', informs,
  ].join(' '),
  body: z.object({ values: values.describe('one a unit'), ...limits, confidence }),
  answer: z.object({
    n: count, below: count.nullable(), above: count.nullable(),
    outside: z.object({ fraction: real, low: real, high: real, upperBound: real }).describe('shares 0 to 1 of both sides together'),
    ppm: z.object({ fraction: real, low: real, high: real, upperBound: real }),
  }),
});
