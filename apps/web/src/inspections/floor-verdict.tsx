import { Alert, Anchor, List, Stack, Text, Title } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import { Link } from 'react-router';
import type { FloorVerdict as Verdict } from '#contract/inspections';
import { durationOf, openerWord } from '../shared/due-words.js';
import { useFormat } from '../shared/format.js';
import { ReactionSteps } from '../shared/reaction-steps.js';
import { QueryView } from '../shared/states.js';
import { useFloorVerdict } from './due.queries.js';

/** In control or not in words, what the plant wrote to do, past fixes that may fit, and the next due check. */
export function FloorVerdict({ checkId }: { checkId: number }) {
  const { t } = useTranslation('floor');
  const query = useFloorVerdict(checkId);
  return <QueryView query={query} what={t('verdict.loading')}>{(verdict) => <Content verdict={verdict} />}</QueryView>;
}

function Content({ verdict }: { verdict: Verdict }) {
  const { t } = useTranslation('floor');
  const { control, counts, reactions, withoutReaction, pastFixes, next } = verdict;
  const out = verdict.subgroups.filter(({ status }) => status === 'signal').length;
  const words = { in: () => t('verdict.in'), out: () => t('verdict.out', { count: out }), unknown: () => t('verdict.unknown'), nothing: () => t('verdict.nothing') };
  return (
    <Stack gap="sm">
      <Text fw={600}>{words[control]()}</Text>
      {counts.map((entry) => <Text key={entry.name} fw={entry.nonconforming > 0 ? 600 : undefined}>{t(entry.nonconforming > 0 ? 'verdict.bad' : 'verdict.good', entry)}</Text>)}
      {control === 'out' ? (
        <>
          {reactions.map(({ plan }) => <ReactionSteps key={plan.id} plan={plan} />)}
          {withoutReaction.length > 0 ? <Text c="dimmed">{t('reaction.none')}</Text> : null}
          <Alert color="gray">{t('verdict.informs')}</Alert>
          <section aria-labelledby="fixes-title">
            <Title order={3} size="h5" id="fixes-title">{t('verdict.fixes')}</Title>
            {pastFixes.length === 0 ? <Text c="dimmed">{t('verdict.noFixes')}</Text> : <List>{pastFixes.map((fix) => <List.Item key={fix.noteId}><Anchor component={Link} to={`/past-fixes/${fix.noteId}`}>{fix.title}</Anchor> <Text span size="sm" c="dimmed">{t('verdict.fixOf', { id: fix.signalId })}</Text></List.Item>)}</List>}
          </section>
        </>
      ) : null}
      {next ? <NextCheck next={next} /> : null}
    </Stack>
  );
}

function NextCheck({ next }: { next: NonNullable<Verdict['next']> }) {
  const { t } = useTranslation('floor');
  const { t: ages } = useTranslation('signals');
  const format = useFormat();
  const when = [
    next.due ? t('verdict.nextNow') : null,
    !next.due && next.dueAt && next.everyMinutes !== null ? t('verdict.nextAt', { at: format.dateTime(next.dueAt), every: next.everyMinutes }) : null,
    !next.due && next.minutesLeft !== null && next.everyMinutes !== null ? t('verdict.nextIn', { left: durationOf(ages, next.minutesLeft), every: next.everyMinutes }) : null,
    !next.due && next.cansLeft !== null && next.everyCans !== null ? t('verdict.nextCans', { left: format.number(next.cansLeft, 0), every: format.number(next.everyCans, 0) }) : null,
  ].filter((part) => part !== null);
  return (
    <div>
      <Text><Text span fw={600}>{t('verdict.next')}</Text> {when.length === 0 ? t('verdict.nextNone') : when.join('; ')}</Text>
      {next.openedBy.length > 0 ? <Text size="sm">{t('verdict.nextEvents', { events: next.openedBy.map((kind) => openerWord(t, kind)).join(', ') })}</Text> : null}
      <Text size="sm" c="dimmed">{t('source', { source: next.source || t('noSource') })}</Text>
    </div>
  );
}
