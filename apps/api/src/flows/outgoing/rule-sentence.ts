import type { z } from 'zod';
import type { firingSide, ruleName } from '#contract/rule-names';

type Side = z.infer<typeof firingSide>;

const ABOVE: Record<Side, string> = { above: 'above', below: 'below', both: 'beside' };
const TREND: Record<Side, string> = { above: 'higher', below: 'lower', both: 'further' };

/** What a rule saw, for a message that stands without the chart. Points are those that the chart draws, means or single values. */
const SEEN: Record<z.infer<typeof ruleName>, (side: Side) => string> = {
  'beyond-limits': (side) => (side === 'both' ? 'One point is outside the control limits' : `One point is ${side === 'above' ? 'above the upper' : 'below the lower'} control limit`),
  'two-of-three': (side) => `Two of three points in a row are more than two sigma ${ABOVE[side]} the centre line`,
  'four-of-five': (side) => `Four of five points in a row are more than one sigma ${ABOVE[side]} the centre line`,
  'eight-in-a-row': (side) => `Eight points in a row are ${ABOVE[side]} the centre line`,
  'nine-in-a-row': (side) => `Nine points in a row are ${ABOVE[side]} the centre line`,
  'six-in-a-trend': (side) => `Six points in a row are each ${TREND[side]} than the one before`,
  'fourteen-alternating': () => 'Fourteen points in a row go up and down in turn',
  'fifteen-inside': () => 'Fifteen points in a row are within one sigma of the centre line',
  'eight-outside': () => 'Eight points in a row are all more than one sigma from the centre line',
};

export const ruleSentence = (rule: z.infer<typeof ruleName>, side: Side): string => SEEN[rule](side);
