import { Anchor, Stack, Text } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import { Link } from 'react-router';
import { administrators } from '#contract/roles';
import { useMay } from '../shared/session.js';
import { EmptyState, Page } from '../shared/states.js';
import { DeliveryLog } from './delivery-log.js';
import { KiosksSection } from './kiosks-section.js';
import { WebhooksSection } from './webhooks-section.js';

/** Set-up of what leaves the program: wall screens, webhooks and what became of their messages. */
export function MessagesOutPage() {
  const { t } = useTranslation('outgoing');
  const may = useMay(administrators);
  return (
    <Page title={t('out.title')}>
      <Anchor component={Link} to="/set-up">{t('out.back')}</Anchor>
      {may ? (
        <Stack gap="xl">
          <KiosksSection />
          <WebhooksSection />
          <DeliveryLog />
          <Text c="dimmed" maw={760}>{t('out.mail')}</Text>
        </Stack>
      ) : <EmptyState title={t('out.notYours')} text={t('out.notYoursText')} />}
    </Page>
  );
}
