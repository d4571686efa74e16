import { Button, Group, Stack, Text, Title } from '@mantine/core';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import { MOST_RECORDS_IN_ACT, type RetentionView } from '#contract/retention';
import { administrators } from '#contract/roles';
import { useFormat } from '../shared/format.js';
import { useMay } from '../shared/session.js';
import { DeleteForGood } from './delete-for-good.js';
import { useDeleteRecords } from './retention.queries.js';

type Past = RetentionView['pastRecords'][number];
const inOneAct = ({ records }: Past): number => Math.min(records, MOST_RECORDS_IN_ACT);

/** Packs and studies past their retention, kind by kind; an administrator may delete them, with password and reason. */
export function PastRecords({ view: { pastRecords } }: { view: RetentionView }) {
  const { t } = useTranslation('retention');
  const format = useFormat();
  const mayDelete = useMay(administrators);
  const [asking, setAsking] = useState<Past>();
  const [done, setDone] = useState<{ id: number; records: number }>();
  const remove = useDeleteRecords();
  return (
    <Stack component="section" aria-labelledby="past-records" gap="xs">
      <Title order={2} size="h4" id="past-records">{t('pastRecords.title')}</Title>
      {done ? <Text role="status">{t('pastRecords.done', { count: done.records, id: done.id })}</Text> : null}
      {pastRecords.length === 0 ? <Text c="dimmed">{t('pastRecords.noRule')}</Text> : null}
      {pastRecords.map((past) => (
        <Group key={past.kind} gap="md">
          <Text>{t('pastRecords.line', { kind: t(`rules.kinds.${past.kind}`), count: past.records, before: format.dateTime(past.madeBefore) })} {past.kept > 0 ? t('pastRecords.kept', { count: past.kept }) : null}</Text>
          {past.records > 0 && mayDelete ? <Button variant="default" size="md" aria-label={t('pastRecords.deleteOf', { kind: t(`rules.kinds.${past.kind}`), count: inOneAct(past) })} onClick={() => { remove.reset(); setAsking(past); }}>{t('pastRecords.delete', { count: inOneAct(past) })}</Button> : null}
        </Group>
      ))}
      {asking ? <DeleteForGood title={t('pastRecords.deleteTitle', { kind: t(`rules.kinds.${asking.kind}`), count: inOneAct(asking) })} text={t('pastRecords.text')} error={remove.error} busy={remove.isPending} onClose={() => setAsking(undefined)} send={(given, onRefused) => remove.mutate({ kind: asking.kind, records: asking.records, ...given }, { onSuccess: (act) => { setDone(act); setAsking(undefined); }, onError: onRefused })} /> : null}
    </Stack>
  );
}
