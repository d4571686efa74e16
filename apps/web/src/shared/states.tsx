import { Alert, Button, Group, Loader, Stack, Text, Title } from '@mantine/core';
import type { UseQueryResult } from '@tanstack/react-query';
import { type ReactNode, useEffect } from 'react';
import { useTranslation } from 'react-i18next';
import { OfflineError, ProblemError } from './http.js';
import { ProblemList } from './problem-list.js';

/** A screen's heading, its actions, and the title of the browser tab. */
export function Page({ title, actions, children }: { title: string; actions?: ReactNode; children: ReactNode }) {
  const { t } = useTranslation('common');
  useEffect(() => { document.title = `${title} · ${t('app.name')}`; }, [title, t]);
  return (
    <Stack gap="md">
      <Group justify="space-between" align="flex-start">
        <Title order={1} size="h2">{title}</Title>
        {actions ? <Group gap="sm" className="no-print">{actions}</Group> : null}
      </Group>
      {children}
    </Stack>
  );
}

export function Loading({ what }: { what: string }) {
  const { t } = useTranslation('common');
  return <Group p="lg" role="status" aria-live="polite"><Loader size="sm" /><Text>{t('loading', { what })}</Text></Group>;
}

export function EmptyState({ title, text, action }: { title: string; text: string; action?: ReactNode }) {
  return <Stack gap="xs" p="lg" align="flex-start"><Title order={2} size="h4">{title}</Title><Text c="dimmed">{text}</Text>{action}</Stack>;
}

/** What went wrong, in words for the person, with the way on. */
export function ErrorState({ error, retry }: { error: unknown; retry?: () => void }) {
  const { t } = useTranslation('common');
  const title = error instanceof ProblemError ? error.problem.title : error instanceof OfflineError ? t('error.offline') : t('error.unexpected');
  return (
    <Alert color="gray" title={title} role="alert" m="sm">
      <Stack gap="sm" align="flex-start">
        {error instanceof ProblemError ? <ProblemList error={error} /> : <Text size="sm">{error instanceof OfflineError ? t('error.offlineText') : t('error.unexpectedText')}</Text>}
        {retry ? <Button variant="default" onClick={retry}>{t('error.retry')}</Button> : null}
      </Stack>
    </Alert>
  );
}

/** The four states of everything that is fetched: loading, error, empty, there. */
export function QueryView<Data>({ query, what, isEmpty, empty, children }: {
  query: UseQueryResult<Data>; what: string; isEmpty?: (data: Data) => boolean; empty?: ReactNode; children: (data: Data) => ReactNode;
}) {
  if (query.isPending) return <Loading what={what} />;
  if (query.isError && query.data === undefined) return <ErrorState error={query.error} retry={() => void query.refetch()} />;
  const data = query.data as Data;
  if (isEmpty?.(data)) return empty;
  return children(data);
}
