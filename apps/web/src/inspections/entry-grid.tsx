import { memo, type KeyboardEvent, useCallback, useRef } from 'react';
import { useTranslation } from 'react-i18next';
import { useCellName } from './cell-name.js';
import { type EntryDraft, readCell, type Sheet } from './entry-draft.js';
import { moveInGrid } from './grid-moves.js';
import './inspections.css';

export const cellId = (code: string, place: number) => `cell-${code}-${place}`;

/** One grid of cans by characteristics and positions; Enter and arrows move, and `onEnd` is called past the last cell. */
export function EntryGrid({ sheet, draft, asked, onCell, onEnd }: { sheet: Sheet; draft: EntryDraft; asked: ReadonlySet<string>; onCell: (code: string, place: number, text: string) => void; onEnd: () => void }) {
  const { t } = useTranslation('inspections');
  const name = useCellName();
  const table = useRef<HTMLTableElement>(null);
  const width = sheet.positions.length;
  const rows = sheet.cans.length;
  const columns = sheet.measured.length * width;
  const onKey = useCallback((event: KeyboardEvent<HTMLInputElement>) => {
    if (event.ctrlKey || event.altKey || event.metaKey || event.nativeEvent.isComposing) return;
    const input = event.currentTarget;
    const [row = 0, column = 0] = (input.dataset['cell'] ?? '').split('/').map(Number);
    const caret = { atStart: input.selectionStart === 0, atEnd: input.selectionEnd === input.value.length };
    const next = moveInGrid(event.key, { row, column }, { rows, columns }, caret, event.shiftKey);
    if (next === null) { if (event.key === 'Enter') event.preventDefault(); return; }
    event.preventDefault();
    if (next === 'after') onEnd();
    else table.current?.querySelector<HTMLInputElement>(`[data-cell="${next.row}/${next.column}"]`)?.focus();
  }, [rows, columns, onEnd]);
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
                return (
                  <Cell key={`${entry.code}/${position}`} code={entry.code} place={place} at={`${row}/${index * width + offset}`} text={draft.cells[entry.code]?.[place] ?? ''} asked={asked.has(cellId(entry.code, place))}
                    label={name({ ...can, characteristic: entry.name, position, measure: entry.unit })} first={offset === 0} onCell={onCell} onKey={onKey} />
                );
              }))}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

export function CanName({ can }: { can: { number: number; unit: string | null; lane: string | null } }) {
  const { t } = useTranslation('inspections');
  return <>{[can.unit === null ? null : t('grid.unit', { unit: can.unit }), can.lane === null ? null : t('grid.lane', { lane: can.lane }), t('grid.row', { number: can.number })].filter((part) => part !== null).join(' · ')}</>;
}

export const startsGroup = (sheet: { cans: readonly { unit: string | null; lane: string | null }[] }, row: number): boolean => sheet.cans[row]?.unit !== sheet.cans[row - 1]?.unit || sheet.cans[row]?.lane !== sheet.cans[row - 1]?.lane;

/** Typing in one cell redraws that cell only: a teardown sheet has more than a hundred. */
const Cell = memo(function Cell({ code, place, at, text, asked, label, first, onCell, onKey }: {
  code: string; place: number; at: string; text: string; asked: boolean; label: string; first: boolean; onCell: (code: string, place: number, text: string) => void; onKey: (event: KeyboardEvent<HTMLInputElement>) => void;
}) {
  const { t } = useTranslation('inspections');
  const id = cellId(code, place);
  return (
    <td className={first ? 'first' : undefined}>
      <input id={id} data-cell={at} className="cell-input" type="text" inputMode="decimal" autoComplete="off" enterKeyHint="next" aria-label={label} value={text} aria-invalid={asked || readCell(text) === 'unreadable'} aria-describedby={asked ? `${id}-mark` : undefined}
        onChange={(event) => onCell(code, place, event.currentTarget.value)} onKeyDown={onKey} onFocus={(event) => event.currentTarget.select()} />
      {asked ? <span id={`${id}-mark`} className="cell-mark">{t('question.mark')}</span> : null}
    </td>
  );
});
