import { Button, Paper, Table, Title } from '@mantine/core';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import type { ChartView } from '#contract/specifications';
import { meanDecimals } from '../shared/control-chart/chart-words.js';
import { useFormat } from '../shared/format.js';
import { StateBadge } from '../shared/state-badge.js';

const MOST = 200;

/** The same chart as a table, on demand: newest first. */
export function NumbersTable({ view: { stream, points, events } }: { view: ChartView }) {
  const { t } = useTranslation('specifications');
  const format = useFormat();
  const [open, setOpen] = useState(false);
  const decimals = meanDecimals(stream);
  const { unit } = stream.characteristic;
  const places = points.takenAt.map((_moment, index) => index).slice(-MOST).reverse();
  return (
    <Paper withBorder p="md" component="section">
      <Title order={2} size="h4">{t('numbers.title')}</Title>
      <Button variant="default" size="md" mt="xs" aria-expanded={open} onClick={() => setOpen(!open)}>{open ? t('numbers.hide') : t('numbers.show')}</Button>
      {open ? (
        <Table.ScrollContainer minWidth={640} maxHeight={480}>
          <Table stickyHeader>
            {points.takenAt.length > MOST ? <Table.Caption>{t('numbers.most', { count: MOST })}</Table.Caption> : null}
            <Table.Thead><Table.Tr>
              {[t('numbers.at'), t('numbers.n'), t('numbers.mean', { unit }), t('numbers.spread', { name: t(`spread.${stream.chartKind}`), unit }), t('numbers.status')].map((heading) => <Table.Th key={heading} scope="col">{heading}</Table.Th>)}
            </Table.Tr></Table.Thead>
            <Table.Tbody>
              {places.map((index) => (
                <Table.Tr key={`${points.takenAt[index]}/${points.sequence[index]}`}>
                  <Table.Th scope="row">{format.dateTime(points.takenAt[index] ?? '')}</Table.Th><Table.Td>{points.n[index]}</Table.Td>
                  <Table.Td>{format.number(points.mean[index], decimals)}</Table.Td><Table.Td>{format.number(points.spread[index], decimals)}</Table.Td>
                  <Table.Td><StateBadge state={points.status[index] ?? 'not-judged'} /></Table.Td>
                </Table.Tr>
              ))}
            </Table.Tbody>
          </Table>
        </Table.ScrollContainer>
      ) : null}
      <EventsTable events={events} />
    </Paper>
  );
}

function EventsTable({ events }: { events: ChartView['events'] }) {
  const { t } = useTranslation('specifications');
  const format = useFormat();
  const shown = [...events].reverse().slice(0, MOST);
  return (
    <details>
      <summary>{t('events.title')}</summary>
      {shown.length === 0 ? t('events.none') : (
        <Table.ScrollContainer minWidth={560} maxHeight={360}>
          <Table>
            {events.length > MOST ? <Table.Caption>{t('events.most', { count: MOST })}</Table.Caption> : null}
            <Table.Thead><Table.Tr>{([t('events.at'), t('events.kind'), t('events.where'), t('events.text')]).map((heading) => <Table.Th key={heading} scope="col">{heading}</Table.Th>)}</Table.Tr></Table.Thead>
            <Table.Tbody>{shown.map(({ id, at, kind, machine, text }) => <Table.Tr key={id}><Table.Th scope="row">{format.dateTime(at)}</Table.Th><Table.Td>{kind}</Table.Td><Table.Td>{machine ?? t('chart.wholeLine')}</Table.Td><Table.Td>{text}</Table.Td></Table.Tr>)}</Table.Tbody>
          </Table>
        </Table.ScrollContainer>
      )}
    </details>
  );
}
