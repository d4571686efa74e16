import { useCallback, useEffect, useState } from 'react';
import { useLocation, useNavigate } from 'react-router';
import { type Choices, START, type WorkbenchState } from './choices.js';
import { suggestForm } from './form/suggest-form.js';
import type { DataTable } from './read/read-table.js';
import { type TableState, useTable } from './read/use-table.js';
import { unpackState } from './share/pack-state.js';

export type Opened = 'restored' | 'broken' | null;
export type Workbench = {
  state: WorkbenchState; table: TableState; opened: Opened;
  /** The table to work with; null while a new one is read and a first reading of it is suggested. */
  shown: DataTable | null;
  setText: (text: string, source: string | null) => void; change: (choices: Partial<Choices>) => void; restore: (state: WorkbenchState) => void;
  /** Puts the packed state into the address without another step in the history. */
  keepInAddress: (packed: string) => void;
};

/** Tells data in the address from a link to a part of the page. */
const MARK = '#data=';
const packedIn = (hash: string): string | null => (hash.startsWith(MARK) ? hash.slice(MARK.length) : null);

/** All that is on the screen. An address with data restores them; the next change takes them out of the address, since it would no longer say what is shown. */
export function useWorkbench(): Workbench {
  const { hash, pathname } = useLocation();
  const navigate = useNavigate();
  const [state, setState] = useState<WorkbenchState>({ version: 1, text: '', source: null, choices: START });
  /** A new table gets a suggestion; one from an address or a study was formed by somebody already. */
  const [isNew, setNew] = useState(false);
  const [opened, setOpened] = useState<Opened>(null);
  const [own, setOwn] = useState<string | null>(null);
  const table = useTable(state.text, state.choices);
  const forget = useCallback(() => { if (packedIn(window.location.hash) !== null) void navigate({ pathname, hash: '' }, { replace: true }); }, [navigate, pathname]);
  useEffect(() => {
    const packed = packedIn(hash);
    if (packed === null || packed === own) return undefined;
    let gone = false;
    void unpackState(packed).then((found) => {
      if (gone) return;
      if (found) { setState(found); setNew(false); setOwn(packed); }
      setOpened(found ? 'restored' : 'broken');
    });
    return () => { gone = true; };
  }, [hash, own]);
  useEffect(() => {
    if (!isNew || table.state !== 'read' || table.of !== state.text) return;
    setNew(false);
    setState((before) => ({ ...before, choices: { ...before.choices, ...suggestForm(table.table) } }));
  }, [isNew, table, state.text]);
  return {
    state, table, opened,
    shown: isNew ? null : table.state === 'read' ? table.table : table.state === 'reading' ? table.before : null,
    setText: useCallback((text, source) => {
      forget();
      setOpened(null);
      // Typing on in the same text keeps what was chosen; another text is looked at anew.
      const isAnother = state.text === '' || text === '' || source !== state.source || !(text.startsWith(state.text.slice(0, 200)) || state.text.startsWith(text.slice(0, 200)));
      if (isAnother) setNew(true);
      setState((before) => ({ ...before, text, source, choices: isAnother ? { ...before.choices, delimiter: undefined, decimal: undefined, header: undefined } : before.choices }));
    }, [forget, state.text, state.source]),
    change: useCallback((choices) => { forget(); setState((before) => ({ ...before, choices: { ...before.choices, ...choices } })); }, [forget]),
    restore: useCallback((restored) => { forget(); setOpened(null); setNew(false); setState(restored); }, [forget]),
    keepInAddress: useCallback((packed) => { setOwn(packed); void navigate({ pathname, hash: `${MARK}${packed}` }, { replace: true }); }, [navigate, pathname]),
  };
}
