import { Button, Card, Center, Group, PasswordInput, Stack, Text, TextInput, Title } from '@mantine/core';
import { type FormEvent, useState } from 'react';
import { useTranslation } from 'react-i18next';
import { ProblemList } from '../shared/problem-list.js';
import { useSessionQuery } from '../shared/session.js';
import { useSignIn } from './users.queries.js';

export function SignInPage() {
  const { t } = useTranslation('users');
  const { t: common } = useTranslation('common');
  const session = useSessionQuery();
  const signIn = useSignIn();
  const [login, setLogin] = useState('');
  const [password, setPassword] = useState('');
  const send = (event: FormEvent) => {
    event.preventDefault();
    signIn.mutate({ login, password });
  };
  return (
    <Center component="main" mih="100vh" p="md">
      <Card withBorder padding="xl" w="100%" maw={440}>
        <form onSubmit={send}>
          <Stack>
            <Group gap="sm"><img src="/seam.svg" width={36} height={36} alt="" /><Title order={1} size="h2">{common('app.name')}</Title></Group>
            <Text c="dimmed">{session.data?.plant?.name}</Text>
            <TextInput label={t('signIn.login')} autoComplete="username" autoFocus required size="md" value={login} onChange={(event) => setLogin(event.currentTarget.value)} />
            <PasswordInput label={t('signIn.password')} autoComplete="current-password" required size="md" value={password} onChange={(event) => setPassword(event.currentTarget.value)} />
            {signIn.isError ? <ProblemList error={signIn.error} /> : null}
            <Button type="submit" size="md" loading={signIn.isPending}>{t('signIn.go')}</Button>
            {session.data?.demoAccounts.length ? <Text size="sm" c="dimmed">{t('signIn.demo', { logins: session.data.demoAccounts.map((account) => `${account.login} (${common(`roles.${account.role}`)})`).join(', ') })}</Text> : null}
            <Text size="xs" c="dimmed">{common('app.caution')}</Text>
          </Stack>
        </form>
      </Card>
    </Center>
  );
}
