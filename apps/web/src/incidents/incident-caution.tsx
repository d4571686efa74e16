import { Alert } from '@mantine/core';
import { useTranslation } from 'react-i18next';

export function IncidentCaution() {
  const { t } = useTranslation('incidents');
  return <Alert color="gray" title={t('caution.title')} role="note">{t('caution.text')}</Alert>;
}
