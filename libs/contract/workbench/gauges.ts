import { z } from 'zod';
import { chartPanel } from './charts.js';
import { confidence, MOST_VALUES, method, positive, probability, real, values, whole } from './method.js';

const MOST_ROWS = 100_000;
const count = z.number().int().nonnegative();
const figure = real.nullable();
const interval = z.object({ low: real, high: real });
const maybe = interval.nullable();
const informs = "The figures inform; whether a gauge may release product, the plant's process authority and the customer's specification decide.";

const study = {
  tolerance: positive.nullable().default(null).describe('width of the specification, USL - LSL, in the unit of the readings; null = none'),
  multiplier: positive.default(6).describe('sds held against the tolerance: 6 covers 99.73 % of a normal characteristic, 5.15 covers 99 %'),
  confidence,
};
const cells = (outer: string, middle: string) => z.array(z.array(z.array(real).max(10_000, 'at most 10,000 trials are expected')).max(10_000, `at most 10,000 ${middle} are expected`)).min(2, `at least two ${outer} are expected`).max(MOST_ROWS, `at most 100,000 ${outer} are expected`);

const meanSquare = z.object({ ss: real, df: count, ms: real });
const fTest = z.object({ f: real, p: real }).nullable().describe('null where the divisor does not vary');
const variation = z.object({
  raw: real.describe('variance as the mean squares give it; may be negative'), variance: real.describe('cut at 0'), sd: real, interval: interval.describe('of the sd, from the raw variance, cut at 0'),
  ofVariance: figure.describe('share of the total variance, 0 to 1'), ofStudy: figure.describe('share of the total sd, 0 to 1; these shares do not add up to 1'),
  ofTolerance: figure.describe('multiplier times sd over the tolerance, 1 = all of it'), ofToleranceInterval: maybe,
});
const separation = {
  distinctCategories: count.nullable().describe('floor(sqrt(2) sd part / sd gauge); null where the gauge does not vary'),
  distinctCategoriesInterval: z.object({ low: count, high: count.nullable() }).nullable().describe('`high` null: no number is too large'),
  gaugeOfStudyInterval: maybe.describe("of the gauge's share of the total sd"),
};
const total = z.object({ ss: real, df: count });

export const crossedGauge = method('gauge-crossed', {
  summary: 'Gauge study, every appraiser measures every part',
  description: [
    'Analysis of variance of parts x appraisers x trials, parts and appraisers random: parts and appraisers are tested against the interaction, the interaction against repeatability, and pooled into it when its p is above `poolAbove`.',
    'Components are differences of mean squares, each cut at 0 and kept raw beside it. Shares are parts of 1.',
    'Intervals: modified large samples (Graybill & Wang 1980; Ting et al. 1990; Burdick, Borror & Montgomery 2005). They are wide with two or three appraisers, and rightly so.',
    'Source: Montgomery & Runger 1993, Quality Engineering 6.', informs,
  ].join(' '),
  body: z.object({
    readings: cells('parts', 'appraisers').describe('part, appraiser, trial; balanced, 2 or more of each'),
    poolAbove: probability.nullable().default(0.25).describe('null keeps the interaction whatever its p'), ...study,
  }),
  answer: z.object({
    anova: z.object({ part: meanSquare, appraiser: meanSquare, interaction: meanSquare, repeatability: meanSquare, total }),
    tests: z.object({ part: fTest, appraiser: fTest, interaction: fTest }), interaction: z.enum(['kept', 'pooled']),
    repeatability: variation, appraiser: variation, appraiserByPart: variation.nullable().describe('null where it is pooled'),
    reproducibility: variation.describe('appraiser and interaction together'), gauge: variation.describe('repeatability and reproducibility together'), part: variation, total: variation, ...separation,
  }),
});

const rangeVariation = z.object({ sd: real, interval: maybe, ofVariance: figure, ofStudy: figure, ofTolerance: figure, ofToleranceInterval: maybe });
export const averageRangeGauge = method('gauge-average-range', {
  summary: 'Gauge study by averages and ranges',
  description: [
    'Sds from the mean range of the trials, the range of the appraisers\' means and the range of the parts\' means, each divided by d2* = sqrt(d2^2 + d3^2/k) (d2 itself above 15 ranges). It cannot see an interaction of appraiser and part.',
    'Intervals: Satterthwaite 1946 with the effective df of a range (Patnaik 1950); none for reproducibility, which is a difference.',
    'Source: the automotive industry reference manual on measurement systems analysis, chapter III; Duncan, Quality Control and Industrial Statistics, table D3.', informs,
  ].join(' '),
  body: z.object({ readings: cells('parts', 'appraisers').describe('part, appraiser, trial; balanced, 2 to 200 of each'), ...study }),
  answer: z.object({
    meanRange: real, appraiserDifference: real.describe('largest less smallest mean of an appraiser'), partRange: real,
    factors: z.object({ trials: real, appraisers: real, parts: real }).describe('1/d2*'), rawReproducibility: real.describe('variance between appraisers before it is cut at 0'),
    repeatability: rangeVariation, reproducibility: rangeVariation, gauge: rangeVariation, part: rangeVariation, total: rangeVariation, distinctCategories: count.nullable(),
  }),
});

