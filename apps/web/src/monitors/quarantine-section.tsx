import { Button, Checkbox, Code, Group, Stack, Switch, Table, Text, TextInput, Title } from '@mantine/core';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import { correctors, engineers } from '#contract/roles';
import { useFormat } from '../shared/format.js';
import { ProblemList } from '../shared/problem-list.js';
import { useMay } from '../shared/session.js';
import { QueryView } from '../shared/states.js';
import { useDiscard, useQuarantine, useReplay } from './monitors.queries.js';

/** Messages that could not be taken, each with its reason; they are taken once more or put aside, never lost. */
export function QuarantineSection({ feedId }: { feedId: number }) {
  const { t } = useTranslation('monitors');
  const format = useFormat();
  const list = useQuarantine(feedId);
  const [mayReplay, mayDiscard] = [useMay(correctors), useMay(engineers)];
  const [chosen, setChosen] = useState<readonly number[]>([]);
  const [asMeasured, setAsMeasured] = useState(false);
  const [reason, setReason] = useState('');
  const [replay, discard] = [useReplay(feedId), useDiscard(feedId)];
  const done = () => { setChosen([]); setReason(''); };
  return (
    <Stack gap="xs">
      <Title order={3} size="h5">{t('quarantine.title')}</Title>
      <QueryView query={list} what={t('loading')} isEmpty={({ messages }) => messages.length === 0} empty={<Text>{replay.isSuccess ? t('quarantine.asked') : t('quarantine.none')}</Text>}>
        {({ messages, waiting }) => {
          const ids = messages.filter(({ id }) => chosen.includes(id)).map(({ id }) => id);
          return (
            <>
              <Text fw={600} role="status">{t('quarantine.waiting', { count: waiting })}</Text>
              <Table.ScrollContainer minWidth={760}>
                <Table striped verticalSpacing="xs">
                  <Table.Thead><Table.Tr>
                    {mayReplay ? <Table.Th><Checkbox aria-label={t('quarantine.all')} checked={ids.length === messages.length} indeterminate={ids.length > 0 && ids.length < messages.length} onChange={({ currentTarget }) => setChosen(currentTarget.checked ? messages.map(({ id }) => id) : [])} /></Table.Th> : null}
                    {(['topic', 'reason', 'payload', 'when'] as const).map((column) => <Table.Th key={column}>{t(`quarantine.${column}`)}</Table.Th>)}
                  </Table.Tr></Table.Thead>
                  <Table.Tbody>{messages.map((message) => (
                    <Table.Tr key={message.id}>
                      {mayReplay ? <Table.Td><Checkbox aria-label={t('quarantine.choose', { id: message.id })} checked={chosen.includes(message.id)} onChange={({ currentTarget }) => setChosen(currentTarget.checked ? [...chosen, message.id] : chosen.filter((id) => id !== message.id))} /></Table.Td> : null}
                      <Table.Td>{message.topic}</Table.Td><Table.Td>{message.reason}</Table.Td>
                      <Table.Td maw={360}><Code block tabIndex={0} style={{ maxHeight: '8rem', whiteSpace: 'pre-wrap', wordBreak: 'break-all' }}>{message.payload.slice(0, 1000)}</Code>{message.payloadBytes > 1000 ? <Text size="sm">{t('quarantine.cut', { bytes: format.number(message.payloadBytes, 0) })}</Text> : null}</Table.Td>
                      <Table.Td>{t('quarantine.times', { count: message.times, at: format.dateTime(message.lastAt) })}</Table.Td>
                    </Table.Tr>
                  ))}</Table.Tbody>
                </Table>
              </Table.ScrollContainer>
              {mayReplay ? (
                <Group align="flex-end">
                  <Button size="md" disabled={ids.length === 0} loading={replay.isPending} onClick={() => replay.mutate({ ids, asMeasured }, { onSuccess: done })}>{t('quarantine.replay')}</Button>
                  <Switch size="md" label={t('quarantine.asMeasured')} description={t('quarantine.asMeasuredHint')} checked={asMeasured} onChange={({ currentTarget }) => setAsMeasured(currentTarget.checked)} />
                </Group>
              ) : null}
              {mayDiscard ? (
                <Group align="flex-end">
                  <TextInput size="md" w={360} label={t('quarantine.why')} value={reason} onChange={({ currentTarget }) => setReason(currentTarget.value)} />
                  <Button size="md" variant="default" disabled={ids.length === 0 || reason.trim().length < 3} loading={discard.isPending} onClick={() => discard.mutate({ ids, reason }, { onSuccess: done })}>{t('quarantine.discard')}</Button>
                </Group>
              ) : null}
              {replay.isError ? <ProblemList error={replay.error} /> : null}
              {discard.isError ? <ProblemList error={discard.error} /> : null}
            </>
          );
        }}
      </QueryView>
    </Stack>
  );
}
