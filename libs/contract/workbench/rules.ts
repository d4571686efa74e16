import { z } from 'zod';
import { firingSide, ruleName } from '../rule-names.js';
import { MOST_VALUES, method, positive, real, valuesWithGaps, whole } from './method.js';

const rules = z.array(ruleName).min(1, 'at least one rule is expected').max(20, 'at most 20 rules are expected').default(['beyond-limits', 'two-of-three', 'four-of-five', 'eight-in-a-row'])
  .describe('left out: the four zone tests. Nelson 1984 names eight: beyond-limits, nine-in-a-row, six-in-a-trend, fourteen-alternating, two-of-three, four-of-five, fifteen-inside, eight-outside');
const position = z.number({ error: 'a whole number is expected' }).int('a whole number is expected').min(0, '0 or more is expected');
const oneOrEach = <T extends z.ZodType>(entry: T) => z.union([entry, z.array(entry).max(MOST_VALUES, `at most ${MOST_VALUES} are expected`)]);
const statistic = z.enum(['mean', 'median', 'individual', 'range', 'sd', 'moving-range', 'p', 'np', 'c', 'u', 'ewma', 'moving-average']);
const share = z.number();
const shifts = (most: number) => z.array(real).min(1, 'at least one shift is expected').max(most, `at most ${most} shifts are expected`).describe('how far the mean has moved, in sigma of the plotted statistic; 0 = not at all');

export const rulesOnValues = method('rules', {
  summary: 'Judge plotted values by run rules',
  description: [
    'z = (value - centre) / sigma; all comparisons are strict, with 1e-9 for rounding, so a point on a line is not beyond it.',
    'A firing belongs to the last point of its pattern; patterns overlap and nothing restarts. A gap and a declared change empty all windows.',
    'A trend is above when it rises, below when it falls; patterns without a side are on both. Positions count from 0.',
    'Rules: Western Electric, Statistical Quality Control Handbook, 1956 (zone tests); Nelson 1984, Journal of Quality Technology 16(4).',
    'A signal informs; what is done with product, the process authority and the customer\'s specification decide.',
  ].join(' '),
  body: z.object({
    values: valuesWithGaps.describe('plotted statistic in time order, null = missing'),
    centre: oneOrEach(real).describe('centre line in the unit of the values: one for all, or one a value'),
    sigma: oneOrEach(positive).describe('sigma of the plotted statistic, one third of upper limit less centre: one for all, or one a value'),
    rules,
    changes: z.array(position).max(MOST_VALUES, `at most ${MOST_VALUES} changes are expected`).default([]).describe('positions before which a change was declared, or new limits begin'),
    statistic: statistic.default('mean').describe('what the values are: on all but means, medians and individuals only beyond-limits is judged'),
    patternsOnSkewed: z.boolean().default(false).describe('true: all rules are judged whatever the statistic'),
  }),
  answer: z.object({
    z: z.array(z.number().nullable()).describe('distance from the centre line in sigma'),
    rules: z.array(ruleName).describe('the rules that were judged'),
    leftOut: z.array(ruleName).describe('asked for, but not calibrated for this statistic'),
    firings: z.array(z.object({ index: position, rule: ruleName, side: firingSide, firstIndex: position.describe('first point that contributes to the pattern') })),
  }),
});

export const runLengthRules = method('run-length-rules', {
  summary: 'How long run rules run until their first signal, for several shifts',
  description: [
    'Exact, for independent normal points with known limits: a Markov chain over the memories of the rules (Champ & Woodall 1987, Technometrics 29(4)); trend and alternation by collocation within the zones.',
    'arl: mean number of points up to and with the first signal, from an empty memory. steadyStateArl: for a shift that comes after long steady running without a signal (conditional steady state, Crosier 1986, Technometrics 28).',
    'falseAlarm: long-run probability a point that a process without a shift gives its first signal there. Null: beyond the range of numbers.',
  ].join(' '),
  body: z.object({
    rules, shifts: shifts(40),
    survivalAt: z.array(whole(0, 1_000_000)).max(100, 'at most 100 are expected').default([]).describe('numbers of points for which the probability of no signal is wanted'),
  }),
  answer: z.object({
    falseAlarm: share,
    lengths: z.array(z.object({
      shift: z.number(), arl: z.number().nullable(), steadyStateArl: z.number().nullable(),
      percentiles: z.array(z.object({ share, points: z.number().nullable().describe('fewest points within which so large a share of series has signalled') })),
      survival: z.array(z.object({ points: z.number(), share: share.describe('probability of no signal within so many points') })),
    })),
  }),
});

export const operatingCharacteristicRules = method('operating-characteristic-rules', {
  summary: 'Probability that run rules signal within the first points after a shift',
  description: 'For independent normal points with known limits, memory empty at first; the chain of Champ & Woodall 1987, Technometrics 29(4).',
  body: z.object({ rules, shifts: shifts(100), points: whole(1, 100).describe('points after the shift') }),
  answer: z.object({ curve: z.array(z.object({ shift: z.number(), signalled: share })) }),
});
