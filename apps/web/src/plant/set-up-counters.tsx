import { Button, Stack, Table, Text, Title } from '@mantine/core';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import { FASTEST_PER_MINUTE } from '#canmaking/line/counter-spans';
import { type MachineCounter, setCounter } from '#contract/counters';
import { useFormat } from '../shared/format.js';
import { QueryView } from '../shared/states.js';
import { CounterDecisions } from './counter-decisions.js';
import { useCounters } from './counters.queries.js';
import { SetUpForm } from './set-up-form.js';
import { useAct } from './set-up.queries.js';

/** What each machine's running counter is and showed last, and below it what was decided about readings. */
export function CountersSection({ mayChange }: { mayChange: boolean }) {
  const { t } = useTranslation('counters');
  return (
    <Stack gap="md">
      <Title order={2} size="h4">{t('title')}</Title>
      <Text c="dimmed" maw={900}>{t('text')}</Text>
      <QueryView query={useCounters()} what={t('loading')} isEmpty={({ counters }) => counters.length === 0} empty={<Text>{t('empty')}</Text>}>
        {({ counters }) => <><CounterTable counters={counters} mayChange={mayChange} /><CounterDecisions counters={counters} /></>}
      </QueryView>
    </Stack>
  );
}

/** Machines whose counter is read come first; a plant has many that have none. */
const inUseFirst = (counters: readonly MachineCounter[]) => [...counters].sort((a, b) => Number(a.last === null) - Number(b.last === null));

function CounterTable({ counters, mayChange }: { counters: readonly MachineCounter[]; mayChange: boolean }) {
  const { t } = useTranslation('counters');
  const format = useFormat();
  const [changing, setChanging] = useState<MachineCounter>();
  const act = useAct(setCounter);
  const cans = (count: number | null) => (count === null ? t('noRejects') : t('shown', { number: format.number(count, 0) }));
  return (
    <Table.ScrollContainer minWidth={740}>
      <Table striped verticalSpacing="xs">
        <Table.Thead><Table.Tr>{(['line', 'machine', 'last', 'good', 'rejected', 'gaps', 'rollsOver', 'fastest'] as const).map((column) => <Table.Th key={column}>{t(column)}</Table.Th>)}{mayChange ? <Table.Th>{t('set')}</Table.Th> : null}</Table.Tr></Table.Thead>
        <Table.Tbody>
          {inUseFirst(counters).map((row) => (
            <Table.Tr key={row.machineId}>
              <Table.Td>{row.line}</Table.Td><Table.Td>{row.machine} {row.name}</Table.Td>
              <Table.Td>{row.last === null ? t('never') : format.dateTime(row.last.at)}</Table.Td>
              <Table.Td>{row.last === null ? '–' : cans(row.last.good)}</Table.Td><Table.Td>{row.last === null ? '–' : cans(row.last.rejected)}</Table.Td>
              <Table.Td>{row.last === null ? '–' : row.gaps === 0 ? t('noGaps') : <Text span fw={600}>{t('gap', { count: row.gaps, minutes: format.number(row.gapMinutes, 0) })}</Text>}</Table.Td>
              <Table.Td>{row.rollsOverAt === null ? t('unknown') : t('shown', { number: format.number(row.rollsOverAt - 1, 0) })}</Table.Td>
              <Table.Td>{row.mostPerMinute === null ? t('usualFastest', { number: format.number(FASTEST_PER_MINUTE, 0) }) : t('perMinute', { number: format.number(row.mostPerMinute, 0) })}</Table.Td>
              {mayChange ? <Table.Td><Button size="xs" variant="default" aria-label={t('setOf', { machine: row.machine })} onClick={() => { act.reset(); setChanging(row); }}>{t('set')}</Button></Table.Td> : null}
            </Table.Tr>
          ))}
        </Table.Tbody>
      </Table>
      {changing ? (
        <SetUpForm title={t('form.title', { machine: changing.machine })} act={act} id={changing.machineId} onClose={() => setChanging(undefined)} start={{ rollsOverAt: changing.rollsOverAt, mostPerMinute: changing.mostPerMinute }}
          fields={[{ name: 'rollsOverAt', label: t('form.rollsOverAt'), hint: t('form.rollsOverHint'), kind: 'number' }, { name: 'mostPerMinute', label: t('form.mostPerMinute'), hint: `${t('form.mostHint', { usual: format.number(FASTEST_PER_MINUTE, 0) })} ${t('form.again')}`, kind: 'number' }]}
          toBody={(values) => values} />
      ) : null}
    </Table.ScrollContainer>
  );
}
