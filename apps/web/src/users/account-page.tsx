import { Anchor, Button, Card, PasswordInput, Stack, Table, Text, Title } from '@mantine/core';
import { type FormEvent, useState } from 'react';
import { useTranslation } from 'react-i18next';
import { Link } from 'react-router';
import { ProblemList } from '../shared/problem-list.js';
import { usePerson } from '../shared/session.js';
import { Page } from '../shared/states.js';
import { expectedOf } from './expected-of.js';
import { useChangePassword } from './users.queries.js';

export function AccountPage() {
  const { t } = useTranslation('users');
  const { t: out } = useTranslation('outgoing');
  const { t: common } = useTranslation('common');
  const person = usePerson();
  const change = useChangePassword();
  const [old, setOld] = useState('');
  const [next, setNext] = useState('');
  const send = (event: FormEvent) => {
    event.preventDefault();
    change.mutate({ oldPassword: old, newPassword: next }, { onSuccess: () => { setOld(''); setNext(''); } });
  };
  return (
    <Page title={t('account.title')} actions={<Anchor component={Link} to="/account/notices">{out('mine.title')}</Anchor>}>
      <Table maw={520} variant="vertical">
        <Table.Tbody>
          <Table.Tr><Table.Th>{t('account.name')}</Table.Th><Table.Td>{person.name}</Table.Td></Table.Tr>
          <Table.Tr><Table.Th>{t('account.login')}</Table.Th><Table.Td>{person.login}</Table.Td></Table.Tr>
          <Table.Tr><Table.Th>{t('account.role')}</Table.Th><Table.Td>{common(`roles.${person.role}`)}</Table.Td></Table.Tr>
        </Table.Tbody>
      </Table>
      <Card withBorder maw={520}>
        <form onSubmit={send}>
          <Stack>
            <Title order={2} size="h4">{t('account.change')}</Title>
            <PasswordInput label={t('account.old')} autoComplete="current-password" required value={old} onChange={(event) => setOld(event.currentTarget.value)} />
            <PasswordInput label={t('account.next')} description={t('account.nextHint')} autoComplete="new-password" required minLength={12} error={expectedOf(change.error, 'newPassword')} value={next} onChange={(event) => setNext(event.currentTarget.value)} />
            {change.isError ? <ProblemList error={change.error} /> : null}
            {change.isSuccess ? <Text role="status">{t('account.done')}</Text> : null}
            <Button type="submit" loading={change.isPending} style={{ alignSelf: 'flex-start' }}>{t('account.go')}</Button>
          </Stack>
        </form>
      </Card>
    </Page>
  );
}
