import { Button, Card, Center, PasswordInput, Select, Stack, Text, TextInput, Title } from '@mantine/core';
import { type FormEvent, useState } from 'react';
import { useTranslation } from 'react-i18next';
import { ProblemList } from '../shared/problem-list.js';
import { expectedOf } from './expected-of.js';
import { useFirstRun } from './users.queries.js';

const HERE = Intl.DateTimeFormat().resolvedOptions().timeZone;
// Browsers leave UTC, and sometimes the zone they run in, out of their own list.
const ZONES = [...new Set([...Intl.supportedValuesOf('timeZone'), HERE, 'UTC'])].sort();

/** An empty installation: the plant, its zone and its first administrator, once. */
export function FirstRunPage() {
  const { t } = useTranslation('users');
  const make = useFirstRun();
  const [form, setForm] = useState({ plantName: '', timeZone: HERE, name: '', login: '', password: '' });
  const set = (field: keyof typeof form) => (event: { currentTarget: { value: string } }) => { const { value } = event.currentTarget; setForm((old) => ({ ...old, [field]: value })); };
  const send = (event: FormEvent) => {
    event.preventDefault();
    make.mutate(form);
  };
  return (
    <Center component="main" mih="100vh" p="md">
      <Card withBorder padding="xl" w="100%" maw={520}>
        <form onSubmit={send}>
          <Stack>
            <Title order={1} size="h2">{t('firstRun.title')}</Title>
            <Text>{t('firstRun.text')}</Text>
            <TextInput label={t('firstRun.plantName')} required size="md" error={expectedOf(make.error, 'plantName')} value={form.plantName} onChange={set('plantName')} />
            <Select label={t('firstRun.timeZone')} description={t('firstRun.timeZoneHint')} data={ZONES} searchable required size="md" error={expectedOf(make.error, 'timeZone')} value={form.timeZone} onChange={(value) => setForm((old) => ({ ...old, timeZone: value ?? old.timeZone }))} />
            <TextInput label={t('firstRun.name')} autoComplete="name" required size="md" error={expectedOf(make.error, 'name')} value={form.name} onChange={set('name')} />
            <TextInput label={t('firstRun.login')} description={t('firstRun.loginHint')} autoComplete="username" required size="md" error={expectedOf(make.error, 'login')} value={form.login} onChange={set('login')} />
            <PasswordInput label={t('firstRun.password')} description={t('firstRun.passwordHint')} autoComplete="new-password" required minLength={12} size="md" error={expectedOf(make.error, 'password')} value={form.password} onChange={set('password')} />
            {make.isError ? <ProblemList error={make.error} /> : null}
            <Button type="submit" size="md" loading={make.isPending}>{t('firstRun.go')}</Button>
          </Stack>
        </form>
      </Card>
    </Center>
  );
}
