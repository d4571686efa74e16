import { Button, Group, Stack, Textarea } from '@mantine/core';
import { type FormEvent, useState } from 'react';
import { useTranslation } from 'react-i18next';

/** A button that first asks why. Nothing is taken away without a reason; what is added may go without one (`optional`). */
export function ReasonButton({ label, name, question, act, busy, optional = false, onDo }: { optional?: boolean; label: string; name?: string; question: string; act: string; busy: boolean; onDo: (reason: string, done: () => void) => void }) {
  const { t } = useTranslation('incidentLife');
  const [open, setOpen] = useState(false);
  const [reason, setReason] = useState('');
  if (!open) return <Button variant={optional ? 'default' : 'subtle'} aria-label={name} onClick={() => setOpen(true)}>{label}</Button>;
  const ready = optional || reason.trim() !== '';
  const submit = (event: FormEvent) => {
    event.preventDefault();
    if (ready) onDo(reason.trim(), () => { setOpen(false); setReason(''); });
  };
  return (
    <form onSubmit={submit}>
      <Stack gap="xs" maw={520}>
        <Textarea size="md" label={question} required={!optional} autosize minRows={2} maxLength={2000} value={reason} onChange={({ currentTarget }) => setReason(currentTarget.value)} />
        <Group gap="sm"><Button type="submit" size="md" loading={busy} disabled={!ready}>{act}</Button><Button variant="default" size="md" onClick={() => setOpen(false)}>{t('links.cancel')}</Button></Group>
      </Stack>
    </form>
  );
}