export const nestedGauge = method('gauge-nested', {
  summary: 'Gauge study of a test that destroys the part',
  description: [
    'For seam teardowns and the like: each appraiser measures parts of their own, so parts are nested in appraisers. A trial is a repeat on the same part, or on a part taken as alike; how far like parts differ counts as repeatability, and no study of this kind can tell the two apart.',
    'Components and intervals as in `gauge-crossed`. Source: Montgomery, Design and Analysis of Experiments, "The two-stage nested design".', informs,
  ].join(' '),
  body: z.object({ readings: cells('appraisers', 'parts').describe('appraiser, part of that appraiser, trial; balanced, 2 or more of each'), ...study }),
  answer: z.object({
    anova: z.object({ appraiser: meanSquare, part: meanSquare, repeatability: meanSquare, total }), tests: z.object({ appraiser: fTest, part: fTest }),
    repeatability: variation, appraiser: variation, gauge: variation, part: variation, total: variation, ...separation,
  }),
});

const tested = z.object({ estimate: real, se: real, t: figure.describe('null where nothing varies'), p: figure.describe('two-sided'), low: real, high: real });
export const biasAndLinearity = method('gauge-bias-linearity', {
  summary: 'Bias of a gauge over its range',
  description: [
    'Bias = reading - reference, for each master with a t test, and its straight line on the reference with tests of slope and intercept (n-2 df) and the band of its mean.',
    'The gauge reads true over the range where the line of no bias lies inside the band. Source: the automotive industry reference manual, "Guidelines for determining linearity"; Draper & Smith, Applied Regression Analysis.', informs,
  ].join(' '),
  body: z.object({
    masters: z.array(z.object({ reference: real, values: values.describe('readings of the master, in its unit') })).min(2, 'at least two masters are expected').max(MOST_ROWS, 'at most 100,000 masters are expected'),
    processVariation: positive.nullable().default(null).describe('six sd of the process, in the unit of the readings; null = unknown'), confidence,
  }),
  answer: z.object({
    masters: z.array(z.object({ reference: real, n: count, bias: real, sd: figure, test: tested.nullable().describe('null for a single reading'), fitted: real, low: real, high: real, zeroInside: z.boolean().describe('the line of no bias is inside the band here') })),
    averageBias: real, line: z.object({ n: count, slope: tested, intercept: tested, residualSd: real, rSquared: figure }),
    linearity: figure.describe('|slope| times the process variation'), linearityOfProcess: figure.describe('|slope|, a part of 1'), biasOfProcess: figure.describe('|average bias| over the process variation'),
  }),
});

export const stabilityOfGauge = method('gauge-stability', {
  summary: 'One master measured again over time',
  description: [
    'A control chart of the gauge: X-bar and R, or individuals and moving ranges when every check is one reading. Bias against the reference and drift (change a check) are t tests on the means of the checks.',
    'A point beyond the limits says that the gauge has moved; what was measured since the last good check is in doubt. Source: NIST/SEMATECH e-Handbook, 2.2.', informs,
  ].join(' '),
  body: z.object({
    checks: z.array(z.array(real.nullable()).max(200, 'at most 200 readings a check are expected')).min(2, 'at least two checks are expected').max(MOST_VALUES).describe('in time order; null = reading missing'),
    reference: real.nullable().default(null).describe('value of the master; null = unknown'), confidence,
  }),
  answer: z.object({
    kind: z.enum(['xbar-r', 'i-mr']), panels: z.array(chartPanel.omit({ rules: true, firings: true })).length(2).nullable().describe('null where nothing varies'),
    centre: real, sigma: real, bias: tested.nullable(), drift: tested.nullable().describe('null under three checks'), stable: z.boolean().nullable().describe('no point beyond a limit; null without limits'),
  }),
});

