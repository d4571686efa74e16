import { Anchor, Button, Group, Paper, Stack, Text, TextInput, Title } from '@mantine/core';
import { type FormEvent, useState } from 'react';
import { useTranslation } from 'react-i18next';
import { Link } from 'react-router';
import { engineers } from '#contract/roles';
import { usePlant } from '../shared/plant.queries.js';
import { ProblemList } from '../shared/problem-list.js';
import { useMay } from '../shared/session.js';
import { EmptyState, Page, QueryView } from '../shared/states.js';
import { BrokerForm } from './broker-form.js';
import { FeedCard } from './feed-card.js';
import { useFeeds, useKeepDays } from './monitors.queries.js';

/** Where readings come from that nobody enters: brokers, what their topics mean, and what could not be taken. */
export function MonitorsPage() {
  const { t } = useTranslation('monitors');
  const [feeds, plant] = [useFeeds(), usePlant()];
  const mayChange = useMay(engineers);
  const [adding, setAdding] = useState(false);
  const add = mayChange ? <Button size="md" onClick={() => setAdding(true)}>{t('add')}</Button> : null;
  return (
    <Page title={t('section')} actions={add}>
      <Anchor component={Link} to="/set-up" underline="always">{t('back')}</Anchor>
      <QueryView query={plant} what={t('loading')}>{(tree) => (
        <QueryView query={feeds} what={t('loading')}>{({ feeds: list, keepDays }) => (
          <Stack gap="md">
            <Text c="dimmed">{t('text')}</Text>
            {list.length === 0 ? <EmptyState title={t('empty.title')} text={t('empty.text')} /> : list.map((feed) => <FeedCard key={feed.id} feed={feed} tree={tree} mayChange={mayChange} />)}
            <KeepDays keepDays={keepDays} mayChange={mayChange} />
          </Stack>
        )}</QueryView>
      )}</QueryView>
      {adding ? <BrokerForm feed={null} onClose={() => setAdding(false)} /> : null}
    </Page>
  );
}

function KeepDays({ keepDays, mayChange }: { keepDays: number | null; mayChange: boolean }) {
  const { t } = useTranslation('monitors');
  const [days, setDays] = useState(keepDays === null ? '' : String(keepDays));
  const save = useKeepDays();
  // Sent as it is, what is no number would arrive as none, which means for ever.
  const wrong = !/^\d*$/.test(days.trim());
  const submit = (event: FormEvent) => {
    event.preventDefault();
    if (!wrong) save.mutate(days.trim() === '' ? null : Number(days));
  };
  return (
    <Paper withBorder p="md" component="section" aria-label={t('keep.title')}>
      <form onSubmit={submit}>
        <Stack gap="xs">
          <Title order={2} size="h4">{t('keep.title')}</Title>
          <Text>{t('keep.text')}</Text>
          <Group align="flex-end">
            <TextInput size="md" w={200} inputMode="numeric" label={t('keep.days')} description={t('keep.forEver')} readOnly={!mayChange} error={wrong ? t('keep.wrong') : null} value={days} onChange={({ currentTarget }) => setDays(currentTarget.value)} />
            {mayChange ? <Button type="submit" size="md" variant="default" loading={save.isPending}>{t('save')}</Button> : null}
            {save.isSuccess ? <Text role="status">{t('keep.saved')}</Text> : null}
          </Group>
          {save.isError ? <ProblemList error={save.error} /> : null}
        </Stack>
      </form>
    </Paper>
  );
}
