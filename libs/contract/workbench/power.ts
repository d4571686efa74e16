import { z } from 'zod';
import { ruleName } from '../rule-names.js';
import { method, positive, probability, real, whole } from './method.js';

const share = z.number().min(0).max(1);
const shifts = z.array(real).min(1, 'at least one shift is expected').max(40, 'at most 40 shifts are expected').describe('in sigma of the plotted statistic');
const survivalAt = z.array(whole(0, 1_000_000)).max(100, 'at most 100 are expected').default([]).describe('numbers of points for which the probability of no signal is wanted');
const lambda = z.number({ error: 'a number above 0, at most 1, is expected' }).gt(0, 'a number above 0, at most 1, is expected').max(1, 'a number above 0, at most 1, is expected').describe('weight of the newest value');
const assumed = 'Assumed: independent normal points, known limits. arl: mean number of points up to and with the first signal from the start. steadyStateArl: for a shift after long steady running without a signal (conditional, Crosier 1986). Null: beyond the range of numbers.';
const lengths = z.object({
  falseAlarm: share.describe('long-run probability a point of a first signal without a shift'),
  lengths: z.array(z.object({
    shift: real, arl: real.nullable(), steadyStateArl: real.nullable(),
    percentiles: z.array(z.object({ share, points: real.nullable().describe('fewest points within which so large a share of series has signalled') })),
    survival: z.array(z.object({ points: real, share: share.describe('probability of no signal within so many points') })),
  })),
});

export const runLengthEwma = method('run-length-ewma', {
  summary: 'How long an EWMA runs until its first signal, for several shifts',
  description: `Integral equation of Crowder 1987, Technometrics 29(4), on Gauss-Legendre nodes; limits fixed at target +- width sigma sqrt(lambda/(2 - lambda)), both sides. ${assumed}`,
  body: z.object({ lambda, width: positive.describe('of the limits, in sigma of the average in its steady state'), start: real.default(0).describe('where the average starts, in sigma from the target'), shifts, survivalAt }),
  answer: lengths,
});

export const runLengthCusum = method('run-length-cusum', {
  summary: 'How long cumulative sums run until their first signal, for several shifts',
  description: `Tabular sums, signal above h. Integral equation with an atom at zero (Page 1954; Vance 1986, Journal of Quality Technology 18), two sides by Kemp 1961, head start by Lucas & Crosier 1982, Technometrics 24. ${assumed}`,
  body: z.object({
    k: z.number({ error: 'a number of 0 or more is expected' }).min(0, 'a number of 0 or more is expected').describe('allowance, sigma; above 0 for both sides'), h: positive.describe('decision interval, sigma'),
    headStart: z.number({ error: 'a number of 0 or more is expected' }).min(0, 'a number of 0 or more is expected').default(0).describe('where both sums start, sigma; h/2 is the fast initial response'), sides: z.enum(['both', 'above', 'below']).default('both'), shifts, survivalAt,
  }),
  answer: lengths,
});

const wanted = z.number({ error: 'a number from 2 to 1,000,000 is expected' }).min(2, '2 or more is expected').max(1_000_000, '1,000,000 or less is expected').describe('wanted mean run length in control, points');

export const designedEwma = method('design-ewma', {
  summary: 'Width of the limits of an EWMA for a wanted run length in control',
  description: 'Root finding on the exact run length (Crowder 1989, Journal of Quality Technology 21); both sides, fixed limits. `width` is in sigma of the average in its steady state, `arl` what it then is, in points.',
  body: z.object({ lambda, arl: wanted }), answer: z.object({ width: real, arl: real }),
});

export const designedCusum = method('design-cusum', {
  summary: 'Decision interval of cumulative sums for a wanted run length in control',
  description: 'Root finding on the exact run length, in place of the nomogram of Goel & Wu 1971, Technometrics 13. `h` is in sigma of the plotted statistic, `arl` what it then is, in points.',
  body: z.object({ k: z.number({ error: 'a number from 0.1 to 5 is expected' }).min(0.1, '0.1 or more is expected').max(5, '5 or less is expected'), arl: wanted, sides: z.enum(['both', 'above']).default('both') }),
  answer: z.object({ h: real, arl: real }),
});

