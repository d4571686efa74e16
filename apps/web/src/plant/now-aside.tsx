import { Anchor, Button, Group, Paper, Stack, Text, Title } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import { Link } from 'react-router';
import type { DueCheck } from '#contract/due-checks';
import { recorders } from '#contract/roles';
import type { NowBoard } from '#contract/signals';
import { BEGIN, DueWords, logAddress } from '../shared/due-words.js';
import { useFormat } from '../shared/format.js';
import { useMay } from '../shared/session.js';
import { NowKept } from './now-kept.js';
import { placeOf, SignalSentence } from '../shared/signal-words.js';
import { StateBadge } from '../shared/state-badge.js';

/** What is due, what signalled, what was complained of: each with the way to it. */
export function NowAside({ board }: { board: NowBoard }) {
  const { t } = useTranslation('plant');
  const { t: words } = useTranslation('signals');
  const format = useFormat();
  const incidents = board.lines.flatMap((line) => line.incidents.map((incident) => ({ ...incident, line: line.code })));
  return (
    <Stack gap="md">
      <NowKept board={board} />
      <Paper withBorder p="md" component="section">
        <Title order={2} size="h4">{t('now.dueTitle')}</Title>
        {board.due.length === 0 ? <Text c="dimmed">{t('now.dueNone')}</Text> : (
          <Stack gap="sm"><Text size="sm" c="dimmed">{t('now.dueText')}</Text>{board.due.map((due) => <DueEntry key={due.planId} due={due} />)}</Stack>
        )}
      </Paper>
      <Paper withBorder p="md" component="section">
        <Group justify="space-between"><Title order={2} size="h4">{t('now.signalsTitle')}</Title><Anchor component={Link} to="/signals">{t('now.allSignals')}</Anchor></Group>
        {board.signals.length === 0 ? <Text c="dimmed">{t('now.signalsNone')}</Text> : board.signals.slice(0, 8).map((signal) => (
          <div key={signal.id}>
            <Text mt="sm"><Anchor component={Link} to={`/signals/${signal.id}`} fw={600}>{placeOf(words, signal.stream)}</Anchor></Text>
            <Text size="sm"><SignalSentence signal={signal} /></Text>
            <Text size="sm" c="dimmed">{format.dateTime(signal.firedAt)} · {words(`state.${signal.state}`)}</Text>
          </div>
        ))}
      </Paper>
      <Paper withBorder p="md" component="section">
        <Title order={2} size="h4">{t('now.incidentsTitle')}</Title>
        {incidents.length === 0 ? <Text c="dimmed">{t('now.incidentsNone')}</Text> : incidents.map(({ id, defect, customer, line, product, receivedAt }) => (
          <div key={id}>
            <Text mt="sm"><Anchor component={Link} to={`/incidents/${id}`} fw={600}>{t('now.incident', { defect, customer })}</Anchor></Text>
            <Text size="sm" c="dimmed">{t('now.incidentOn', { line, product, at: format.date(receivedAt) })}</Text>
          </div>
        ))}
      </Paper>
    </Stack>
  );
}

function DueEntry({ due }: { due: DueCheck }) {
  const { t } = useTranslation('plant');
  const format = useFormat();
  const may = useMay(recorders);
  const { plan, machine, product } = due;
  return (
    <Group justify="space-between" align="flex-start" gap="xs">
      <div>
        <StateBadge state="due" /> <Text span fw={600}>{t('now.dueFor', { plan, machine, product })}</Text>
        <DueWords due={due} />
        {due.lastCheckAt ? <Text size="sm" c="dimmed">{t('now.lastCheck', { at: format.dateTime(due.lastCheckAt) })}</Text> : null}
      </div>
      {may ? <Button component={Link} to={logAddress(due)} state={BEGIN} size="md" variant="default" flex="none">{t('now.log')}</Button> : null}
    </Group>
  );
}
