import type { ChartView } from '#contract/specifications';

export type Step = 'previous' | 'next' | 'first' | 'last' | 'previousFlagged' | 'nextFlagged';

/** The point that a step leads to; from nowhere it begins at the newest one. Null where there is no such point. */
export function stepPoint({ points, firings }: Pick<ChartView, 'points' | 'firings'>, selected: number | null, step: Step): number | null {
  const end = points.takenAt.length - 1;
  if (end < 0) return null;
  const flagged = [...new Set(firings.map(({ index }) => index))].sort((a, b) => a - b);
  switch (step) {
    case 'first': return 0;
    case 'last': return end;
    case 'previous': return selected === null ? end : Math.max(0, selected - 1);
    case 'next': return selected === null ? end : Math.min(end, selected + 1);
    case 'previousFlagged': return flagged.findLast((index) => selected === null || index < selected) ?? null;
    case 'nextFlagged': return selected === null ? flagged.at(-1) ?? null : flagged.find((index) => index > selected) ?? null;
  }
}

/** Keys of the point reader. */
export const STEP_KEYS: Readonly<Record<string, Step>> = { ArrowLeft: 'previous', ArrowRight: 'next', Home: 'first', End: 'last', PageUp: 'previousFlagged', PageDown: 'nextFlagged' };
