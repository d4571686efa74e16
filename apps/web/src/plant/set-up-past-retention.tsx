import { Button, Stack, Text, Title } from '@mantine/core';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import type { RetentionView } from '#contract/retention';
import { administrators } from '#contract/roles';
import { useFormat } from '../shared/format.js';
import { useMay } from '../shared/session.js';
import { DeleteForGood } from './delete-for-good.js';
import { useDeletePast } from './retention.queries.js';

/** Lists what is past its retention; an administrator may delete it, with password and reason. */
export function PastRetention({ view: { past } }: { view: RetentionView }) {
  const { t } = useTranslation('retention');
  const format = useFormat();
  const mayDelete = useMay(administrators);
  const [asking, setAsking] = useState(false);
  const [done, setDone] = useState<{ id: number; checks: number }>();
  return (
    <Stack component="section" aria-labelledby="past-retention" gap="xs">
      <Title order={2} size="h4" id="past-retention">{t('past.title')}</Title>
      {done ? <Text role="status">{t('remove.done', { count: done.checks, id: done.id })}</Text> : null}
      {past === null ? <Text c="dimmed">{t('past.noRule')}</Text> : null}
      {past && past.checks === 0 ? <Text c="dimmed">{t('past.none')}</Text> : null}
      {past && past.checks > 0 && past.oldest && past.newest ? (
        <>
          <Text>{t('past.found', { count: past.checks, before: format.dateTime(past.takenBefore), oldest: format.dateTime(past.oldest), newest: format.dateTime(past.newest) })} {past.checks > past.most ? t('past.most', { most: format.number(past.most, 0) }) : null}</Text>
          {mayDelete ? <Button variant="default" size="md" style={{ alignSelf: 'flex-start' }} onClick={() => setAsking(true)}>{t('past.delete', { count: Math.min(past.checks, past.most) })}</Button> : <Text c="dimmed">{t('past.onlyAdministrator')}</Text>}
        </>
      ) : null}
      {past && past.kept > 0 ? <Text>{t('past.kept', { count: past.kept })}</Text> : null}
      {asking && past ? <DeleteDialog checks={past.checks} onClose={() => setAsking(false)} onDone={(act) => { setDone(act); setAsking(false); }} /> : null}
    </Stack>
  );
}

function DeleteDialog({ checks, onClose, onDone }: { checks: number; onClose: () => void; onDone: (act: { id: number; checks: number }) => void }) {
  const { t } = useTranslation('retention');
  const remove = useDeletePast();
  return <DeleteForGood title={t('remove.title')} text={t('remove.text')} error={remove.error} busy={remove.isPending} onClose={onClose} send={(given, onRefused) => remove.mutate({ checks, ...given }, { onSuccess: onDone, onError: onRefused })} />;
}
