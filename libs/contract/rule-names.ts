import { z } from 'zod';

/** Run rules by what they look for: the four zone tests (Western Electric 1956) first, then those that Nelson 1984 adds. */
export const ruleName = z.enum([
  'beyond-limits', 'two-of-three', 'four-of-five', 'eight-in-a-row', 'nine-in-a-row', 'six-in-a-trend', 'fourteen-alternating', 'fifteen-inside', 'eight-outside',
]);

/** Where a pattern lies; a trend is "above" when it rises; "both" for patterns without a side. */
export const firingSide = z.enum(['above', 'below', 'both']);
