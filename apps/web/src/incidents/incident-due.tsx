import { Button, Group, Stack, Textarea, TextInput } from '@mantine/core';
import { type FormEvent, useState } from 'react';
import { useTranslation } from 'react-i18next';
import type { Incident } from '#contract/incidents';
import { useFormat } from '../shared/format.js';
import { ProblemList } from '../shared/problem-list.js';
import { useSetDue } from './incident-life.queries.js';

/** Moves the date of the next step; an empty date takes it away. */
export function IncidentDue({ incident }: { incident: Incident }) {
  const { t } = useTranslation('incidentLife');
  const format = useFormat();
  const set = useSetDue(incident.id);
  const [open, setOpen] = useState(false);
  const [date, setDate] = useState(incident.dueAt === null ? '' : format.toInput(incident.dueAt));
  const [reason, setReason] = useState('');
  if (!open) return <Button variant="subtle" onClick={() => setOpen(true)}>{t('step.changeDue')}</Button>;
  const dueAt = date === '' ? null : format.fromInput(date);
  const bad = date !== '' && dueAt === null;
  const submit = (event: FormEvent) => {
    event.preventDefault();
    if (!bad && reason.trim() !== '') set.mutate({ revision: incident.revision, dueAt, reason: reason.trim() }, { onSuccess: () => { setOpen(false); setReason(''); } });
  };
  return (
    <form onSubmit={submit}>
      <Stack gap="xs" maw={520}>
        <TextInput size="md" type="datetime-local" label={t('step.due')} description={t('step.dueHint', { zone: format.timeZone })} value={date} error={bad ? t('step.badDue') : undefined} onChange={({ currentTarget }) => setDate(currentTarget.value)} />
        <Textarea size="md" label={t('step.dueWhy')} required autosize minRows={2} maxLength={2000} value={reason} onChange={({ currentTarget }) => setReason(currentTarget.value)} />
        <ProblemList error={set.error} />
        <Group gap="sm"><Button type="submit" size="md" loading={set.isPending} disabled={bad || reason.trim() === ''}>{t('step.save')}</Button><Button variant="default" size="md" onClick={() => setOpen(false)}>{t('step.cancel')}</Button></Group>
      </Stack>
    </form>
  );
}
