import { Button, Stack, Table, Text, Title } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import { useFormat } from '../shared/format.js';
import { ProblemList } from '../shared/problem-list.js';
import { QueryView } from '../shared/states.js';
import { useDeliveries, useResend } from './outgoing.queries.js';

/** What was sent, newest first, with what the receiver said; and what was not, with the reason. */
export function DeliveryLog() {
  const { t } = useTranslation('outgoing');
  const { t: when } = useTranslation('toldHours');
  const format = useFormat();
  const deliveries = useDeliveries();
  const resend = useResend();
  return (
    <Stack gap="sm" component="section" aria-labelledby="deliveries">
      <Title order={2} size="h4" id="deliveries">{t('log.title')}</Title>
      <QueryView query={deliveries} what={t('log.loading')} isEmpty={(list) => list.length === 0} empty={<Text>{t('log.empty')}</Text>}>{(list) => (
        <Table.ScrollContainer minWidth={760}>
          <Table verticalSpacing="xs">
            <Table.Thead><Table.Tr><Table.Th>{t('log.made')}</Table.Th><Table.Th>{t('log.to')}</Table.Th><Table.Th>{t('log.kind')}</Table.Th><Table.Th>{t('log.state')}</Table.Th><Table.Th>{t('log.answer')}</Table.Th><Table.Th>{t('out.act')}</Table.Th></Table.Tr></Table.Thead>
            <Table.Tbody>{list.map((row) => (
              <Table.Tr key={row.id}>
                <Table.Td>{format.dateTime(row.madeAt)}</Table.Td><Table.Td>{row.webhook}</Table.Td><Table.Td>{row.kind}</Table.Td>
                <Table.Td>{row.state === 'quiet' || row.state === 'not-sent' ? when(`states.${row.state}`) : t(`log.states.${row.state}`)}{row.withheld ? <Text size="sm" c="dimmed">{when(`why.${row.withheld}`)}</Text> : null}{row.attempts > 0 ? <Text size="sm" c="dimmed">{t('log.attempts', { count: row.attempts })}</Text> : null}</Table.Td>
                <Table.Td style={{ overflowWrap: 'anywhere', maxWidth: 360 }}>{row.lastStatus === null ? null : <Text size="sm">{t('log.status', { status: row.lastStatus })}</Text>}{row.lastError && row.lastStatus === null ? <Text size="sm">{row.lastError}</Text> : null}{row.lastAnswer ? <Text size="sm" c="dimmed" lineClamp={2}>{row.lastAnswer}</Text> : null}</Table.Td>
                <Table.Td>{row.state === 'waiting' ? null : row.state === 'quiet' || row.state === 'not-sent'
                  ? <Button variant="default" size="sm" onClick={() => resend.mutate(row.id)} aria-label={when('nowOf', { id: row.id })}>{when('now')}</Button>
                  : <Button variant="default" size="sm" onClick={() => resend.mutate(row.id)} aria-label={t('log.againOf', { id: row.id })}>{t('log.again')}</Button>}</Table.Td>
              </Table.Tr>
            ))}</Table.Tbody>
          </Table>
        </Table.ScrollContainer>
      )}</QueryView>
      {resend.isError ? <ProblemList error={resend.error} /> : null}
    </Stack>
  );
}
