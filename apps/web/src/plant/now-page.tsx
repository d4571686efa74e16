import { Button, Grid, Group, Stack, Text } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import { Link } from 'react-router';
import type { NowBoard } from '#contract/signals';
import { useFormat } from '../shared/format.js';
import { LineEventButton } from '../shared/line-event-form.js';
import { StateBadge } from '../shared/state-badge.js';
import { EmptyState, Page, QueryView } from '../shared/states.js';
import './now.css';
import { NowAside } from './now-aside.js';
import { NowLine } from './now-line.js';
import { useNow } from './now.queries.js';

/** Is anything wrong, on which machine, and what is due. */
export function NowPage() {
  const { t } = useTranslation('plant');
  const query = useNow();
  return (
    <Page title={t('now.title')} actions={<LineEventButton />}>
      <QueryView query={query} what={t('now.loading')} isEmpty={(board) => board.lines.length === 0} empty={<EmptyState title={t('now.noLines')} text={t('now.noLinesText')} action={<Button component={Link} to="/set-up" size="md">{t('now.setUp')}</Button>} />}>
        {(board) => (
          <Stack gap="md">
            <Headline board={board} stale={query.isError} />
            <Grid gap="lg">
              <Grid.Col span={{ base: 12, lg: 8, xl: 9 }}><Stack gap="md">{board.lines.map((line) => <NowLine key={line.id} line={line} />)}</Stack></Grid.Col>
              <Grid.Col span={{ base: 12, lg: 4, xl: 3 }}><NowAside board={board} /></Grid.Col>
            </Grid>
          </Stack>
        )}
      </QueryView>
    </Page>
  );
}

function Headline({ board, stale }: { board: NowBoard; stale: boolean }) {
  const { t } = useTranslation('plant');
  const format = useFormat();
  const incidents = board.lines.reduce((sum, line) => sum + line.incidents.length, 0);
  const quiet = board.openSignals === 0 && board.due.length === 0 && incidents === 0 && board.holds.length === 0;
  const more = [...(board.overdue.length > 0 ? [t('now.overdue', { count: board.overdue.length })] : []), ...(board.holds.length > 0 ? [t('now.holds', { count: board.holds.length })] : [])];
  const words = quiet ? t('now.quiet') : [t('now.trouble', { signals: t('now.signals', { count: board.openSignals }), due: t('now.due', { count: board.due.length }), incidents: t('now.incidents', { count: incidents }) }), ...more].join(', ');
  return (
    <Group justify="space-between" role="status">
      <Text size="lg" className="now-headline">{board.openSignals > 0 ? <StateBadge state="signal" word={words} /> : board.due.length > 0 || board.overdue.length > 0 ? <StateBadge state="due" word={words} /> : board.holds.length > 0 ? <StateBadge state="held" word={words} /> : words}</Text>
      <Text size="sm" c="dimmed">{stale ? t('now.stale', { time: format.time(board.at) }) : t('now.asOf', { time: format.time(board.at) })}</Text>
    </Group>
  );
}
