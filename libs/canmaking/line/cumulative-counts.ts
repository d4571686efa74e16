import { requireFinite, requireNotNegative } from '../require-number.js';
import type { EpochMs } from '../units.js';
import { frames, offsetAt, type CansBetween, type Frame } from './cans-between.js';
import { countCurve, countedBefore, momentOfCan, speedMargin, type CountCurve } from './count-curve.js';
import { idleFilled } from './idle-spans.js';
import type { CountBucket } from './cans-at-risk.js';
import { walkBack, type TransitBounds } from './transit.js';

/** With `machineId` spans that a standing machine left out are told from those of a counter that was away. */
export type CountBucketWithRejects = CountBucket & { machineId?: number; rejected: number };
export type CountedStretch = TransitBounds & { leastCans: number | null; mostCans: number | null };

/** Why the window is what it is. The first three stand with `counts`, the others with `transit`. */
export type CountsReason =
  | 'counted' | 'counted-past-a-gap' | 'counted-past-a-contradiction'
  /** One of the steps has no counts, or its counts are all zero. */
  | 'no-counts'
  /** A part of the window lies where not both steps have counts. */
  | 'outside-the-records'
  /** The counter of the later step was away in a part of the window. */
  | 'later-counter-away'
  /** The counters of the two steps contradict each other and the bounds of the stretch in a part of the window. */
  | 'counts-contradict'
  /** A can of the window was already between the steps when the counts began. */
  | 'before-the-records';

export type WalkedByCounts = {
  from: EpochMs; until: EpochMs; basis: 'counts' | 'transit';
  because: {
    code: CountsReason;
    /** Cans between the steps at the end of the window; null where counts do not bound them. */
    cansBetween: { least: number; most: number } | null;
    /** The most cans that were taken to fit between: the stretch's own, or what the later step makes in the longest passage. */
    mostCans: number | null;
    /** How often, in all of the records, the counts of the two steps contradict each other. */
    contradictions: number;
    /** By how much `from` was set back because the later step stood or was slow, seconds; only with `transit`. */
    stoodSeconds: number;
  };
};

type Window = { from: EpochMs; until: EpochMs };
type Setting = { earlier: CountCurve; later: CountCurve; shortest: number; timed: Window; found: readonly Frame[] };
type Piece = Window & { code: CountsReason };

/**
 * When the cans that left the later step in a window left the earlier one, by counting: the n-th can out of the later step,
 * rejects included, is the n-th good one out of the earlier step, but for the cans that were between them. How many those
 * were is not known; at every moment they fit into the stretch, and all moments together bound it (`frames`).
 *
 * The window holds every can of it as long as cans keep their order, counters count every can, `mostCans` and
 * `shortestSeconds` are true, and one span of each step ran with little stop (full speed is learned from the fastest, with a tenth added). Where
 * `mostCans` is null it is what the later step makes in `longestSeconds` of running. A missing span is an unknown number of
 * cans, not none. Cans taken out between the steps by hand shift the count: give the records of some hours or days round
 * the window, not of a season. Where counts do not reach, the answer is the one of `walkBack`, with a later step that
 * stood added to the longest passage. Arithmetic; no source.
 * @param earlier, later good and rejected cans in spans of time, all machines of the step, any order
 * @throws RangeError naming the bad input.
 */
export function walkBackByCounts(
  window: Window, earlier: readonly CountBucketWithRejects[], later: readonly CountBucketWithRejects[], stretch: CountedStretch,
): WalkedByCounts {
  const plain = walkBack(window, [stretch]);
  const least = stretch.leastCans === null ? null : requireNotNegative('leastCans', stretch.leastCans);
  const most = stretch.mostCans === null ? null : requireNotNegative('mostCans', stretch.mostCans);
  if (least !== null && most !== null && most < least) throw new RangeError(`mostCans must not be below leastCans ${least}, got ${most}`);
  const goodSpans = earlier.map(({ machineId, at, minutes, good: cans, rejected }) => ({ machineId, at, minutes, cans: requireNotNegative('good', cans) + 0 * requireNotNegative('rejected', rejected) }));
  const outSpans = later.map(({ machineId, at, minutes, good: cans, rejected }) => ({ machineId, at, minutes, cans: requireNotNegative('good', cans) + requireNotNegative('rejected', rejected) }));
  const sent = { good: countCurve(goodSpans), out: countCurve(outSpans) };
  if (sent.good === null || sent.out === null || sent.good.total === 0 || sent.out.total === 0) return timed(plain, 0, 'no-counts', null, 0);

  const mostCans = most ?? Math.ceil(speedMargin * (stretch.longestSeconds / 60) * sent.out.peakPerMinute) + 1;
  const [goodFilled, outFilled] = [idleFilled(goodSpans, outSpans, mostCans), idleFilled(outSpans, goodSpans, mostCans)];
  const good = goodFilled === goodSpans ? sent.good : countCurve(goodFilled) ?? sent.good;
  const out = outFilled === outSpans ? sent.out : countCurve(outFilled) ?? sent.out;
  const between: CansBetween = { ...stretch, leastCans: least, mostCans };
  const found = frames(good, out, between);
  const contradictions = found.filter(({ after }) => after === 'contradiction').length;
  const set = setBack(window, plain, out, stretch.longestSeconds);
  const setting: Setting = { earlier: good, later: out, shortest: stretch.shortestSeconds * 1000, timed: set, found };
  const pieces = piecesOf(window, setting);
  const counted = pieces.filter(({ code }) => code.startsWith('counted'));
  const stood = (plain.from - set.from) / 1000;
  const uncounted = pieces.find(({ code }) => !code.startsWith('counted'));
  const from = pieces.reduce((soonest, piece) => Math.min(soonest, piece.from), Number.POSITIVE_INFINITY);
  const until = pieces.reduce((last, piece) => Math.max(last, piece.until), Number.NEGATIVE_INFINITY);
  if (uncounted !== undefined || until < from) return timed({ from: Math.min(from, set.from), until: Math.max(until, set.until) }, stood, uncounted?.code ?? 'counts-contradict', mostCans, contradictions);
  const code = (['counted-past-a-contradiction', 'counted-past-a-gap'] as const).find((reason) => counted.some((piece) => piece.code === reason)) ?? 'counted';
  return { from, until, basis: 'counts', because: { code, cansBetween: betweenAt(window.until, setting), mostCans, contradictions, stoodSeconds: 0 } };
}

