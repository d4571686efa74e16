import { Button, Group, Modal, Stack, Text, Textarea } from '@mantine/core';
import { type FormEvent, useState } from 'react';
import { useTranslation } from 'react-i18next';
import type { TraceOrigin } from '#contract/traces';
import { ProblemList } from '../shared/problem-list.js';
import { whereOf } from './origin-words.js';
import type { TraceSubject } from './trace-subject.js';
import { useKeepTrace } from './traces.queries.js';

/** Keeps the ranking with what a person does about one of its places. */
export function ActOnOrigin({ subject, defect, origin, place, onClose }: { subject: TraceSubject; defect?: string | undefined; origin: TraceOrigin; place: number; onClose: () => void }) {
  const { t } = useTranslation('traces');
  const [comment, setComment] = useState('');
  const keep = useKeepTrace(subject, defect);
  const save = (event: FormEvent) => {
    event.preventDefault();
    keep.mutate({ chosen: place, comment }, { onSuccess: onClose });
  };
  return (
    <Modal opened onClose={onClose} title={t('act.title', { where: whereOf(t, origin) })} closeButtonProps={{ 'aria-label': t('act.cancel') }}>
      <form onSubmit={save}>
        <Stack>
          <Text>{t('act.hint')}</Text>
          <Textarea label={t('act.comment')} required autosize minRows={3} value={comment} onChange={({ currentTarget: { value } }) => setComment(value)} data-autofocus />
          {keep.isError ? <ProblemList error={keep.error} /> : null}
          <Group><Button type="submit" loading={keep.isPending}>{t('act.save')}</Button><Button variant="default" onClick={onClose}>{t('act.cancel')}</Button></Group>
        </Stack>
      </form>
    </Modal>
  );
}
