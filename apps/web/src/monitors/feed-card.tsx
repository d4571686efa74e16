import { Alert, Button, Group, Paper, SimpleGrid, Stack, Table, Text, Title } from '@mantine/core';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import { type FeedTopicView, type FeedView, QUARANTINE } from '#contract/monitors';
import type { PlantTree } from '#contract/plant';
import { useFormat } from '../shared/format.js';
import { ProblemList } from '../shared/problem-list.js';
import { StateBadge } from '../shared/state-badge.js';
import { BrokerForm } from './broker-form.js';
import { useRemoveTopic } from './monitors.queries.js';
import { QuarantineSection } from './quarantine-section.js';
import { TopicForm } from './topic-form.js';

const FIGURES = ['messages', 'readings', 'subgroups', 'repeated', 'late', 'retained', 'refused', 'serverTimed'] as const;
/** Clocks that agree to within a second need no words. */
const CLOCK_SHOWN_MS = 1000;

/** One broker: how the connection stands, what came in, what the topics mean and what could not be taken. */
export function FeedCard({ feed, tree, mayChange }: { feed: FeedView; tree: PlantTree; mayChange: boolean }) {
  const { t } = useTranslation('monitors');
  const format = useFormat();
  const [editing, setEditing] = useState<'broker' | 'new' | FeedTopicView | null>(null);
  const { state } = feed;
  const words = t('since', { state: t(`connection.${state.connection}`), at: format.dateTime(state.since) });
  return (
    <Paper withBorder p="md" component="section" aria-label={feed.name}>
      <Stack gap="md">
        <Group justify="space-between" align="flex-start">
          <Stack gap={4}>
            <Title order={2} size="h4">{feed.name}</Title>
            <Text>{feed.url}</Text>
            <Text role="status">{!feed.enabled ? t('off') : state.connection === 'connected' ? words : <StateBadge state={state.connection === 'connecting' ? 'not-judged' : 'due'} word={words} />}</Text>
            {state.detail ? <Text>{state.detail}</Text> : null}
            <Text c="dimmed">{state.heardAt ? t('heard', { at: format.dateTime(state.heardAt) }) : t('silent')}{state.clockMs === null || Math.abs(state.clockMs) < CLOCK_SHOWN_MS ? '' : ` · ${t('clock', { seconds: format.number(state.clockMs / 1000, 1) })}`}</Text>
          </Stack>
          {mayChange ? <Button variant="default" size="md" aria-label={t('changeOf', { name: feed.name })} onClick={() => setEditing('broker')}>{t('change')}</Button> : null}
        </Group>
        <SimpleGrid component="dl" cols={{ base: 2, sm: 4 }} m={0}>{FIGURES.map((name) => <div key={name}><Text component="dt" size="sm" c="dimmed">{t(`figures.${name}`)}</Text><Text component="dd" m={0} fw={600}>{format.number(state[name], 0)}</Text></div>)}</SimpleGrid>
        <Topics feed={feed} mayChange={mayChange} onEdit={setEditing} />
        {feed.state.dropped > 0 ? <Text>{t('dropped', { count: feed.state.dropped, most: format.number(QUARANTINE.messages, 0), days: QUARANTINE.days })}</Text> : null}
        <QuarantineSection feedId={feed.id} />
      </Stack>
      {editing === 'broker' ? <BrokerForm feed={feed} onClose={() => setEditing(null)} /> : null}
      {editing !== null && editing !== 'broker' ? <TopicForm feedId={feed.id} topic={editing === 'new' ? null : editing} tree={tree} onClose={() => setEditing(null)} /> : null}
    </Paper>
  );
}

function Topics({ feed, mayChange, onEdit }: { feed: FeedView; mayChange: boolean; onEdit: (topic: FeedTopicView | 'new') => void }) {
  const { t } = useTranslation('monitors');
  const remove = useRemoveTopic(feed.id);
  const meaning = ({ mapping }: FeedTopicView) => (mapping.kind === 'readings' ? t('topics.readings', { count: mapping.channels.length, size: mapping.subgroup.size, every: mapping.subgroup.every }) : t(mapping.kind === 'counts' ? 'topics.counts' : 'topics.event'));
  return (
    <Stack gap="xs">
      <Group justify="space-between"><Title order={3} size="h5">{t('topics.title')}</Title>{mayChange ? <Button size="md" onClick={() => onEdit('new')}>{t('addTopic')}</Button> : null}</Group>
      {feed.topics.length === 0 ? <Text>{t('topics.none')}</Text> : (
        <Table.ScrollContainer minWidth={640}>
          <Table striped verticalSpacing="xs">
            <Table.Thead><Table.Tr>{(['filter', 'machine', 'product', 'means'] as const).map((column) => <Table.Th key={column}>{t(`topics.${column}`)}</Table.Th>)}{mayChange ? <Table.Th>{t('change')}</Table.Th> : null}</Table.Tr></Table.Thead>
            <Table.Tbody>{feed.topics.map((topic) => (
              <Table.Tr key={topic.id}>
                <Table.Td>{topic.filter}</Table.Td><Table.Td>{topic.machine}</Table.Td><Table.Td>{topic.product ?? (topic.mapping.kind === 'readings' ? t('topics.fromPayload') : t('topics.noProduct'))}</Table.Td><Table.Td>{meaning(topic)}</Table.Td>
                {mayChange ? <Table.Td><Group gap="xs"><Button variant="default" size="sm" aria-label={t('changeOf', { name: topic.filter })} onClick={() => onEdit(topic)}>{t('change')}</Button><Button variant="subtle" size="sm" aria-label={t('removeOf', { filter: topic.filter })} loading={remove.isPending} onClick={() => remove.mutate(topic.id)}>{t('remove')}</Button></Group></Table.Td> : null}
              </Table.Tr>
            ))}</Table.Tbody>
          </Table>
        </Table.ScrollContainer>
      )}
      {feed.unreadable.map((topic) => (
        <Alert key={topic.id} color="gray" role="alert" title={t('topics.unreadable', { filter: topic.filter })}>
          <Text>{t('topics.unreadableText')}</Text>
          <Text size="sm">{topic.wrong}</Text>
          {mayChange ? <Button variant="default" size="md" mt="xs" loading={remove.isPending} aria-label={t('removeOf', { filter: topic.filter })} onClick={() => remove.mutate(topic.id)}>{t('remove')}</Button> : null}
        </Alert>
      ))}
      {remove.isError ? <ProblemList error={remove.error} /> : null}
    </Stack>
  );
}
