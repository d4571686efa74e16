/** One step back: what a cell held, and whether it was left out, before it was changed. */
export type CellStep = { code: string; place: number; text: string; skip: string | null };
export type History = { past: readonly (readonly CellStep[])[]; future: readonly (readonly CellStep[])[]; /** The cell whose typing is still the same step. */ open: string | null };

export const noHistory: History = { past: [], future: [], open: null };
const MOST_STEPS = 500;

/** Remembers what the change replaces. Digits typed one after the other in one cell are one step. */
export function remember(history: History, before: readonly CellStep[], cell: string | null): History {
  if (before.length === 0) return history;
  if (cell !== null && cell === history.open) return { ...history, future: [] };
  return { past: [...history.past.slice(1 - MOST_STEPS), before], future: [], open: cell };
}

/** The cell was left: what is typed there next is a step of its own. */
export const closeStep = (history: History): History => (history.open === null ? history : { ...history, open: null });

/** Takes one step back or forward; `now` gives the present state of a cell, which becomes the step the other way. */
export function takeStep(history: History, way: 'undo' | 'redo', now: (step: CellStep) => CellStep): { history: History; apply: readonly CellStep[] } | null {
  const from = way === 'undo' ? history.past : history.future;
  const step = from.at(-1);
  if (!step) return null;
  const rest = from.slice(0, -1);
  const opposite = step.map(now);
  return {
    apply: step,
    history: way === 'undo' ? { past: rest, future: [...history.future, opposite], open: null } : { past: [...history.past, opposite], future: rest, open: null },
  };
}
