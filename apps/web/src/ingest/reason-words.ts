import { useTranslation } from 'react-i18next';
import { columnFields, type RowReason } from '#contract/ingest';

/** Why a row is refused, in words: `short` leaves out what differs from row to row, `full` has it behind. */
export function useReasonWords() {
  const { t } = useTranslation('ingest');
  const plain = ({ code, values }: RowReason) => {
    const field = columnFields.find((known) => known === values['field']);
    const decimal = values['decimal'] === 'comma' ? t('decimals.comma') : t('decimals.point');
    const order = values['dateOrder'];
    return { ...Object.fromEntries(Object.entries(values).map(([name, value]) => [name, value ?? t('reasonParts.any')])), code, field: field ? t(`fields.${field}`) : '', decimal, dateOrder: order === 'day-month-year' || order === 'month-day-year' ? t(`dateOrders.${order}`) : t('dateOrders.year-month-day') };
  };
  // The values of a reason are named in the catalogue, which the contract cannot know.
  const say = (kind: 'reasons' | 'reasonDetails', why: RowReason) => t(`${kind}.${why.code}` as 'reasons.columns', plain(why) as unknown as { expected: number; found: number });
  const short = (why: RowReason) => say('reasons', why);
  const full = (why: RowReason) => [short(why), say('reasonDetails', why), typeof why.values['suggestion'] === 'number' ? t('reasonParts.slipped', { suggestion: why.values['suggestion'] }) : ''].filter((part) => part !== '').join(': ');
  return { short, full };
}
