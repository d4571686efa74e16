import { Paper, Table, Text, Title } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import { lineEventKind } from '#contract/production';
import type { SignalPage } from '#contract/signals';
import { useFormat } from '../shared/format.js';

/** What happened on the line in and just before the window; events of the machine itself stand out. */
export function SignalEvents({ view: { events, signal } }: { view: SignalPage }) {
  const { t } = useTranslation('signals');
  const { t: words } = useTranslation('production');
  const format = useFormat();
  const kindOf = (kind: string) => { const known = lineEventKind.safeParse(kind); return known.success ? words(`kinds.${known.data}`) : kind; };
  return (
    <Paper withBorder p="md" component="section">
      <Title order={2} size="h4">{t('events.title')}</Title>
      <Text size="sm" c="dimmed">{t('events.text')}</Text>
      {events.length === 0 ? <Text>{t('events.none')}</Text> : (
        <Table.ScrollContainer minWidth={640} mah={420}>
          <Table>
            <Table.Thead><Table.Tr>{(['at', 'where', 'kind', 'text', 'by'] as const).map((name) => <Table.Th key={name} scope="col">{t(`events.heading.${name}`)}</Table.Th>)}</Table.Tr></Table.Thead>
            <Table.Tbody>
              {events.map((event) => {
                const here = event.machineId === signal.stream.machine.id;
                return (
                  <Table.Tr key={event.id} fw={here ? 600 : undefined}>
                    <Table.Td>{event.until ? t('events.untilTime', { from: format.dateTime(event.at), to: format.time(event.until) }) : format.dateTime(event.at)}</Table.Td>
                    <Table.Td>{event.machine ?? t('events.wholeLine')}{here ? ` (${t('events.here')})` : ''}</Table.Td>
                    <Table.Td>{kindOf(event.kind)}</Table.Td><Table.Td>{event.text}</Table.Td><Table.Td>{event.actor}</Table.Td>
                  </Table.Tr>
                );
              })}
            </Table.Tbody>
          </Table>
        </Table.ScrollContainer>
      )}
    </Paper>
  );
}
