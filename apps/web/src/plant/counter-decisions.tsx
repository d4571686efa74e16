import { NativeSelect, Stack, Table, Text, Title } from '@mantine/core';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import type { CounterDecision, MachineCounter } from '#contract/counters';
import { useFormat } from '../shared/format.js';
import { QueryView } from '../shared/states.js';
import { useCounterDecisions } from './counters.queries.js';

/** What was decided about readings, newest first, of one machine or all; what a later one replaced is said to be so. */
export function CounterDecisions({ counters }: { counters: readonly MachineCounter[] }) {
  const { t } = useTranslation('counters');
  const [machine, setMachine] = useState('');
  const query = useCounterDecisions(machine === '' ? undefined : Number(machine));
  return (
    <Stack gap="xs" component="section">
      <Title order={3} size="h5">{t('decisions.title')}</Title>
      <NativeSelect label={t('decisions.only')} maw={320} value={machine} onChange={({ currentTarget: { value } }) => setMachine(value)} data={[{ value: '', label: t('decisions.all') }, ...counters.map(({ machineId, machine: code, name }) => ({ value: String(machineId), label: `${code} ${name}` }))]} />
      <QueryView query={query} what={t('decisions.loading')} isEmpty={({ decisions }) => decisions.length === 0} empty={<Text>{t('decisions.none')}</Text>}>
        {({ decisions }) => <><DecisionTable decisions={decisions} /><Text c="dimmed" size="sm">{t('decisions.newest')}</Text></>}
      </QueryView>
    </Stack>
  );
}

function DecisionTable({ decisions }: { decisions: readonly CounterDecision[] }) {
  const { t } = useTranslation('counters');
  const format = useFormat();
  const span = ({ at, until }: CounterDecision) => (at === null ? '–' : until === null ? format.dateTime(at) : t('decisions.spanOf', { from: format.dateTime(at), until: format.time(until) }));
  const cans = ({ kind, cans: told, least }: CounterDecision) => (kind === 'late' || kind === 'refused' ? '–' : told !== null ? t('decisions.known', { number: format.number(told, 0) }) : least ? t('decisions.atLeast', { number: format.number(least, 0) }) : t('decisions.unknown'));
  return (
    <Table.ScrollContainer minWidth={740}>
      <Table verticalSpacing="xs">
        <Table.Thead><Table.Tr>{(['only', 'span', 'kind', 'cans', 'why', 'when'] as const).map((column) => <Table.Th key={column}>{t(`decisions.${column}`)}</Table.Th>)}</Table.Tr></Table.Thead>
        <Table.Tbody>
          {decisions.map((row) => (
            <Table.Tr key={row.id} c={row.replaced ? 'dimmed' : undefined}>
              <Table.Td>{row.machine ?? t('decisions.noMachine')}</Table.Td><Table.Td>{span(row)}</Table.Td>
              <Table.Td>{t(`kinds.${row.kind}`)}{row.counter === null ? '' : `, ${t(`which.${row.counter}`)}`}{row.replaced ? ` (${t('decisions.replaced')})` : ''}</Table.Td>
              <Table.Td>{cans(row)}</Table.Td><Table.Td>{row.detail}</Table.Td><Table.Td>{format.dateTime(row.decidedAt)}, {row.actor}</Table.Td>
            </Table.Tr>
          ))}
        </Table.Tbody>
      </Table>
    </Table.ScrollContainer>
  );
}
