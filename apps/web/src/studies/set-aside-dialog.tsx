import { Button, Group, Modal, Stack, Textarea } from '@mantine/core';
import { type FormEvent, useState } from 'react';
import { useTranslation } from 'react-i18next';
import { ProblemList } from '../shared/problem-list.js';
import { useSetAside } from './study-records.queries.js';

export function SetAsideDialog({ id, onClose }: { id: number; onClose: () => void }) {
  const { t } = useTranslation('studyRecords');
  const [reason, setReason] = useState('');
  const act = useSetAside(id);
  const submit = (event: FormEvent) => { event.preventDefault(); act.mutate({ reason: reason.trim() }, { onSuccess: onClose }); };
  return (
    <Modal opened onClose={onClose} title={t('step.aside')} closeButtonProps={{ 'aria-label': t('step.close') }}>
      <form onSubmit={submit}>
        <Stack gap="md">
          <Textarea size="md" required data-autofocus label={t('step.asideReason')} autosize minRows={2} maxLength={2000} value={reason} onChange={({ currentTarget }) => setReason(currentTarget.value)} />
          <ProblemList error={act.error} />
          <Group gap="sm"><Button type="submit" size="md" loading={act.isPending} disabled={reason.trim().length < 3}>{t('step.asideDo')}</Button><Button variant="default" size="md" onClick={onClose}>{t('step.cancel')}</Button></Group>
        </Stack>
      </form>
    </Modal>
  );
}
