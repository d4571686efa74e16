import type { EpochMs } from '#canmaking/units';
import type { StandardStream } from './standardise.js';

export type Span = { readonly from: EpochMs; readonly until: EpochMs };

/** How much likelier the readings are if the level was shifted while the cans passed, and the shift that fits best. */
export type ShiftEvidence = {
  /** Natural logarithm of the ratio of likelihoods, all begins and ends weighed. */
  readonly logRatio: number;
  /** Best begin and end: the points around them, null = beyond the records. */
  readonly lastGoodAt: EpochMs | null;
  readonly firstBadAt: EpochMs;
  readonly lastBadAt: EpochMs;
  readonly nextGoodAt: EpochMs | null;
  /** Shift in sigmas of a charted member, and the points that carry it. */
  readonly size: number;
  readonly points: number;
};

/** Prior sd of a shift, in sigmas: shifts that make leakers are of this order. Common practice, no source. */
const SHIFT = 2.5;
/** Units that shift together do not shift by quite the same. */
const APART = 0.25;
/** Where it is not to blame, it may have moved at another time all the same. */
const ELSEWHERE = 0.15;

/**
 * Bayes factor of "these streams were shifted together from some point before the window to some point after it" against
 * "they were not", or only at another time. Normal shift of unknown size (sd 2.5 sigma), normal readings, the centre line an estimate that the points
 * outside the shifted stretch improve; begins and ends lie on a grid that widens away from the window, equally likely.
 * Source of the form: conjugate normal model, as in Gelman et al., Bayesian Data Analysis, chapter 2.
 * @param streams that would move together: those of one unit, of one lane, or of a whole machine, of one characteristic
 * @param window in which the complained cans passed the step
 * @returns null when no point lies in or next to the window
 */
export function shiftEvidence(streams: readonly StandardStream[], window: Span): ShiftEvidence | null {
  const frame = frameOf(streams, window);
  const begins = widening(frame.first).map((back) => frame.first - back);
  const ends = widening(frame.times.length - frame.after).map((on) => frame.after + on);
  return weighed(frame, begins.flatMap((begin) => ends.flatMap((end) => (end > begin ? [{ begin, end, weight: 1 }] : []))));
}

/** The same where it is known when such a shift begins and ends: in one of the spans, by their weights; one without a reading speaks neither for nor against it. Null without a reading in any of them. */
export function shiftOfSpans(streams: readonly StandardStream[], window: Span, spans: readonly (Span & { readonly weight: number })[]): ShiftEvidence | null {
  const frame = frameOf(streams, window);
  return weighed(frame, spans.map(({ from, until, weight }) => ({ begin: firstAtOrAfter(frame.times, from), end: firstAtOrAfter(frame.times, until), weight })));
}

/** All moments of the streams, and the places of the first in the window and the first after it. */
type Frame = { readonly streams: readonly StandardStream[]; readonly times: readonly number[]; readonly sums: readonly Prefixes[]; readonly first: number; readonly after: number };

function frameOf(streams: readonly StandardStream[], window: Span): Frame {
  const times = [...new Set(streams.flatMap(({ at }) => Array.from(at)))].sort((a, b) => a - b);
  return { streams, times, sums: streams.map((stream) => prefixes(stream, times)), first: firstAtOrAfter(times, window.from), after: firstAtOrAfter(times, window.until + 1) };
}

/**
 * What the readings say of a shift that was over before the window, or had not begun by it: of all streams together, or of each by
 * itself. Without the latter the whole machine would be blamed for a unit that was off at another time.
 */
function atAnotherTime({ sums, times, first, after }: Frame): number {
  const stretches = [...outside(first, (back) => first - back), ...outside(times.length - after, (on) => after + on)];
  if (stretches.length === 0) return 0;
  const among = (of: readonly Prefixes[]): number => logSum(stretches.map(([begin, end]) => ratio(of, begin, end).log)) - Math.log(stretches.length);
  const alone = (of: readonly Prefixes[]): number => logSum([Math.log(1 - ELSEWHERE), Math.log(ELSEWHERE) + among(of)]);
  if (sums.length === 1) return alone(sums);
  return logSum([Math.log(1 - ELSEWHERE) + sums.reduce((sum, own) => sum + alone([own]), 0), Math.log(ELSEWHERE) + among(sums)]);
}

