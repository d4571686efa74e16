import type { LineMap, Stretch } from './evidence.js';
import type { Span } from './shift-evidence.js';

/** A stretch by the places of its steps in the line. */
export type Placed = Stretch & { readonly from: number; readonly to: number };
export type Bounds = Pick<Stretch, 'shortestSeconds' | 'longestSeconds' | 'leastCans' | 'mostCans'>;

/** The stretches of a line that lead onward, by place. */
export function placed({ steps, stretches }: Pick<LineMap, 'stretches'> & { readonly steps: readonly { readonly id: number }[] }): Placed[] {
  return stretches
    .map((stretch) => ({ ...stretch, from: steps.findIndex(({ id }) => id === stretch.fromStepId), to: steps.findIndex(({ id }) => id === stretch.toStepId) }))
    .filter(({ from, to }) => from >= 0 && to > from);
}

/** The stretches that lead from one place to another without a hole; null where they do not. */
export function chain(stretches: readonly Placed[], from: number, to: number): Placed[] | null {
  const way: Placed[] = [];
  for (let place = from; place < to;) {
    const next = stretches.find((stretch) => stretch.from === place && stretch.to <= to);
    if (!next) return null;
    way.push(next);
    place = next.to;
  }
  return way;
}

/** Several stretches as one; what one of them does not know is not known of all. */
export function asOne(stretches: readonly Bounds[]): Bounds {
  const total = (of: (stretch: Bounds) => number | null): number | null => stretches.reduce<number | null>((sum, stretch) => {
    const more = of(stretch);
    return sum === null || more === null ? null : sum + more;
  }, 0);
  return {
    shortestSeconds: total(({ shortestSeconds }) => shortestSeconds) ?? 0, longestSeconds: total(({ longestSeconds }) => longestSeconds) ?? 0,
    leastCans: total(({ leastCans }) => leastCans), mostCans: total(({ mostCans }) => mostCans),
  };
}

/** When cans that passed in a span come to a later place: first by the shortest, last by the longest times. */
export function walkOn({ from, until }: Span, stretches: readonly Bounds[]): Span {
  const { shortestSeconds, longestSeconds } = asOne(stretches);
  return { from: from + shortestSeconds * 1000, until: until + longestSeconds * 1000 };
}
