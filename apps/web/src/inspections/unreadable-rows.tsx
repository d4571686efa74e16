import { Alert, Button, Group, Stack, Text, Textarea } from '@mantine/core';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import { saveBlob } from '../shared/save-blob.js';
import { usePerson } from '../shared/session.js';
import { useUnreadable } from './queue.queries.js';
import { removeQueued } from './queue-store.js';

/** Entries that this version of the program cannot read: shown as they are, so that nothing typed is lost. */
export function UnreadableRows() {
  const rows = useUnreadable(usePerson().id).data ?? [];
  return <>{rows.map((row) => <UnreadableRow key={row.place} {...row} />)}</>;
}

function UnreadableRow({ place, text }: { place: number; text: string }) {
  const { t } = useTranslation('queue');
  const [sure, setSure] = useState(false);
  return (
    <Alert color="gray" role="alert" title={t('unreadableRow.title')}>
      <Stack gap="sm" align="flex-start">
        <Text>{t('unreadableRow.text')}</Text>
        <Textarea readOnly size="md" w="100%" label={t('unreadableRow.raw')} autosize minRows={2} maxRows={8} value={text} onFocus={(event) => event.currentTarget.select()} />
        <Group>
          <Button size="md" variant="default" onClick={() => saveBlob(new Blob([text], { type: 'application/json' }), `check-${place}.json`)}>{t('unreadableRow.save')}</Button>
          {sure ? <Button size="md" variant="default" onClick={() => void removeQueued(place)}>{t('act.sure')}</Button> : <Button size="md" variant="default" onClick={() => setSure(true)}>{t('act.discard')}</Button>}
        </Group>
      </Stack>
    </Alert>
  );
}
