import { useTranslation } from 'react-i18next';
import type { Sheet } from './entry-draft.js';

export type NamedCell = { number: number; unit: string | null; lane: string | null; characteristic: string; position: string; measure: string };

/** "Can 3, unit H5, cover hook, point 180°, mm": what a person who cannot see the grid needs to know of a cell. */
export function useCellName(): (cell: NamedCell) => string {
  const { t } = useTranslation('inspections');
  return ({ number, unit, lane, characteristic, position, measure }) => {
    const rest = { number, characteristic: characteristic.toLowerCase(), position, measure };
    if (unit !== null && lane !== null) return t('grid.cellUnitLane', { ...rest, unit, lane });
    if (unit !== null) return t('grid.cellUnit', { ...rest, unit });
    return lane === null ? t('grid.cell', rest) : t('grid.cellLane', { ...rest, lane });
  };
}

/** The same of a cell of a sheet, by characteristic and place. */
export function useNameOf(sheet: Sheet): (code: string, place: number) => string {
  const name = useCellName();
  return (code, place) => {
    const can = sheet.cans[Math.floor(place / sheet.positions.length)];
    const entry = sheet.measured.find((one) => one.code === code);
    return can && entry ? name({ ...can, characteristic: entry.name, position: sheet.positions[place % sheet.positions.length] ?? '', measure: entry.unit }) : code;
  };
}
