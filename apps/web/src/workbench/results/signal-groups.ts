import type { ChartAnswer, Rule } from './workbench-chart.figure.js';

export type SignalGroup = {
  panel: number; rule: Rule; side: 'above' | 'below' | 'both';
  /** First point of the pattern, the points at which it first and last fired, and how often. From 0. */
  first: number; fired: number; last: number; count: number;
};

/** Firings of one rule on one side whose patterns overlap or touch are one thing to look into: a run of twenty points is one line in the table, not thirteen. In order of time. */
export function signalGroups(panels: ChartAnswer['panels']): SignalGroup[] {
  const groups = panels.flatMap(({ firings }, panel) => {
    const open = new Map<string, SignalGroup>();
    const found: SignalGroup[] = [];
    for (const { index, rule, side, firstIndex } of [...firings].sort((a, b) => a.index - b.index)) {
      const key = `${rule}/${side}`;
      const known = open.get(key);
      if (known && firstIndex <= known.last + 1) {
        known.last = index;
        known.count += 1;
        known.first = Math.min(known.first, firstIndex);
      } else {
        const begun: SignalGroup = { panel, rule, side, first: firstIndex, fired: index, last: index, count: 1 };
        open.set(key, begun);
        found.push(begun);
      }
    }
    return found;
  });
  return groups.sort((a, b) => a.fired - b.fired || a.panel - b.panel);
}

/** How many points carry a signal, each once. */
export const flaggedPoints = (panels: ChartAnswer['panels']): number => new Set(panels.flatMap(({ firings }) => firings.map(({ index }) => index))).size;
