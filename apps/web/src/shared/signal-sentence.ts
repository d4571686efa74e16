import type { SignalRow } from '#contract/signals';

type Seen = Pick<SignalRow, 'chart' | 'rule' | 'side' | 'seen'> & { stream: { chartKind: string } };
type Values = Record<'last' | 'lower' | 'upper' | 'centre' | 'line', string> & { count: number };
/** How many sigma from the centre line, on the side of the signal, a point has to lie to count for the rule. */
const ZONE_RULES = {
  'beyond-limits': { words: 'beyond', sigmas: 3 }, 'two-of-three': { words: 'two', sigmas: 2 }, 'four-of-five': { words: 'four', sigmas: 1 },
  'eight-in-a-row': { words: 'run', sigmas: 0 }, 'nine-in-a-row': { words: 'run', sigmas: 0 },
} as const;
/** Patterns that have no side: every point of them counts. */
const WHOLE_PATTERNS = { 'fourteen-alternating': 'alternating', 'fifteen-inside': 'inside', 'eight-outside': 'outside' } as const;

type Side = Exclude<SignalRow['side'], 'both'>;
export type SentenceHead = `sentence.${'beyond' | 'two' | 'four' | 'run' | 'trend' | 'range' | 'sd' | 'moving' | 'noNumbers'}.${Side}` | `sentence.${'alternating' | 'inside' | 'outside' | 'noNumbers'}.both`;
export type SignalSentence = { head: SentenceHead; tail: 'sentence.lastMean' | 'sentence.lastValue' | null; values: Values };

/**
 * What a rule saw, as keys of the message catalogue with their values; `say` writes a number with its unit.
 * A spread signal is one sentence; the others are a head and a tail with the last value and the limits.
 */
export function signalSentence({ chart, rule, side, seen, stream }: Seen, say: (value: number) => string): SignalSentence {
  const last = seen.points.at(-1);
  const none: Values = { last: '', lower: '', upper: '', centre: '', line: '', count: seen.points.length };
  const silent: SignalSentence = { head: `sentence.noNumbers.${side}`, tail: null, values: none };
  if (!last || !seen.limits) return silent;
  const tail = last.n > 1 ? 'sentence.lastMean' : 'sentence.lastValue';
  if (chart === 'spread') {
    if (side === 'both') return silent;
    const limits = seen.limits.spread;
    const [name, value] = stream.chartKind === 'xbar-r' ? ['range' as const, last.range] : stream.chartKind === 'xbar-s' ? ['sd' as const, last.sd] : ['moving' as const, movingRange(seen.points)];
    if (!limits || value === null) return silent;
    return { head: `sentence.${name}.${side}`, tail: null, values: { ...none, last: say(value), lower: say(limits.lower), upper: say(limits.upper), centre: say(limits.centre) } };
  }
  if (last.mean === null) return silent;
  const { lower, upper, centre, sigma } = seen.limits.mean;
  const numbers: Values = { ...none, last: say(last.mean), lower: say(lower), upper: say(upper), centre: say(centre) };
  if (rule === 'fourteen-alternating' || rule === 'fifteen-inside' || rule === 'eight-outside') return { head: `sentence.${WHOLE_PATTERNS[rule]}.both`, tail, values: numbers };
  if (side === 'both') return silent;
  if (rule === 'six-in-a-trend') return { head: `sentence.trend.${side}`, tail, values: numbers };
  const sign = side === 'above' ? 1 : -1;
  const { words, sigmas } = ZONE_RULES[rule];
  const beyond = seen.points.filter(({ z }) => z !== null && sign * z > sigmas).length;
  return { head: `sentence.${words}.${side}`, tail, values: { ...numbers, line: say(centre + sign * sigmas * sigma), count: beyond } };
}

/** The step between the two points of a moving range; null where one of them has no value. */
function movingRange(points: SignalRow['seen']['points']): number | null {
  const [before, last] = [points.at(-2)?.mean ?? null, points.at(-1)?.mean ?? null];
  return before === null || last === null ? null : Math.abs(last - before);
}
