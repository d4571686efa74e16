import type { EpochMs } from '../units.js';
import { type CountedSpan, firstIndex } from './count-curve.js';

const minute = 60_000;

type Hole = { from: EpochMs; until: EpochMs };

/**
 * Adds spans without a can where a machine leaves them out. A missing span is a machine that stood or a counter that was
 * away. A machine that ever sent a span of zero cans sends them all: its holes stay unknown. One that never did leaves them
 * out: its holes are taken for standing, but not where the other step proves the contrary by more cans than fit between the two.
 * Spans that name no machine are left as they are. Common practice of counters, no source.
 * @param mostCans the most cans that fit between the steps
 */
export function idleFilled(own: readonly CountedSpan[], other: readonly CountedSpan[], mostCans: number): readonly CountedSpan[] {
  const machines = new Map<number, CountedSpan[]>();
  for (const span of own) {
    if (span.machineId === undefined) continue;
    const spans = machines.get(span.machineId);
    if (spans) spans.push(span);
    else machines.set(span.machineId, [span]);
  }
  const filled: CountedSpan[] = [];
  const silent = [...machines].filter(([, spans]) => spans.every(({ cans }) => cans > 0));
  if (silent.length === 0) return own;
  const [ownCans, otherCans] = [cansInside(own), cansInside(other)];
  for (const [machineId, spans] of silent) {
    for (const hole of holesOf(spans)) {
      if (otherCans(hole) - ownCans(hole) > mostCans) continue;
      filled.push({ machineId, at: hole.from, minutes: (hole.until - hole.from) / minute, cans: 0 });
    }
  }
  return filled.length === 0 ? own : [...own, ...filled];
}

const endOf = ({ at, minutes }: CountedSpan): EpochMs => at + minutes * minute;

// Between its own spans only: what comes before the first or after the last may not have arrived.
function holesOf(spans: readonly CountedSpan[]): Hole[] {
  const holes: Hole[] = [];
  let reached = Number.POSITIVE_INFINITY;
  for (const span of [...spans].sort((a, b) => a.at - b.at)) {
    if (span.at > reached) holes.push({ from: reached, until: span.at });
    reached = reached === Number.POSITIVE_INFINITY ? endOf(span) : Math.max(reached, endOf(span));
  }
  return holes;
}

/** Cans of the spans that lie wholly inside, by running sums over their begins and ends. */
function cansInside(spans: readonly CountedSpan[]): (hole: Hole) => number {
  const summed = (by: (span: CountedSpan) => number) => {
    const sorted = [...spans].sort((a, b) => by(a) - by(b));
    let sum = 0;
    return { at: sorted.map(by), sums: sorted.map(({ cans }) => { sum += cans; return sum; }) };
  };
  const [begun, ended] = [summed(({ at }) => at), summed(endOf)];
  const upTo = ({ at, sums }: { at: readonly number[]; sums: readonly number[] }, moment: number, included: boolean): number => {
    const count = firstIndex(at.length, (index) => (included ? (at[index] ?? 0) > moment : (at[index] ?? 0) >= moment));
    return sums[count - 1] ?? 0;
  };
  // What had ended by the end, less what had begun before the hole; a span round the whole hole counts as nothing.
  return ({ from, until }) => Math.max(0, upTo(ended, until, true) - upTo(begun, from, false));
}
