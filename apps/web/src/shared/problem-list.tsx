import { List, Text } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import { OfflineError, ProblemError } from './http.js';

/** The detail of a refusal and each field with what is expected there. */
export function ProblemList({ error }: { error: unknown }) {
  const { t } = useTranslation('common');
  if (!error) return null;
  if (!(error instanceof ProblemError)) return <Text role="alert">{error instanceof OfflineError ? t('error.offlineText') : t('error.unexpectedText')}</Text>;
  const { detail, title, errors } = error.problem;
  return (
    <div role="alert">
      <Text>{detail ?? title}</Text>
      {errors && errors.length > 0 ? (
        <List size="sm">{errors.map((entry) => <List.Item key={`${entry.row ?? ''}/${entry.field}/${entry.expected}`}>{entry.row === undefined ? t('error.field', entry) : t('error.fieldRow', { ...entry, row: entry.row })}</List.Item>)}</List>
      ) : null}
    </div>
  );
}
