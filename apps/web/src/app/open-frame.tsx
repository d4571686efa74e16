import { AppShell, Group, Text } from '@mantine/core';
import { Suspense } from 'react';
import { useTranslation } from 'react-i18next';
import { Link, Outlet, useLocation } from 'react-router';
import { Loading } from '../shared/states.js';

/** Around what anyone may use: nothing of the plant is shown, the way in is. */
export function OpenFrame() {
  const { t } = useTranslation('common');
  const { pathname, hash } = useLocation();
  return (
    <>
      <a className="skip-link" href="#content">{t('app.skip')}</a>
      <AppShell header={{ height: 56 }} padding="md">
        <AppShell.Header className="frame-header">
          <Group h="100%" px="md" justify="space-between" wrap="nowrap">
            <Group gap="sm" wrap="nowrap"><img src="/seam.svg" width={28} height={28} alt="" /><Text fw={700} size="lg">{t('app.name')}</Text></Group>
            <Text component={Link} to={{ pathname, search: '?sign-in=1', hash }} size="sm" className="quiet-link">{t('app.signIn')}</Text>
          </Group>
        </AppShell.Header>
        <AppShell.Main id="content" tabIndex={-1}>
          <Suspense fallback={<Loading what={t('app.page')} />}><Outlet /></Suspense>
        </AppShell.Main>
      </AppShell>
    </>
  );
}