/** All stretches by their weights, against none and against one at another time. */
function weighed(frame: Frame, options: readonly { readonly begin: number; readonly end: number; readonly weight: number }[]): ShiftEvidence | null {
  const { streams, times, sums } = frame;
  const tried = options.filter(({ begin, end }) => end > begin).map((option) => { const { log, size } = ratio(sums, option.begin, option.end); return { ...option, size, log: log + Math.log(option.weight) }; });
  if (tried.length === 0) return null;
  const unread = options.filter(({ begin, end }) => end <= begin).map(({ weight }) => Math.log(weight));
  const best = tried.reduce((most, each) => (each.log > most.log ? each : most));
  return {
    logRatio: logSum([...tried.map(({ log }) => log), ...unread]) - Math.log(options.reduce((sum, { weight }) => sum + weight, 0)) - atAnotherTime(frame), size: best.size,
    points: streams.reduce((count, { at }) => count + at.filter((moment) => moment >= (times[best.begin] as number) && moment <= (times[best.end - 1] as number)).length, 0),
    lastGoodAt: best.begin > 0 ? (times[best.begin - 1] as number) : null, firstBadAt: times[best.begin] as number,
    lastBadAt: times[best.end - 1] as number, nextGoodAt: best.end < times.length ? (times[best.end] as number) : null,
  };
}

/** The same where begin and end are known: "shifted just in this span" against "not shifted". Null without a reading in it. */
export function shiftBetween(streams: readonly StandardStream[], { from, until }: Span): { readonly logRatio: number; readonly size: number; readonly points: number } | null {
  const times = [...new Set(streams.flatMap(({ at }) => Array.from(at)))].sort((a, b) => a - b);
  const [begin, end] = [firstAtOrAfter(times, from), firstAtOrAfter(times, until)];
  if (end <= begin) return null;
  const { log, size } = ratio(streams.map((stream) => prefixes(stream, times)), begin, end);
  return { logRatio: log, size, points: streams.reduce((count, { at }) => count + at.filter((moment) => moment >= from && moment < until).length, 0) };
}

/** Stretches that were over, or had not begun, with at least one point between them and the window. */
function outside(most: number, place: (steps: number) => number): [number, number][] {
  const steps = widening(most).filter((step) => step > 0);
  return steps.flatMap((near, i) => steps.slice(i + 1).map((far): [number, number] => [Math.min(place(near), place(far)), Math.max(place(near), place(far))]));
}

type Prefixes = { readonly weight: Float64Array; readonly weighed: Float64Array; readonly centreVariance: number };

/** Sums of weights and of weighed values of all points before each of the times. */
function prefixes({ at, z, weight, centreVariance }: StandardStream, times: readonly number[]): Prefixes {
  const sums = { weight: new Float64Array(times.length + 1), weighed: new Float64Array(times.length + 1), centreVariance };
  let point = 0;
  times.forEach((time, i) => {
    let [w, x] = [sums.weight[i] as number, sums.weighed[i] as number];
    for (; point < at.length && (at[point] as number) <= time; point += 1) {
      w += weight[point] as number;
      x += (weight[point] as number) * (z[point] as number);
    }
    sums.weight[i + 1] = w;
    sums.weighed[i + 1] = x;
  });
  return sums;
}

function ratio(sums: readonly Prefixes[], begin: number, end: number): { log: number; size: number } {
  let [precision, pull, apart] = [0, 0, 0];
  for (const { weight, weighed, centreVariance } of sums) {
    const inside = (weight[end] as number) - (weight[begin] as number);
    if (inside <= 0) continue;
    const mean = ((weighed[end] as number) - (weighed[begin] as number)) / inside;
    const outside = (weight.at(-1) as number) - inside;
    const known = 1 / centreVariance + outside;
    const centre = ((weighed.at(-1) as number) - mean * inside) / known;
    const own = 1 / known + 1 / inside;
    const share = 1 / (own + APART ** 2);
    precision += share;
    pull += share * (mean - centre);
    // Without a shift there is nothing that sets the units apart.
    apart += ((mean - centre) ** 2 * (1 / own - share) + Math.log(own * share)) / 2;
  }
  const wide = 1 + SHIFT ** 2 * precision;
  return { log: apart + (SHIFT ** 2 * pull ** 2) / (2 * wide) - Math.log(wide) / 2, size: (SHIFT ** 2 * pull) / wide };
}

/** 0, 1, 2, 3, 4, 6, 8, 12, 16 … up to `most`, and `most` itself. */
export function widening(most: number): number[] {
  const steps = [0, 1, 2, 3];
  for (let step = 4; step <= most; step *= 2) steps.push(step, step * 1.5);
  return [...new Set([...steps.filter((step) => step < most), most])];
}

export function logSum(logs: readonly number[]): number {
  const most = Math.max(...logs);
  return most === Number.NEGATIVE_INFINITY ? most : most + Math.log(logs.reduce((sum, log) => sum + Math.exp(log - most), 0));
}

/** A logarithm of a ratio as a factor; where that is beyond the range of numbers, one that is large enough to mean the same. */
export const factorOf = (log: number): number => Math.exp(Math.min(600, log));

function firstAtOrAfter(times: readonly number[], moment: number): number {
  const place = times.findIndex((time) => time >= moment);
  return place < 0 ? times.length : place;
}
