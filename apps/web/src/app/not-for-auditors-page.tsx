import { Button, Group, Text } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import { Link } from 'react-router';
import { AUDITOR_SCREENS } from '../shared/auditor-screens.js';
import { Page } from '../shared/states.js';

/** What an auditor sees who types the address of one of the plant's own pages. */
export function NotForAuditorsPage() {
  const { t } = useTranslation('common');
  return (
    <Page title={t('notForAuditors.title')}>
      <Text maw={640}>{t('notForAuditors.text')}</Text>
      <Group component="nav" gap="sm" aria-label={t('notForAuditors.ways')}>
        {AUDITOR_SCREENS.map((name) => <Button key={name} component={Link} to={`/${name}`} variant="default">{t(`screens.${name}`)}</Button>)}
      </Group>
    </Page>
  );
}
