import { Button, Group, Stack, Textarea } from '@mantine/core';
import { type FormEvent, useState } from 'react';
import { useTranslation } from 'react-i18next';

/** A button that first asks why; without a reason nothing is taken away. */
export function ReasonButton({ label, name, question, act, busy, onDo }: { label: string; name?: string; question: string; act: string; busy: boolean; onDo: (reason: string, done: () => void) => void }) {
  const { t } = useTranslation('incidentLife');
  const [open, setOpen] = useState(false);
  const [reason, setReason] = useState('');
  if (!open) return <Button variant="subtle" aria-label={name} onClick={() => setOpen(true)}>{label}</Button>;
  const submit = (event: FormEvent) => {
    event.preventDefault();
    if (reason.trim() !== '') onDo(reason.trim(), () => { setOpen(false); setReason(''); });
  };
  return (
    <form onSubmit={submit}>
      <Stack gap="xs" maw={520}>
        <Textarea size="md" label={question} required autosize minRows={2} maxLength={2000} value={reason} onChange={({ currentTarget }) => setReason(currentTarget.value)} />
        <Group gap="sm"><Button type="submit" size="md" loading={busy} disabled={reason.trim() === ''}>{act}</Button><Button variant="default" size="md" onClick={() => setOpen(false)}>{t('links.cancel')}</Button></Group>
      </Stack>
    </form>
  );
}
