import { Table, Text, Title } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import type { Trace } from '#contract/traces';
import { useFormat } from '../shared/format.js';
import { useStepWord } from '../shared/step-word.js';

/** Each step of the line: when the cans passed, how that is known, and what is on record of that time. */
export function WindowsTable({ trace }: { trace: Trace }) {
  const { t } = useTranslation('traces');
  const format = useFormat();
  const stepWord = useStepWord();
  return (
    <section>
      <Title order={2} size="h4" pb="xs">{t('windows.title')}</Title>
      <Table.ScrollContainer minWidth={760}>
        <Table verticalSpacing="xs">
          <Table.Caption>{t('windows.caption')}</Table.Caption>
          <Table.Thead><Table.Tr>{(['step', 'window', 'basis', 'machine', 'cans', 'records'] as const).map((head) => <Table.Th key={head} scope="col">{t(`windows.${head}`)}</Table.Th>)}</Table.Tr></Table.Thead>
          <Table.Tbody>
            {trace.windows.flatMap((window) => window.machines.map((machine, i) => (
              <Table.Tr key={machine.id}>
                {i > 0 ? null : (
                  <>
                    <Table.Th scope="row" rowSpan={window.machines.length}>{stepWord(window.stepKind)}</Table.Th>
                    <Table.Td rowSpan={window.machines.length}>{format.dateTime(window.from)} – {format.time(window.until)}<Text size="xs" c="dimmed">{t('windows.width', { minutes: ((Date.parse(window.until) - Date.parse(window.from)) / 60_000).toFixed(1) })}</Text></Table.Td>
                    <Table.Td rowSpan={window.machines.length}>{t(`windows.basisOf.${window.basis}`, { clock: trace.clockMinutes })}</Table.Td>
                  </>
                )}
                <Table.Td>{machine.code}<Text size="xs" c="dimmed">{machine.name}</Text></Table.Td>
                <Table.Td>{machine.good === null ? t('windows.noCounts') : t('windows.cansOf', { good: format.number(machine.good, 0), rejected: format.number(machine.rejected, 0) })}</Table.Td>
                <Table.Td>{(['checks', 'signals', 'entries'] as const).map((what) => t(`windows.counted.${what}`, { count: machine[what] })).join(', ')}{machine.missed.length > 0 ? <Text size="sm" fw={600}>{t('windows.missed', { plans: machine.missed.join(', ') })}</Text> : null}</Table.Td>
              </Table.Tr>
            )))}
          </Table.Tbody>
        </Table>
      </Table.ScrollContainer>
    </section>
  );
}
