import { Button, Group, Modal, Paper, SegmentedControl, Stack, Text, Textarea, Title } from '@mantine/core';
import type { TFunction } from 'i18next';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import { Link } from 'react-router';
import type { DueListed } from '#contract/due-checks';
import { BEGIN, DueWords, logAddress } from '../shared/due-words.js';
import { useFormat } from '../shared/format.js';
import { ProblemList } from '../shared/problem-list.js';
import { StateBadge } from '../shared/state-badge.js';
import { QueryView } from '../shared/states.js';
import { useDueChecks, useSkipDue } from './due.queries.js';
import { MyMachines } from './my-machines.js';

/** A list longer than this would push the grid off a tablet. */
const FIRST = 3;

/** What is due in one line; a plan that is called after its machine does not name it twice. */
const titleOf = (t: TFunction<'floor'>, due: DueListed): string => (due.plan.includes(due.machine) ? due.plan : t('due.of', due));

/** What is due, the most overdue first; each leads to its grid, or is skipped with a reason. Folded to one line where somebody is at a grid already: on a tablet it would push that off the screen. */
export function DueList({ folded }: { folded: boolean }) {
  const { t } = useTranslation('floor');
  const query = useDueChecks();
  const [whose, setWhose] = useState<'mine' | 'all' | null>(null);
  const [all, setAll] = useState(false);
  const [shownAnyway, setShownAnyway] = useState(false);
  const [skipping, setSkipping] = useState<DueListed | null>(null);
  const [choosing, setChoosing] = useState(false);
  return (
    <section aria-labelledby="due-title">
      <QueryView query={query} what={t('due.loading')}>{({ due, assigned }) => {
        const shown = whose ?? (assigned ? 'mine' : 'all');
        const wanted = shown === 'mine' ? due.filter(({ mine }) => mine) : due;
        const [none, count] = shown === 'mine' ? (['due.noneMine', 'due.countMine'] as const) : (['due.none', 'due.count'] as const);
        if (folded && !shownAnyway) {
          return (
            <Group gap="sm">
              <Title order={2} size="h5" id="due-title">{t('due.title')}</Title>
              <Text>{wanted.length === 0 ? t(none) : t(count, { count: wanted.length })}</Text>
              {wanted.length > 0 ? <Button size="sm" variant="default" aria-expanded={false} onClick={() => setShownAnyway(true)}>{t('due.unfold')}</Button> : null}
            </Group>
          );
        }
        return (
          <Stack gap="sm">
            <Group justify="space-between">
              <Title order={2} size="h4" id="due-title">{t('due.title')}</Title>
              <Group gap="sm">
                <SegmentedControl size="md" aria-label={t('due.whose')} value={shown} onChange={(value) => setWhose(value === 'mine' ? 'mine' : 'all')} data={[{ value: 'mine', label: t('due.mine') }, { value: 'all', label: t('due.all') }]} />
                <Button size="md" variant="default" onClick={() => setChoosing(true)}>{t('due.chooseMine')}</Button>
              </Group>
            </Group>
            {wanted.length === 0 ? <Text c="dimmed">{t(none)}</Text> : <Text size="sm" c="dimmed">{t('due.advice')}</Text>}
            {wanted.slice(0, all ? undefined : FIRST).map((entry) => <Entry key={entry.planId} due={entry} onSkip={() => setSkipping(entry)} />)}
            {wanted.length > FIRST ? <Group><Button size="md" variant="subtle" aria-expanded={all} onClick={() => setAll(!all)}>{all ? t('due.fewer', { count: FIRST }) : t('due.more', { count: wanted.length })}</Button></Group> : null}
          </Stack>
        );
      }}</QueryView>
      {skipping ? <SkipDialog due={skipping} onClose={() => setSkipping(null)} /> : null}
      {choosing ? <MyMachines onClose={() => setChoosing(false)} /> : null}
    </section>
  );
}

function Entry({ due, onSkip }: { due: DueListed; onSkip: () => void }) {
  const { t } = useTranslation('floor');
  const format = useFormat();
  return (
    <Paper withBorder p="sm">
      <Group justify="space-between" align="flex-start" gap="sm" wrap="nowrap">
        <div style={{ minWidth: 0 }}>
          <StateBadge state="due" /> <Text span fw={600}>{titleOf(t, due)}</Text> <Text span c="dimmed">{t('due.product', due)}</Text>
          <DueWords due={due} />
          <Text size="sm" c="dimmed">{due.lastCheckAt ? t('due.last', { at: format.dateTime(due.lastCheckAt) }) : t('due.never')}</Text>
        </div>
        <Group gap="xs" wrap="nowrap" style={{ flexShrink: 0 }}>
          <Button component={Link} to={logAddress(due)} state={BEGIN} size="md" aria-label={`${t('due.log')}: ${titleOf(t, due)}`}>{t('due.log')}</Button>
          <Button size="md" variant="default" onClick={onSkip} aria-label={`${t('due.skip')}: ${titleOf(t, due)}`}>{t('due.skip')}</Button>
        </Group>
      </Group>
    </Paper>
  );
}

function SkipDialog({ due, onClose }: { due: DueListed; onClose: () => void }) {
  const { t } = useTranslation('floor');
  const [reason, setReason] = useState('');
  const skip = useSkipDue();
  return (
    <Modal opened onClose={onClose} title={t('due.skipTitle', { what: titleOf(t, due) })} closeButtonProps={{ 'aria-label': t('due.cancel') }}>
      <form onSubmit={(event) => { event.preventDefault(); skip.mutate({ planId: due.planId, reason }, { onSuccess: onClose }); }}>
        <Stack>
          <Text>{t('due.skipText')}</Text>
          <Textarea size="md" required label={t('due.reason')} value={reason} onChange={(event) => setReason(event.currentTarget.value)} autosize minRows={2} data-autofocus />
          {skip.isError ? <ProblemList error={skip.error} /> : null}
          <Group><Button size="md" type="submit" loading={skip.isPending}>{t('due.keep')}</Button><Button size="md" variant="default" onClick={onClose}>{t('due.cancel')}</Button></Group>
        </Stack>
      </form>
    </Modal>
  );
}