const many = <T extends z.ZodType>(of: T) => z.array(of).min(1, 'at least one is expected').max(1000, 'at most 1,000 are expected');
export const operatingCharacteristic = method('operating-characteristic', {
  summary: 'How likely one point of a chart with limits alone misses a change',
  description: 'mean: P(|Z + shift sqrt(n)| <= width), shifts in sigma of one reading. sd: limits B3, B4, new sigma over old (chi-square). p: binomial counts, limits round `centre`. c: Poisson counts. `missed` is the probability that one point is within its limits, `arl` the mean number of points until one is not. Source: Montgomery, Introduction to Statistical Quality Control, "The operating-characteristic function". With run rules: operating-characteristic-rules.',
  body: z.discriminatedUnion('chart', [
    z.object({ chart: z.literal('mean'), n: whole(1, 1_000_000), shifts: many(real), width: positive.max(100, '100 or less is expected').default(3) }),
    z.object({ chart: z.literal('sd'), n: whole(2, 200), ratios: many(positive) }),
    z.object({ chart: z.literal('p'), n: whole(1, 1_000_000_000), centre: probability, shares: many(probability) }),
    z.object({ chart: z.literal('c'), centre: positive, means: many(positive) }),
  ]),
  answer: z.object({ points: z.array(z.object({ missed: share, arl: real.nullable() })) }),
});

const until = z.object({ mean: real.nullable(), p95: real.nullable().describe('within which 95 % of such shifts are seen') });
const variance = z.number({ error: 'a variance of 0 or more is expected' }).min(0, 'a variance of 0 or more is expected');
const pieces = whole(1, 10_000);
export const detectionPlan = method('detection-plan', {
  summary: 'What a plan of checks detects, how soon, with how many false alarms, and what it costs',
  description: [
    'The plotted mean of n pieces with m places each has variance check + piece/n + position/(n m). Limits from the spread within checks (short-term) lie closer than that wherever checks differ among themselves; the figures take it into account.',
    'Run lengths are exact and conditional steady state. A shift comes at any moment of an interval with equal chance, so a signal at the N-th check after it is (N - 1/2) intervals late in the mean (Duncan 1956, JASA 51).',
    'Assumed: normal, independent, known limits, a shift that stays. Times in minutes, pieces made until the signal, pieces torn down a day. It informs a choice; how often to check is set by law, by the customer and by the process authority as well.',
  ].join(' '),
  body: z.object({
    components: z.object({ check: variance.describe('between checks'), piece: variance.describe('between pieces of a check'), position: variance.describe('between places on a piece') }).describe('variances in the squared unit of the characteristic'),
    piecesPerCheck: pieces, positionsPerPiece: pieces, intervalMinutes: positive, piecesPerMinute: positive, hoursPerDay: positive.max(24, '24 or less is expected').default(24),
    scheme: z.discriminatedUnion('kind', [
      z.object({ kind: z.literal('rules'), rules: z.array(ruleName).min(1, 'at least one rule is expected') }),
      z.object({ kind: z.literal('ewma'), lambda, width: positive }),
      z.object({ kind: z.literal('cusum'), k: z.number({ error: 'a number of 0 or more is expected' }).min(0, 'a number of 0 or more is expected'), h: positive }),
    ]).describe('widths, k and h in the sigma that the limits are made from'),
    shifts: z.array(real).max(40, 'at most 40 shifts are expected').describe('of the mean, in the unit of the characteristic'),
    limitsInclude: z.enum(['short-term', 'long-term']).default('long-term').describe('the spread within checks alone, or also how checks differ'),
  }),
  answer: z.object({
    sigmaOfPoint: real, falseAlarm: z.object({ arl: real.nullable().describe('checks'), days: real.nullable() }), tornDownPerDay: real,
    perShift: z.array(z.object({ shift: real, shiftInSigma: real.describe('of the plotted mean'), arl: real.nullable(), minutes: until, pieces: until })),
  }),
});