function timed(window: Window, stoodSeconds: number, code: CountsReason, mostCans: number | null, contradictions: number): WalkedByCounts {
  return { ...window, basis: 'transit', because: { code, cansBetween: null, mostCans, contradictions, stoodSeconds } };
}

// The longest passage is one of running time: what the later step made since then shows how long it ran.
function setBack(window: Window, plain: Window, later: CountCurve, longestSeconds: number): Window {
  if (window.from < later.first || window.from > later.last) return plain;
  const ran = momentOfCan(later, countedBefore(later, window.from).least - (longestSeconds / 60) * later.peakPerMinute);
  return ran === null || ran.soonest >= plain.from ? plain : { ...plain, from: Math.max(ran.soonest, later.first) };
}

/** The window part by part: each frame by its own offset, what lies in none by time. */
function piecesOf(window: Window, setting: Setting): Piece[] {
  const { found, earlier, later, timed: byTime } = setting;
  const pieces: Piece[] = [];
  let reached = requireFinite('from', window.from);
  const skip = (until: EpochMs) => {
    const away = later.gaps.some((gap) => gap.from < until && gap.until > reached);
    const inside = reached >= Math.max(earlier.first, later.first) && until <= Math.min(earlier.last, later.last);
    pieces.push({ ...byTime, code: !inside ? 'outside-the-records' : away ? 'later-counter-away' : 'counts-contradict' });
  };
  found.forEach((frame, index) => {
    // The counter of the earlier step being away does not end a frame: the later one goes on with the same offset.
    const next = found[index + 1]?.from ?? Math.min(later.last, earlier.last);
    const gap = earlier.gaps.find(({ from }) => from === frame.until);
    const laterAway = later.gaps.find(({ from }) => from >= frame.until)?.from ?? Number.POSITIVE_INFINITY;
    const until = gap === undefined ? frame.until : Math.max(frame.until, Math.min(next, gap.until, laterAway));
    const part = { from: Math.max(reached, frame.from), until: Math.min(window.until, until) };
    if (part.from > part.until) return;
    if (part.from > reached) skip(part.from);
    pieces.push(byFrame(part, index, setting));
    reached = part.until;
  });
  if (reached < window.until || pieces.length === 0) skip(window.until);
  return pieces;
}

function byFrame(part: Window, index: number, { earlier, later, shortest, timed: byTime, found }: Setting): Piece {
  const frame = found[index];
  if (frame === undefined) throw new RangeError(`index must be that of a frame, got ${index}`);
  const firstCan = countedBefore(later, part.from).least + 1;
  const lastCan = countedBefore(later, part.until).most + 1;
  let code: CountsReason = 'counted';
  let [high, at] = [offsetAt(frame, part.from).high, index];
  let from = soonestOf(firstCan - high, earlier);
  // Either counter may have jumped in a contradiction: the offsets of both sides are tried and the earliest moment kept.
  while (from !== null && from < (found[at]?.from ?? 0) && at > 0) {
    if (found[at]?.after === 'contradiction') {
      code = 'counted-past-a-contradiction';
      high = Math.max(high, found[at - 1]?.bounds.at(-1)?.high ?? high);
      from = soonestOf(firstCan - high, earlier);
    } else if (code === 'counted') code = 'counted-past-a-gap';
    at -= 1;
  }
  if (from === null) return { ...byTime, from: Math.min(byTime.from, earlier.first), code: 'before-the-records' };
  const away = earlier.gaps.find((gap) => gap.from === frame.until);
  // What was not counted while the counter was away can have come before what was.
  if (away !== undefined && from > away.from) [from, code] = [away.from, 'counted-past-a-gap'];
  const byCount = momentOfCan(earlier, Math.max(1, lastCan - offsetAt(frame, part.until).low))?.latest ?? Number.POSITIVE_INFINITY;
  return { from, until: Math.min(Math.max(byCount, frame.from), part.until - shortest), code };
}

/** Null for a can that left the earlier step before its counts began. */
function soonestOf(n: number, earlier: CountCurve): EpochMs | null {
  return n < 1 - 1e-3 ? null : momentOfCan(earlier, n)?.soonest ?? earlier.last;
}

function betweenAt(moment: EpochMs, { earlier, later, found }: Setting): { least: number; most: number } | null {
  const frame = found.find(({ from, until }) => from <= moment && moment <= until);
  if (frame === undefined) return null;
  const [made, out] = [countedBefore(earlier, moment), countedBefore(later, moment)];
  const { low, high } = offsetAt(frame, moment);
  return { least: Math.max(0, Math.floor(low + made.least - out.most)), most: Math.ceil(high + made.most - out.least) };
}
