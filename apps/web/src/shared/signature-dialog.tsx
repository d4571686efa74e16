import { Button, Group, Modal, PasswordInput, Stack, Text, Textarea } from '@mantine/core';
import { type FormEvent, useState } from 'react';
import { useTranslation } from 'react-i18next';
import { ProblemList } from './problem-list.js';
import { usePerson } from './session.js';

/** What a signature needs of its person: the password anew, and a comment where there is one. A refusal empties the password. */
export function SignatureDialog({ title, meaning, error, busy, ready, sign, onClose }: { title: string; meaning: string; error: unknown; busy: boolean; ready: boolean; sign: (given: { password: string; comment: string }, onRefused: () => void) => void; onClose: () => void }) {
  const { t } = useTranslation('records');
  const { t: common } = useTranslation('common');
  const person = usePerson();
  const [password, setPassword] = useState('');
  const [comment, setComment] = useState('');
  const submit = (event: FormEvent) => { event.preventDefault(); if (ready && password !== '') sign({ password, comment: comment.trim() }, () => setPassword('')); };
  return (
    <Modal opened onClose={onClose} title={title} size="lg" closeButtonProps={{ 'aria-label': t('sign.close') }}>
      <form onSubmit={submit}>
        <Stack gap="md">
          <Text>{meaning}</Text>
          <Text>{t('sign.as', { name: person.name, role: common(`roles.${person.role}`) })}</Text>
          <Textarea size="md" label={t('sign.comment')} autosize minRows={2} maxLength={2000} value={comment} onChange={({ currentTarget }) => setComment(currentTarget.value)} />
          <PasswordInput size="md" label={t('sign.password')} required autoComplete="current-password" data-autofocus value={password} onChange={({ currentTarget }) => setPassword(currentTarget.value)} />
          <ProblemList error={error} />
          <Group gap="sm">
            <Button type="submit" size="md" loading={busy} disabled={password === '' || !ready}>{t('sign.do')}</Button>
            <Button variant="default" size="md" onClick={onClose}>{t('sign.cancel')}</Button>
          </Group>
        </Stack>
      </form>
    </Modal>
  );
}