export const repeatabilityOfGauge = method('gauge-repeatability', {
  summary: 'One gauge, one master, measured again and again',
  description: `Sd with its chi-square interval, bias against the reference with t test and interval, and both against the tolerance. Source: NIST/SEMATECH e-Handbook, 7.2.2 and 7.2.3. ${informs}`,
  body: z.object({ values, reference: real.nullable().default(null).describe('value of the master; null = unknown'), ...study }),
  answer: z.object({ n: count, mean: real, sd: real, interval: interval.describe('of the sd'), bias: tested.nullable(), ofTolerance: figure.describe('multiplier times sd over the tolerance'), ofToleranceInterval: maybe, biasOfTolerance: figure.describe('signed') }),
});

const share = z.object({ fraction: real, low: real, high: real, upperBound: real }).describe('exact: Clopper & Pearson 1934; `low` and `high` two-sided, `upperBound` one-sided');
const kappa = z.object({
  kappa: figure.describe('null where only one category is in use'), observed: real, byChance: real, se: figure, low: figure, high: figure,
  seNull: figure, z: figure, p: figure.describe('one-sided: agreement above chance'),
});
const perSubject = <Rating extends z.ZodType>(rating: Rating) => z.array(z.array(rating).max(50, 'at most 50 raters are expected')).min(2, 'at least two subjects are expected').max(MOST_ROWS, 'at most 100,000 subjects are expected').describe('subject, rater; the same raters in the same order. Two goes of one rater are two raters');
const word = z.string().min(1, 'a category is expected').max(100, 'at most 100 characters are expected');
const errors = {
  missed: share.nullable().describe('let pass of those to be rejected; null where there are none'), falseAlarms: share.nullable().describe('rejected of those to be accepted'),
};

export const nominalRatings = method('agreement-nominal', {
  summary: 'Agreement of visual ratings without order',
  description: [
    "Cohen's kappa of each pair of raters (Cohen 1960; standard errors Fleiss, Cohen & Everitt 1969), Fleiss' kappa of all, with that of each category (Fleiss 1971; Fleiss, Nee & Landis 1979; interval by the jackknife over subjects), shares of agreement with exact intervals.",
    'With a standard: each rater against it, and with `reject` the misses and the false alarms.', informs,
  ].join(' '),
  body: z.object({
    ratings: perSubject(word), standard: z.array(word).max(MOST_ROWS).nullable().default(null).describe('the right category of each subject'),
    reject: z.array(word).max(100).default([]).describe('categories that mean reject'), confidence,
  }).refine(({ ratings }) => new Set(ratings.flat()).size <= 100, { error: 'at most 100 categories are expected', path: ['ratings'] }),
  answer: z.object({
    subjects: count, raters: count, categories: z.array(z.string()), allAgree: share,
    fleiss: kappa.extend({ categories: z.array(z.object({ share: real, kappa: figure, seNull: figure, z: figure, p: figure })).describe('in the order of `categories`') }),
    pairs: z.array(z.object({ first: count, second: count, agreement: share, kappa })).describe('raters from 0'),
    againstStandard: z.array(z.object({ agreement: share, kappa, ...errors })).nullable().describe('one a rater'),
  }),
});

const grades = { exact: share.describe('the same grade'), within: share.describe('no more than `steps` apart'), meanDifference: real.describe('second less first, in grades'), linear: kappa, quadratic: kappa };
export const ordinalRatings = method('agreement-ordinal', {
  summary: 'Agreement of ratings that are in order',
  description: [
    'For grades such as tightness: agreement within some steps with its exact interval (Clopper & Pearson 1934), and weighted kappa (Cohen 1968) with linear weights 1-|i-j|/(k-1) and quadratic ones 1-(i-j)^2/(k-1)^2; standard errors Fleiss, Cohen & Everitt 1969.',
    'A grade is no measurement: no sd and no share of a tolerance is given.', informs,
  ].join(' '),
  body: z.object({
    ratings: perSubject(real), categories: z.array(real).min(2, 'at least two grades are expected').max(100, 'at most 100 grades are expected').describe('all grades there are, rising'),
    steps: whole(0, 99).default(1), standard: z.array(real).max(MOST_ROWS).nullable().default(null).describe('the right grade of each subject'),
    least: real.nullable().default(null).describe('grades below this are to be rejected; null = no misses and false alarms'), confidence,
  }),
  answer: z.object({
    subjects: count, raters: count, categories: z.array(real), allWithin: share.describe('highest and lowest grade no more than `steps` apart'),
    pairs: z.array(z.object({ first: count, second: count, ...grades })), againstStandard: z.array(z.object({ ...grades, ...errors })).nullable().describe('one a rater; the standard is the first of the pair'),
  }),
});
