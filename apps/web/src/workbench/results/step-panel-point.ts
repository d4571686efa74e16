import type { ChartAnswer } from './workbench-chart.figure.js';

export type PanelStep = 'first' | 'last' | 'previous' | 'next' | 'previousFlagged' | 'nextFlagged';
export const PANEL_KEYS: Readonly<Record<string, PanelStep>> = { Home: 'first', End: 'last', ArrowLeft: 'previous', ArrowRight: 'next', PageUp: 'previousFlagged', PageDown: 'nextFlagged' };

/** The point that a step leads to; from nowhere it begins at the first one. Gaps are passed over; null where there is nothing further. */
export function stepPanelPoint(panels: ChartAnswer['panels'], selected: number | null, step: PanelStep): number | null {
  const length = panels[0]?.points.length ?? 0;
  const forward = step === 'first' || step === 'next' || step === 'nextFlagged';
  if (step === 'nextFlagged' || step === 'previousFlagged') {
    const flagged = [...new Set(panels.flatMap(({ firings }) => firings.map(({ index }) => index)))].sort((a, b) => a - b);
    return (forward ? flagged.find((index) => selected === null || index > selected) : flagged.findLast((index) => selected !== null && index < selected)) ?? null;
  }
  const end = forward ? 0 : length - 1;
  const start = selected === null || step === 'first' || step === 'last' ? end : selected + (forward ? 1 : -1);
  for (let index = start; index >= 0 && index < length; index += forward ? 1 : -1) if (panels.some(({ points }) => points[index] != null)) return index;
  return null;
}
