import { cansFromCounts, type CountBucket } from '#canmaking/line/cans-at-risk';
import type { SignalPage } from '#contract/signals';
import type { WindowFacts } from './suspect-window.store.js';

type Window = SignalPage['window'];
export type WindowSpan = { from: Date | null; countFrom: Date; until: Date; untilBasis: Window['untilBasis'] };

/** From the last subgroup known good to the next one, else to the stop that still lasts, else until now. */
export function windowSpan(facts: WindowFacts, firstAt: Date, lastAt: Date, now: Date): WindowSpan {
  const from = facts.lastGoodAt;
  const [until, untilBasis] = facts.nextGoodAt ? [facts.nextGoodAt, 'next-good-subgroup' as const] : facts.stoppedAt ? [facts.stoppedAt, 'stop' as const] : [now, 'now' as const];
  // A check entered for a moment to come must not turn the window round.
  return { from, countFrom: from ?? firstAt, until: until < lastAt ? lastAt : until, untilBasis };
}

/** The window as the screen shows it, with the cans that were counted in it; equal shares are assumed where units or lanes are kept apart, and rounded up. */
export function suspectWindow({ from, countFrom, until, untilBasis }: WindowSpan, buckets: readonly CountBucket[], { units, lanes }: WindowFacts): Window {
  const span = { from: from?.toISOString() ?? null, until: until.toISOString(), untilBasis };
  if (buckets.length === 0) return { ...span, cans: null, noCans: 'no-counts' };
  const { cans, uncoveredMinutes } = cansFromCounts(buckets, countFrom.getTime(), until.getTime());
  const shareOf = units * lanes;
  return { ...span, noCans: null, cans: { counted: cans, atRisk: Math.ceil(cans / shareOf), shareOf, units, lanes, atLeast: from === null, uncoveredMinutes } };
}
