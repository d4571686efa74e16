import { memo, type KeyboardEvent, useCallback, useRef } from 'react';
import { useTranslation } from 'react-i18next';
import { useCellName } from './cell-name.js';
import { isComplete, isShorthand, meantText, readCell } from './cell-typing.js';
import { cellKey, type EntryDraft, type Measured, type Sheet } from './entry-draft.js';
import { BURST_MS, type GridCell, moveInGrid, nextOpen } from './grid-moves.js';
import './inspections.css';

export const cellId = (code: string, place: number) => `cell-${code}-${place}`;
/** Characteristic and place of a cell of the grid: one row a can, one column a characteristic and position. */
export function placeOf(sheet: Sheet, { row, column }: GridCell): { entry: Measured; place: number } | null {
  const width = sheet.positions.length;
  const entry = sheet.measured[Math.floor(column / width)];
  return entry ? { entry, place: row * width + (column % width) } : null;
}

type Handlers = { onCell: (code: string, place: number, text: string) => void; onLeave: (code: string, place: number) => void; onActive: (cell: GridCell) => void; onTurn: (way: 'undo' | 'redo') => void; onEnd: () => void };

/** One grid of cans by characteristics and positions. Enter, arrows and a complete number move on; `onEnd` is called past the last cell. */
export function EntryGrid({ sheet, draft, asked, active, advance, screenPad, onCell, onLeave, onActive, onTurn, onEnd }: Handlers & {
  sheet: Sheet; draft: EntryDraft; asked: ReadonlySet<string>; active: GridCell | null; advance: boolean; screenPad: boolean;
}) {
  const { t } = useTranslation('inspections');
  const name = useCellName();
  const table = useRef<HTMLTableElement>(null);
  const skips = useRef(draft.skips);
  skips.current = draft.skips;
  /** Set where the grid moved on by itself: the Enter of somebody who presses it after each number then changes nothing. */
  const arrived = useRef(false);
  const lastKey = useRef(0);
  const width = sheet.positions.length;
  const rows = sheet.cans.length;
  const columns = sheet.measured.length * width;
  const go = useCallback((to: GridCell | 'after') => {
    if (to === 'after') onEnd();
    else table.current?.querySelector<HTMLInputElement>(`[data-cell="${to.row}/${to.column}"]`)?.focus();
  }, [onEnd]);
  const onward = useCallback((from: GridCell) => nextOpen(from, { rows, columns }, (cell) => {
    const at = placeOf(sheet, cell);
    return at !== null && skips.current[cellKey(at.entry.code, at.place)] !== undefined;
  }), [sheet, rows, columns]);
  const onKey = useCallback((event: KeyboardEvent<HTMLInputElement>) => {
    if (event.nativeEvent.isComposing || event.altKey) return;
    const letter = event.key.toLowerCase();
    if ((event.ctrlKey || event.metaKey) && (letter === 'z' || letter === 'y')) {
      event.preventDefault();
      onTurn(letter === 'y' || event.shiftKey ? 'redo' : 'undo');
      return;
    }
    if (event.ctrlKey || event.metaKey || event.key === 'Shift') return;
    const input = event.currentTarget;
    const justArrived = arrived.current;
    arrived.current = false;
    if (event.key === 'Enter' && justArrived) { event.preventDefault(); return; }
    const from = cellAt(input);
    const caret = { atStart: input.selectionStart === 0, atEnd: input.selectionEnd === input.value.length, empty: input.value === '' };
    const next = moveInGrid(event.key, from, { rows, columns }, caret, event.shiftKey);
    if (next === null) { if (event.key === 'Enter') event.preventDefault(); return; }
    event.preventDefault();
    go(event.key === 'Enter' && !event.shiftKey ? onward(from) : next);
  }, [rows, columns, go, onward, onTurn]);
  const onText = useCallback((entry: Measured, place: number, input: HTMLInputElement, inserted: boolean, at: number) => {
    const fast = at - lastKey.current < BURST_MS;
    lastKey.current = at;
    // Pad and gauge type without keys: what they type here makes their Enter one that is meant.
    arrived.current = false;
    onCell(entry.code, place, input.value);
    if (!advance || fast || !inserted || input.selectionEnd !== input.value.length || !isComplete(input.value, entry)) return;
    const to = onward(cellAt(input));
    // Past the last cell is the button that saves: only a key that was meant leads there.
    if (to === 'after') return;
    arrived.current = true;
    go(to);
  }, [advance, onCell, onward, go]);
  return (
    <div className="grid-scroll">
      <table className="readings" ref={table}>
        <caption>{t('grid.caption', { plan: sheet.plan.name })}</caption>
        <thead>
          <tr><th rowSpan={2} scope="col">{t('grid.can')}</th>{sheet.measured.map((entry) => <th key={entry.code} colSpan={width} scope="colgroup" className="first">{t('grid.characteristic', entry)}</th>)}</tr>
          <tr>{sheet.measured.flatMap((entry) => sheet.positions.map((position, index) => <th key={`${entry.code}/${position}`} scope="col" className={index === 0 ? 'sub first' : 'sub'}>{position}</th>))}</tr>
        </thead>
        <tbody>
          {sheet.cans.map((can, row) => (
            <tr key={`${can.unitId}/${can.laneId}/${can.number}`} className={row > 0 && startsGroup(sheet, row) ? 'group-start' : undefined}>
              <th scope="row"><CanName can={can} /></th>
              {sheet.measured.flatMap((entry, index) => sheet.positions.map((position, offset) => {
                const place = row * width + offset;
                const column = index * width + offset;
                const key = cellKey(entry.code, place);
                return (
                  <Cell key={`${entry.code}/${position}`} entry={entry} place={place} row={row} column={column} text={draft.cells[entry.code]?.[place] ?? ''} asked={asked.has(cellId(entry.code, place))}
                    skip={draft.skips[key]} second={draft.second[key]} active={active?.row === row && active.column === column} screenPad={screenPad}
                    label={name({ ...can, characteristic: entry.name, position, measure: entry.unit })} first={offset === 0} onText={onText} onKey={onKey} onLeave={onLeave} onActive={onActive} />
                );
              }))}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

export function cellAt(input: HTMLInputElement): GridCell {
  const [row = 0, column = 0] = (input.dataset['cell'] ?? '').split('/').map(Number);
  return { row, column };
}

export function CanName({ can }: { can: { number: number; unit: string | null; lane: string | null } }) {
  const { t } = useTranslation('inspections');
  return <>{[can.unit === null ? null : t('grid.unit', { unit: can.unit }), can.lane === null ? null : t('grid.lane', { lane: can.lane }), t('grid.row', { number: can.number })].filter((part) => part !== null).join(' · ')}</>;
}

export const startsGroup = (sheet: { cans: readonly { unit: string | null; lane: string | null }[] }, row: number): boolean => sheet.cans[row]?.unit !== sheet.cans[row - 1]?.unit || sheet.cans[row]?.lane !== sheet.cans[row - 1]?.lane;

/** Typing in one cell redraws that cell only: a teardown sheet has more than a hundred. */
const Cell = memo(function Cell({ entry, place, row, column, text, asked, skip, second, active, screenPad, label, first, onText, onKey, onLeave, onActive }: {
  entry: Measured; place: number; row: number; column: number; text: string; asked: boolean; skip: string | undefined; second: string | undefined; active: boolean; screenPad: boolean; label: string; first: boolean;
  onText: (entry: Measured, place: number, input: HTMLInputElement, inserted: boolean, at: number) => void; onKey: (event: KeyboardEvent<HTMLInputElement>) => void; onLeave: Handlers['onLeave']; onActive: Handlers['onActive'];
}) {
  const { t } = useTranslation(['inspections', 'entry']);
  const id = cellId(entry.code, place);
  const mark = asked ? t('question.mark') : skip !== undefined ? t('entry:grid.leftOut', { reason: skip }) : second !== undefined ? t('entry:grid.second', { value: meantText(second, entry) }) : null;
  return (
    <td className={first ? 'first' : undefined}>
      <input id={id} data-cell={`${row}/${column}`} className="cell-input" type="text" inputMode={screenPad ? 'none' : 'decimal'} autoComplete="off" enterKeyHint="next" aria-label={label} value={text} data-skip={skip !== undefined || undefined}
        aria-invalid={asked || readCell(text, entry) === 'unreadable'} aria-describedby={mark === null ? undefined : `${id}-mark`}
        onChange={(event) => onText(entry, place, event.currentTarget, event.nativeEvent instanceof InputEvent && event.nativeEvent.inputType.startsWith('insert'), event.timeStamp)} onKeyDown={onKey} onBlur={() => onLeave(entry.code, place)} onFocus={(event) => { event.currentTarget.select(); onActive({ row, column }); }} />
      {active && isShorthand(text, entry.gaugeStep) ? <span className="cell-meant" aria-hidden="true">{t('entry:grid.counts', { value: meantText(text, entry) })}</span> : null}
      {mark === null ? null : <span id={`${id}-mark`} className={asked ? 'cell-mark' : 'cell-note'} title={mark}>{mark}</span>}
    </td>
  );
});
