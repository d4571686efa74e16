import { Box } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import type { CheckView } from '#contract/inspections';
import { useFormat } from '../shared/format.js';
import { useCellName } from './cell-name.js';
import { CanName, startsGroup } from './entry-grid.js';
import './inspections.css';

export type ChosenReading = { characteristic: CheckView['characteristics'][number]; can: number; position: number; value: number | null; name: string };

/** All readings of a check, measured ones before derived ones; with `onChoose` each measured reading is a button. */
export function ReadingsTable({ check, onChoose }: { check: CheckView; onChoose?: (chosen: ChosenReading) => void }) {
  const { t } = useTranslation('inspections');
  const format = useFormat();
  const name = useCellName();
  const width = check.positions.length;
  const corrected = new Set(check.revisions.flatMap((revision) => revision.changes.map((change) => `${revision.characteristic}/${change.can}/${change.position}`)));
  return (
    // In reach of the keyboard: without buttons in it, nothing else could scroll a wide table.
    <Box component="section" className="grid-scroll" aria-label={t('check.readings')} tabIndex={0}>
      <table className="readings">
        <thead>
          <tr>
            <th rowSpan={2} scope="col">{t('grid.can')}</th>
            {check.characteristics.map((entry) => <th key={entry.code} colSpan={width} scope="colgroup" className="first" title={entry.formula === null ? undefined : t('check.derivedBy', { formula: entry.formula })}>{t('grid.characteristic', entry)}</th>)}
          </tr>
          <tr>{check.characteristics.flatMap((entry) => check.positions.map((position, index) => <th key={`${entry.code}/${position}`} scope="col" className={index === 0 ? 'sub first' : 'sub'}>{position}</th>))}</tr>
        </thead>
        <tbody>
          {check.cans.map((can, row) => (
            <tr key={`${can.unit}/${can.lane}/${can.number}`} className={row > 0 && startsGroup(check, row) ? 'group-start' : undefined}>
              <th scope="row"><CanName can={can} /></th>
              {check.characteristics.flatMap((entry) => check.positions.map((position, offset) => {
                const value = entry.readings[row * width + offset] ?? null;
                const text = format.number(value, entry.decimals);
                const changed = corrected.has(`${entry.code}/${row}/${offset}`);
                const label = name({ ...can, characteristic: entry.name, position, measure: entry.unit });
                return (
                  <td key={`${entry.code}/${position}`} className={offset === 0 ? 'first' : undefined}>
                    {onChoose && !entry.derived
                      ? <button type="button" className="cell-value" aria-label={t('check.correctCell', { cell: label, value: value === null ? t('check.missing') : text })} onClick={() => onChoose({ characteristic: entry, can: row, position: offset, value, name: label })}>{text}</button>
                      : <span className={changed ? 'cell-value cell-corrected' : 'cell-value'}>{text}</span>}
                    {changed ? <span className="cell-mark">{t('check.corrected')}</span> : null}
                  </td>
                );
              }))}
            </tr>
          ))}
        </tbody>
      </table>
    </Box>
  );
}
