import { Button, Group, Stack, Table, Text, TextInput, Title } from '@mantine/core';
import { type FormEvent, useState } from 'react';
import { useTranslation } from 'react-i18next';
import { useFormat } from '../shared/format.js';
import { ProblemList } from '../shared/problem-list.js';
import { QueryView } from '../shared/states.js';
import { useKiosks, useMakeKiosk, useRevokeKiosk } from './outgoing.queries.js';
import { ShownOnce } from './shown-once.js';

export function KiosksSection() {
  const { t } = useTranslation('outgoing');
  const format = useFormat();
  const kiosks = useKiosks();
  const [make, revoke] = [useMakeKiosk(), useRevokeKiosk()];
  const [name, setName] = useState('');
  const [until, setUntil] = useState('');
  const send = (event: FormEvent) => {
    event.preventDefault();
    // An hour that the clocks skip is no moment: the server names it, and no screen is made that never ends.
    make.mutate({ name, expiresAt: until ? format.fromInput(until) ?? until : null }, { onSuccess: () => { setName(''); setUntil(''); } });
  };
  return (
    <Stack gap="sm" component="section" aria-labelledby="wall-screens">
      <Title order={2} size="h4" id="wall-screens">{t('kiosk.title')}</Title>
      <Text c="dimmed" maw={760}>{t('kiosk.text')}</Text>
      <form onSubmit={send}>
        <Group align="flex-end">
          <TextInput label={t('kiosk.name')} required value={name} onChange={(event) => setName(event.currentTarget.value)} />
          <TextInput label={t('kiosk.until')} type="datetime-local" value={until} onChange={(event) => setUntil(event.currentTarget.value)} />
          <Button type="submit" loading={make.isPending}>{t('kiosk.make')}</Button>
        </Group>
      </form>
      {make.isError ? <ProblemList error={make.error} /> : null}
      {make.data ? <ShownOnce title={t('kiosk.made', { name: make.data.kiosk.name })} text={t('kiosk.madeText')} secret={`${window.location.origin}/wall#token=${make.data.token}`} onClose={() => make.reset()} /> : null}
      <QueryView query={kiosks} what={t('kiosk.loading')} isEmpty={(list) => list.length === 0} empty={<Text>{t('kiosk.empty')}</Text>}>{(list) => (
        <Table.ScrollContainer minWidth={600}>
          <Table verticalSpacing="xs">
            <Table.Thead><Table.Tr><Table.Th>{t('kiosk.name')}</Table.Th><Table.Th>{t('kiosk.since')}</Table.Th><Table.Th>{t('kiosk.ends')}</Table.Th><Table.Th>{t('kiosk.state')}</Table.Th><Table.Th>{t('out.act')}</Table.Th></Table.Tr></Table.Thead>
            <Table.Tbody>{list.map((row) => (
              <Table.Tr key={row.id}>
                <Table.Td>{row.name}</Table.Td><Table.Td>{format.dateTime(row.madeAt)}</Table.Td><Table.Td>{row.expiresAt ? format.dateTime(row.expiresAt) : t('kiosk.never')}</Table.Td><Table.Td>{t(`kiosk.states.${row.state}`)}</Table.Td>
                <Table.Td>{row.state === 'active' ? <Button variant="default" size="sm" onClick={() => revoke.mutate(row.id)} aria-label={t('kiosk.revokeOf', { name: row.name })}>{t('kiosk.revoke')}</Button> : null}</Table.Td>
              </Table.Tr>
            ))}</Table.Tbody>
          </Table>
        </Table.ScrollContainer>
      )}</QueryView>
      {revoke.isError ? <ProblemList error={revoke.error} /> : null}
    </Stack>
  );
}
