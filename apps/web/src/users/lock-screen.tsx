import { Button, Center, Modal, PasswordInput, Stack, Text, Title } from '@mantine/core';
import { useMutation, useQueryClient } from '@tanstack/react-query';
import { type FormEvent, useState } from 'react';
import { useTranslation } from 'react-i18next';
import { unlockSession } from '#contract/sessions';
import type { Person } from '#contract/users';
import { call, rememberCsrf } from '../shared/http.js';
import { ProblemList } from '../shared/problem-list.js';
import { sessionKey, useSignOut } from '../shared/session.js';

/** Covers everything until the password comes. The page below stays as it is: what was entered and not sent is there afterwards. */
export function LockScreen({ person, keepsWork }: { person: Person; keepsWork: boolean }) {
  const { t } = useTranslation('sessions');
  const { t: common } = useTranslation('common');
  const client = useQueryClient();
  const signOut = useSignOut();
  const [password, setPassword] = useState('');
  const unlock = useMutation({
    mutationFn: () => call(unlockSession, { body: { password } }),
    onSuccess: (session) => { rememberCsrf(session.csrf); client.setQueryData(sessionKey, session); },
    onError: () => setPassword(''),
  });
  const send = (event: FormEvent) => { event.preventDefault(); if (password !== '') unlock.mutate(); };
  return (
    <Modal opened fullScreen onClose={() => undefined} withCloseButton={false} closeOnEscape={false} closeOnClickOutside={false} zIndex={4000} transitionProps={{ duration: 0 }} aria-label={t('lock.title')}>
      <Center mih="80vh">
        <form onSubmit={send}>
          <Stack w="100%" maw={440}>
            <Title order={1} size="h2">{t('lock.title')}</Title>
            <Text>{t('lock.who', { name: person.name, role: common(`roles.${person.role}`) })}</Text>
            {keepsWork ? <Text c="dimmed">{t('lock.kept')}</Text> : null}
            <PasswordInput size="md" label={t('lock.password')} autoComplete="current-password" required data-autofocus value={password} onChange={({ currentTarget }) => setPassword(currentTarget.value)} />
            {unlock.isError ? <ProblemList error={unlock.error} /> : null}
            <Button type="submit" size="md" loading={unlock.isPending}>{t('lock.go')}</Button>
            <Button variant="default" size="md" onClick={() => signOut.mutate()}>{keepsWork ? t('lock.outLosing') : t('lock.out')}</Button>
          </Stack>
        </form>
      </Center>
    </Modal>
  );
}
