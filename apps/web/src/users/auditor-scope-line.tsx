import { Alert, Text } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import { useFormat } from '../shared/format.js';
import { useSession } from '../shared/session.js';

/** Says on every screen whose records are shown and from when, so that nobody takes a part for the whole. */
export function AuditorScopeLine() {
  const { t } = useTranslation('sessions');
  const format = useFormat();
  const { scope } = useSession();
  if (!scope) return <Alert color="gray" role="status" mb="md">{t('auditor.none')}</Alert>;
  return <Text c="dimmed" size="sm" mb="xs">{t('auditor.sees', { customer: scope.customer, from: format.dateTime(scope.from), until: format.dateTime(scope.until) })}</Text>;
}
