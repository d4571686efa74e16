import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import { useNameOf } from './cell-name.js';
import type { Sheet } from './entry-draft.js';
import { cellAt, cellId, placeOf } from './entry-grid.js';
import type { EntrySettings } from './entry-settings.js';
import { readGaugeLine } from './gauge-line.js';
import type { GridCell } from './grid-moves.js';
import { typedIn, typeWhole } from './number-pad.js';
import type { SerialState } from './open-gauge.js';
import { useSerialGauge } from './use-serial-gauge.js';

export type GaugeEntry = { state: SerialState; /** What became of the last line, or why no line comes. */ said: string; connect: () => void; disconnect: () => void };

/**
 * A serial gauge that types into the cell with the focus, or into the last chosen one where that is still empty: a reading that is there is replaced only
 * by a person's choice of its cell. It stays connected from one check to the next of the same sheet. `paused` while a dialog is open before the grid.
 */
export function useGaugeEntry({ sheet, entryKey, active, paused, settings }: { sheet: Sheet; /** What is said is about one entry. */ entryKey: string; active: GridCell | null; paused: boolean; settings: EntrySettings }): GaugeEntry {
  const { t } = useTranslation('entry');
  const nameOf = useNameOf(sheet);
  const [last, setLast] = useState({ entryKey, said: '' });
  const setSaid = (said: string) => setLast({ entryKey, said });
  const onLine = (line: string) => {
    if (paused) { setSaid(t('serial.paused')); return; }
    // Of two lines that come at once the second goes where the first one led, which is not drawn yet.
    const focused = typedIn();
    const cell = focused ? cellAt(focused) : active;
    const at = cell ? placeOf(sheet, cell) : null;
    const input = focused ?? (at ? document.getElementById(cellId(at.entry.code, at.place)) : null);
    if (!at || !(input instanceof HTMLInputElement)) { setSaid(t('serial.noCell')); return; }
    if (!focused && input.value.trim() !== '') { setSaid(t('serial.taken', { cell: nameOf(at.entry.code, at.place) })); return; }
    const answer = readGaugeLine(line, at.entry, settings.serialPattern);
    if (answer.is === 'fault') { setSaid(t(`serial.faults.${answer.what}`, { line: answer.line, unit: at.entry.unit })); return; }
    setSaid(t('serial.took', { cell: nameOf(at.entry.code, at.place), value: answer.text, unit: at.entry.unit }));
    typeWhole(input, answer.text);
  };
  const { state, connect, disconnect } = useSerialGauge(settings.serialBaud, onLine);
  return { state, said: state === 'failed' || state === 'denied' || state === 'lost' ? t(`serial.${state}`) : last.entryKey === entryKey ? last.said : '', connect, disconnect };
}
