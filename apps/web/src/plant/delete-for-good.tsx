import { Button, Group, Modal, PasswordInput, Stack, Text, Textarea } from '@mantine/core';
import { type FormEvent, useState } from 'react';
import { useTranslation } from 'react-i18next';
import { ProblemList } from '../shared/problem-list.js';

/** The reason and the password anew before anything is gone for good; a refusal empties the password. */
export function DeleteForGood({ title, text, error, busy, send, onClose }: { title: string; text: string; error: unknown; busy: boolean; send: (given: { reason: string; password: string }, onRefused: () => void) => void; onClose: () => void }) {
  const { t } = useTranslation('retention');
  const [reason, setReason] = useState('');
  const [password, setPassword] = useState('');
  const submit = (event: FormEvent) => { event.preventDefault(); send({ reason, password }, () => setPassword('')); };
  return (
    <Modal opened onClose={onClose} title={title} size="lg" closeButtonProps={{ 'aria-label': t('remove.cancel') }}>
      <form onSubmit={submit}>
        <Stack>
          <Text>{text}</Text>
          <Textarea size="md" label={t('remove.reason')} required autosize minRows={2} maxLength={2000} value={reason} onChange={({ currentTarget }) => setReason(currentTarget.value)} />
          <PasswordInput size="md" label={t('remove.password')} required autoComplete="current-password" value={password} onChange={({ currentTarget }) => setPassword(currentTarget.value)} />
          {error ? <ProblemList error={error} /> : null}
          <Group gap="sm"><Button type="submit" size="md" color="red.9" loading={busy}>{t('remove.do')}</Button><Button variant="default" size="md" onClick={onClose}>{t('remove.cancel')}</Button></Group>
        </Stack>
      </form>
    </Modal>
  );
}
