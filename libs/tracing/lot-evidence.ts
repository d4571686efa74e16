import type { LineMap } from './evidence.js';
import type { Lot } from './lots.js';
import { logSum, type ShiftEvidence, shiftOfSpans, type Span } from './shift-evidence.js';
import type { StandardStream } from './standardise.js';

/** A neighbouring lot may be of the same delivery and as bad. Common practice, no source. */
const NEIGHBOUR_TOO = 0.15;
/** A lot may show in one half of the bodies only, such as where their weld begins. */
const ONE_HALF = 0.5;

export type LotEvidence = ShiftEvidence & { readonly streams: readonly StandardStream[] };

/**
 * Bayes factor of "what is measured was shifted just while the lot was on" against "it was not". Begin and end are known from the
 * log book, so that nothing is lost by looking for them: a lot that fits comes before its machine, one that does not fit far behind it.
 * @param streams of one characteristic of the lot's machine
 * @returns null without a reading while the lot, or one beside it, was on
 */
export function lotEvidence(streams: readonly StandardStream[], { from, until, before, after }: Lot, lanes: LineMap['lanes'], window: Span): LotEvidence | null {
  const begins = [{ at: from, weight: before === null ? 1 : 1 - NEIGHBOUR_TOO }, ...(before === null ? [] : [{ at: before, weight: NEIGHBOUR_TOO }])];
  const hasNext = until !== null;
  const ends = [{ at: until ?? Number.POSITIVE_INFINITY, weight: hasNext ? 1 - NEIGHBOUR_TOO : 1 }, ...(hasNext ? [{ at: after ?? Number.POSITIVE_INFINITY, weight: NEIGHBOUR_TOO }] : [])];
  const spans = begins.flatMap((begin) => ends.map((end) => ({ from: begin.at, until: end.at, weight: begin.weight * end.weight })));
  const halves = lanes.map(({ id }) => streams.filter(({ stream }) => stream.laneId === id)).filter((own) => own.length > 0 && own.length < streams.length);
  const tries = [{ streams, weight: halves.length > 0 ? 1 - ONE_HALF : 1 }, ...halves.map((own) => ({ streams: own, weight: ONE_HALF / halves.length }))].flatMap((each) => {
    const found = shiftOfSpans(each.streams, window, spans);
    return found ? [{ ...found, streams: each.streams, log: found.logRatio + Math.log(each.weight) }] : [];
  });
  const best = tries.reduce<(typeof tries)[number] | null>((most, each) => (most === null || each.log > most.log ? each : most), null);
  return best === null ? null : { ...best, logRatio: logSum(tries.map(({ log }) => log)) };
}
