import type { TracedStream } from './evidence.js';
import { logSum, type Span } from './shift-evidence.js';

export type PeriodicEvidence = {
  /** Natural logarithm of the ratio of likelihoods, all periods, phases and sizes weighed. */
  readonly logRatio: number;
  /** The period that fits best, in bodies, and its size in sigmas of a member. */
  readonly period: number;
  readonly size: number;
  readonly members: number;
};

const SIZES = [-5, -3.5, -2.5, -1.5, 1.5, 2.5, 3.5, 5];

/**
 * Bayes factor of "every n-th body is off" against "none is": the members of a check are taken as consecutive, the phase of
 * each check as unknown. Only differences within a check count, so that a level that moves as a whole says nothing here; and
 * bodies that differ more than the limits say (median of the variances within checks) weigh less.
 * @param streams the readings of bodies of one machine; members in the order of the cans
 * @param periods to be tried, in bodies: the lanes of the slitter that feed the machine
 * @param span points looked at
 * @returns null without two members in a check of the span
 */
export function periodicEvidence(streams: readonly TracedStream[], periods: readonly number[], span: Span): PeriodicEvidence | null {
  const checks = streams.flatMap((stream) => centred(stream, span));
  const members = checks.reduce((sum, check) => sum + check.filter((z) => z !== null).length, 0);
  if (members === 0 || periods.length === 0) return null;
  const fits = periods.flatMap((period) => SIZES.map((size) => ({ period, size, log: checks.reduce((sum, check) => sum + logOfCheck(check, period, size), 0) })));
  const best = fits.reduce((a, b) => (b.log > a.log ? b : a));
  return { logRatio: logSum(fits.map(({ log }) => log)) - Math.log(fits.length), period: best.period, size: best.size, members };
}

type Check = readonly (number | null)[];

/** Members of the checks in a span, in sigmas off the mean of their check; sigma at least that of the limits. */
function centred({ limits, points }: TracedStream, { from, until }: Span): Check[] {
  if (limits === null || !(limits.sigma > 0)) return [];
  const usable = points.filter(({ members }) => members.filter((member) => member !== null).length > 1);
  const variances = usable.map(({ members }) => varianceOf(members)).sort((a, b) => a - b);
  const freedom = Math.max(1, (usable[0]?.members.length ?? 2) - 1);
  // Median of chi-square over its freedom, after Wilson & Hilferty 1931.
  const usual = (variances[variances.length >> 1] ?? 0) / (1 - 2 / (9 * freedom)) ** 3;
  const sigma = Math.max(limits.sigma, Math.sqrt(usual));
  return usable.filter(({ at }) => at >= from && at <= until).map(({ members }) => {
    const middle = meanOf(members);
    return members.map((member) => (member === null ? null : (member - middle) / sigma));
  });
}

/** Mean over the phases of the likelihood ratio of one check, given its mean. */
function logOfCheck(check: Check, period: number, size: number): number {
  return logSum(Array.from({ length: period }, (_, phase) => {
    const pattern = check.map((z, i) => (z === null ? null : i % period === phase ? size : 0));
    const middle = meanOf(pattern);
    return check.reduce<number>((sum, z, i) => (z === null ? sum : sum + z * ((pattern[i] ?? 0) - middle) - ((pattern[i] ?? 0) - middle) ** 2 / 2), 0);
  })) - Math.log(period);
}

function meanOf(values: Check): number {
  const present = values.filter((value) => value !== null);
  return present.reduce((sum, value) => sum + value, 0) / present.length;
}

function varianceOf(values: Check): number {
  const middle = meanOf(values);
  const present = values.filter((value) => value !== null);
  return present.reduce((sum, value) => sum + (value - middle) ** 2, 0) / (present.length - 1);
}
