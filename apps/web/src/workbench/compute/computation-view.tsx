import { Button, Group, Loader, Progress, Text } from '@mantine/core';
import type { ReactNode } from 'react';
import { useTranslation } from 'react-i18next';
import { ErrorState } from '../../shared/states.js';
import { type Computation, useProgress } from './use-method.js';

/** A computation in all its states: waiting with progress and a way to stop, stopped, refused with what is needed, done. */
export function ComputationView<Answer>({ computation, what, children }: { computation: Computation<Answer>; what: string; children: (answer: Answer) => ReactNode }) {
  const { t } = useTranslation('workbench');
  const { query, isStopped } = computation;
  if (query.data !== undefined) return <>{children(query.data)}</>;
  if (query.isError) return <ErrorState error={query.error} retry={() => void query.refetch()} />;
  if (isStopped) return <Group role="status"><Text>{t('computing.stopped')}</Text><Button variant="default" size="sm" onClick={() => void query.refetch()}>{t('computing.again')}</Button></Group>;
  if (query.fetchStatus === 'idle') return <Text c="dimmed" size="sm">{t('computing.notYet')}</Text>;
  return <Running computation={computation} what={what} />;
}

function Running<Answer>({ computation: { query, run, stop }, what }: { computation: Computation<Answer>; what: string }) {
  const { t } = useTranslation('workbench');
  const progress = useProgress(run, query.fetchStatus === 'fetching');
  const known = progress.data;
  return (
    <Group gap="sm" role="status">
      <Loader size="sm" />
      <Text size="sm">{known && known.seconds >= 1 ? t('computing.progress', { what, percent: Math.round(known.share * 100), seconds: Math.round(known.seconds) }) : t('computing.waiting', { what })}</Text>
      {known && known.share > 0 ? <Progress value={known.share * 100} w={160} aria-label={what} /> : null}
      <Button variant="default" size="sm" onClick={stop}>{t('computing.stop')}</Button>
    </Group>
  );
}
