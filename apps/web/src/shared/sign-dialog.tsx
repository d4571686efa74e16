import { Button, Group, Modal, PasswordInput, Stack, Text, Textarea } from '@mantine/core';
import { useMutation, useQueryClient } from '@tanstack/react-query';
import { type FormEvent, useState } from 'react';
import { useTranslation } from 'react-i18next';
import { type RecordKind, type SignatureMeaning, signRecords } from '#contract/records';
import { call } from './http.js';
import { ProblemList } from './problem-list.js';
import { usePerson } from './session.js';

export type SeenRecord = { kind: RecordKind; recordId: number; contentHash: string };

/** Signs what the person has seen, with their password asked anew. The server refuses what was changed meanwhile. */
export function SignDialog({ records, meaning, onClose, onSigned }: { records: readonly SeenRecord[]; meaning: SignatureMeaning; onClose: () => void; onSigned: (count: number) => void }) {
  const { t } = useTranslation('records');
  const { t: common } = useTranslation('common');
  const person = usePerson();
  const client = useQueryClient();
  const [password, setPassword] = useState('');
  const [comment, setComment] = useState('');
  const sign = useMutation({
    mutationFn: () => call(signRecords, { body: { records: [...records], meaning, password, comment: comment.trim() } }),
    onSuccess: ({ signed }) => { void client.invalidateQueries({ queryKey: ['records'] }); onSigned(signed); },
    onError: () => setPassword(''),
  });
  const submit = (event: FormEvent) => { event.preventDefault(); if (password !== '') sign.mutate(); };
  return (
    <Modal opened onClose={onClose} title={t(`sign.title.${meaning}`)} size="lg" closeButtonProps={{ 'aria-label': t('sign.close') }}>
      <form onSubmit={submit}>
        <Stack gap="md">
          <Text>{t(`sign.meaning.${meaning}`)}</Text>
          <Text>{t('sign.as', { name: person.name, role: common(`roles.${person.role}`) })}</Text>
          <Textarea size="md" label={t('sign.comment')} autosize minRows={2} maxLength={2000} value={comment} onChange={({ currentTarget }) => setComment(currentTarget.value)} />
          <PasswordInput size="md" label={t('sign.password')} required autoComplete="current-password" data-autofocus value={password} onChange={({ currentTarget }) => setPassword(currentTarget.value)} />
          <ProblemList error={sign.error} />
          <Group gap="sm">
            <Button type="submit" size="md" loading={sign.isPending} disabled={password === ''}>{t('sign.do')}</Button>
            <Button variant="default" size="md" onClick={onClose}>{t('sign.cancel')}</Button>
          </Group>
        </Stack>
      </form>
    </Modal>
  );
}
