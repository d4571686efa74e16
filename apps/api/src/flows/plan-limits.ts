import { Problem } from '#contract/problem';
import { type Baseline, leastBaseline } from '#contract/specifications';
import { baselineLimits, type LimitsBasis } from '#statistics/charts/limits';
import type { StoredPoint } from '../inspections/subgroups.store.js';
import type { Tx } from '../platform/work.js';
import { type FrozenLimits, listLimits } from '../specifications/limits.store.js';
import type { Stream } from '../specifications/streams.store.js';
import { loadSeries } from './judge-streams.js';

export type LimitsPlan = {
  basis: LimitsBasis; formula: string | null;
  from: Date; to: Date; effectiveFrom: Date;
  /** Where limits that were frozen for a later time begin. */
  until: Date | null;
  /** Points that these limits are for, and those around them that a rule can still see; with the limits they have now. */
  points: StoredPoint[];
  /** What the stream has so far. */
  known: FrozenLimits[];
};

const END_OF_TIME = new Date('9999-12-31T00:00:00Z');

/** What a baseline gives and which subgroups it would judge; refuses a baseline that is too short, or of two formulas. */
export async function planLimits(tx: Tx, plantId: number, stream: Stream, asked: Baseline): Promise<LimitsPlan> {
  const [from, to] = [new Date(asked.from), new Date(asked.to)];
  const effectiveFrom = asked.effectiveFrom === undefined ? from : new Date(asked.effectiveFrom);
  const known = await listLimits(tx, plantId, [stream.id]);
  const until = known.find((limits) => limits.effectiveFrom > effectiveFrom)?.effectiveFrom ?? null;
  const end = until ?? END_OF_TIME;
  const points = (await loadSeries(tx, plantId, [stream], () => ({ from: new Date(Math.min(from.getTime(), effectiveFrom.getTime())), to: new Date(Math.max(end.getTime(), to.getTime())) }))).get(stream.id) ?? [];
  const { basis, formula } = basisOf(stream, points.filter(({ takenAt }) => takenAt >= from && takenAt <= to), asked);
  return { basis, formula, from, to, effectiveFrom, until, points, known };
}

function basisOf(stream: Stream, baseline: readonly StoredPoint[], { excluded }: Baseline): { basis: LimitsBasis; formula: string | null } {
  const keyOf = (takenAt: Date, sequence: number) => `${takenAt.getTime()}/${sequence}`;
  const places = new Set(baseline.map((point) => keyOf(point.takenAt, point.sequence)));
  const strangers = excluded.flatMap((entry, index) => (places.has(keyOf(new Date(entry.takenAt), entry.sequence)) ? [] : [{ field: `excluded.${index}`, expected: `a subgroup of the baseline; there is none of ${entry.takenAt}, sequence ${entry.sequence}` }]));
  if (strangers.length > 0) throw new Problem('invalid-input', undefined, strangers);
  const out = new Set(excluded.map((entry) => keyOf(new Date(entry.takenAt), entry.sequence)));
  const isIn = (point: StoredPoint) => point.mean !== null && !out.has(keyOf(point.takenAt, point.sequence));
  const used = baseline.filter(isIn);
  if (used.length < leastBaseline) throw new Problem('too-little-data', `Limits need at least ${leastBaseline} subgroups with readings; this baseline has ${used.length}${out.size > 0 ? ` after ${out.size} were excluded` : ''}. Choose a longer one.`);
  const formula = used[0]?.formula ?? null;
  const other = used.find((point) => point.formula !== formula);
  if (other) throw new Problem('invalid-input', undefined, [{ field: 'from', expected: `a baseline of one formula: it changes from ${formula ?? 'none'} to ${other.formula ?? 'none'} at ${other.takenAt.toISOString()}` }]);
  try {
    // An excluded subgroup is a gap, so that no moving range reaches across it.
    return { formula, basis: baselineLimits(stream.chartKind, baseline.map((point) => (isIn(point) ? { n: point.n, mean: point.mean, range: point.range, sd: point.sd, low: null, high: null } : { n: 0, mean: null, range: null, sd: null, low: null, high: null }))) };
  } catch (error) {
    if (error instanceof RangeError) throw new Problem('too-little-data', error.message.replace(/^baselineLimits \([^)]*\): /, 'No limits follow from this baseline: '));
    throw error;
  }
}

/** The series as it is judged once the limits `id` hold. */
export function judgedBy({ points, effectiveFrom, until, formula }: LimitsPlan, id: number): { points: StoredPoint[]; judgeFrom: number } {
  const first = points.findIndex(({ takenAt }) => takenAt >= effectiveFrom);
  return {
    points: points.map((point) => (isFor({ effectiveFrom, until }, point) ? { ...point, limitsId: point.formula === formula ? id : null } : point)),
    judgeFrom: first < 0 ? points.length : first,
  };
}

export const isFor = ({ effectiveFrom, until }: Pick<LimitsPlan, 'effectiveFrom' | 'until'>, { takenAt }: { takenAt: Date }): boolean => takenAt >= effectiveFrom && (until === null || takenAt < until);
