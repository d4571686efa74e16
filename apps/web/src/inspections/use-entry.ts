import { useEffect, useMemo, useReducer } from 'react';
import type { EntryDraft, Sheet } from './entry-draft.js';
import { cellId } from './entry-grid.js';
import { beginState, entryReducer } from './entry-state.js';

/** The entry of a sheet and what happens to it; a step back or forward shows where it was. */
export function useEntry(sheet: Sheet, first: () => EntryDraft) {
  const reducer = useMemo(() => entryReducer(sheet), [sheet]);
  const [state, act] = useReducer(reducer, null, () => beginState(first()));
  useEffect(() => { if (state.turnedTo) document.getElementById(cellId(state.turnedTo.code, state.turnedTo.place))?.focus(); }, [state.turnedTo]);
  return { draft: state.draft, mayUndo: state.history.past.length > 0, mayRedo: state.history.future.length > 0, act };
}
