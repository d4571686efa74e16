import { List } from '@mantine/core';
import { useTranslation } from 'react-i18next';

/** The fields a pattern may have, for the person who writes one. */
export function FieldList() {
  const { t } = useTranslation('plant');
  return <List size="sm">{(['line', 'year', 'dayOfYear', 'monthDay', 'hour', 'shift', 'made', 'text'] as const).map((name) => <List.Item key={name}>{t(`setUp.canCode.fields.${name}`)}</List.Item>)}</List>;
}
