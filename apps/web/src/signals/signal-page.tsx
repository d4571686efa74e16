import { Anchor, Button, Group, List, Paper, Stack, Text, Title } from '@mantine/core';
import { useTranslation } from 'react-i18next';
import { Link, useParams } from 'react-router';
import type { SignalPage as SignalView } from '#contract/signals';
import { ControlChart } from '../shared/control-chart/control-chart.js';
import { useFormat } from '../shared/format.js';
import { HoldsOf } from '../shared/holds-of.js';
import { ReactionOf } from '../shared/reaction-steps.js';
import { ageOf, placeOf, sentenceOf } from '../shared/signal-words.js';
import { NotForAuditors } from '../shared/not-for-auditors.js';
import { EmptyState, Page, QueryView } from '../shared/states.js';
import { SignalActions } from './signal-actions.js';
import { SignalEvents } from './signal-events.js';
import { SignalStateWord } from './signal-list-page.js';
import { SignalNotes } from './signal-notes.js';
import { SignalSteps } from './signal-steps.js';
import { SuspectWindow } from './suspect-window.js';
import { useSignal } from './signals.queries.js';

/** How much of the chart is shown before the pattern. */
const BEFORE_MS = 7 * 86_400_000;
const AFTER_MS = 2 * 86_400_000;

export function SignalPage() {
  const { t } = useTranslation('signals');
  const id = Number(useParams().id);
  const query = useSignal(id);
  if (!Number.isInteger(id) || id < 1) return <Page title={t('title')}><EmptyState title={t('list.filtered')} text={t('list.filteredText')} /></Page>;
  return <QueryView query={query} what={t('loadingOne')}>{(view) => <Signal key={id} view={view} />}</QueryView>;
}

function Signal({ view }: { view: SignalView }) {
  const { t } = useTranslation('signals');
  const format = useFormat();
  const { t: traces } = useTranslation('traces');
  const { signal, window } = view;
  const from = new Date(new Date(window.from ?? signal.firstAt).getTime() - BEFORE_MS).toISOString();
  const to = window.untilBasis === 'now' ? undefined : new Date(new Date(window.until).getTime() + AFTER_MS).toISOString();
  return (
    <Page title={placeOf(t, signal.stream)} actions={<NotForAuditors><Button component={Link} to={`/signals/${signal.id}/trace`} size="md">{traces('to')}</Button></NotForAuditors>}>
      <Paper withBorder p="md" component="section">
        <Stack gap="xs">
          <Group><SignalStateWord state={signal.state} /></Group>
          <Text size="xl" fw={600}>{sentenceOf(t, format, signal)}</Text>
          <Facts view={view} />
        </Stack>
      </Paper>
      <NotForAuditors><ReactionOf streamId={signal.stream.id} /></NotForAuditors>
      <SignalActions view={view} />
      <SuspectWindow view={view} />
      <NotForAuditors><HoldsOf of={{ signalId: signal.id }} place={{ lineId: signal.stream.line.id, machineId: signal.stream.machine.id, unitId: signal.stream.unit?.id ?? null, laneId: signal.stream.lane?.id ?? null, from: window.from ?? signal.firstAt, until: window.until }} /></NotForAuditors>
      <OneOrAll view={view} />
      <Paper withBorder p="md" component="section">
        <Group justify="space-between"><Title order={2} size="h4">{t('chart.title')}</Title><Anchor component={Link} to={`/charts?stream=${signal.stream.id}`}>{t('chart.open')}</Anchor></Group>
        <ControlChart streamId={signal.stream.id} from={from} to={to} height={360} />
      </Paper>
      <NotForAuditors><SignalEvents view={view} /></NotForAuditors>
      <NotForAuditors><SignalNotes view={view} /></NotForAuditors>
      <Paper withBorder p="md" component="section">
        <Title order={2} size="h4">{t('incidents.title')}</Title>
        {view.incidents.length === 0 ? <Text c="dimmed">{t('incidents.none')}</Text> : (
          <List listStyleType="none">{view.incidents.map(({ id, defect, customer, receivedAt, state }) => (
            <List.Item key={id}><Anchor component={Link} to={`/incidents/${id}`}>{t('incidents.entry', { id, defect, customer, at: format.date(receivedAt) })}</Anchor> <Text span c="dimmed">{state === 'closed' ? t('incidents.closed') : t('incidents.open')}</Text></List.Item>
          ))}</List>
        )}
      </Paper>
      <SignalSteps steps={view.steps} />
    </Page>
  );
}

function Facts({ view: { signal } }: { view: SignalView }) {
  const { t } = useTranslation('signals');
  const format = useFormat();
  const age = ageOf(signal.ageMinutes);
  const { product, line } = signal.stream;
  return (
    <>
      <Text>{t('facts.since', { first: format.dateTime(signal.firstAt), fired: format.dateTime(signal.firedAt) })} {t('facts.grew', { count: signal.firings, last: format.dateTime(signal.lastAt) })}</Text>
      <Text>{signal.closedAt ? t('facts.closedAfter', { at: format.dateTime(signal.closedAt), age: t(age.key, age.values) }) : t('facts.age', { age: t(age.key, age.values) })} {signal.assignee ? t('facts.taken', { name: signal.assignee.name }) : t('facts.notTaken')}</Text>
      <Text c="dimmed">{t('facts.product', { code: product.code, name: product.name, line: line.code })}</Text>
      {signal.cause ? <Text fw={600}>{t('facts.cause', { cause: signal.cause })}</Text> : null}
      {signal.together.length > 0 ? (
        <Group gap="sm"><Text>{t('facts.together')}</Text>{signal.together.slice(0, 12).map((id) => <Anchor key={id} component={Link} to={`/signals/${id}`}>{t('facts.one', { id })}</Anchor>)}</Group>
      ) : null}
    </>
  );
}

/** One head or all heads: the first question at every signal, answered by plain counts. */
function OneOrAll({ view }: { view: SignalView }) {
  const { t } = useTranslation('signals');
  const groups = (['units', 'lanes', 'machines'] as const).filter((name) => view[name].of > 1);
  if (groups.length === 0) return null;
  return (
    <Paper withBorder p="md" component="section">
      <Title order={2} size="h4">{t('spread.title')}</Title>
      {groups.map((name) => <Text key={name}>{t(`spread.${name}`, { hit: view[name].signalled.length, of: view[name].of, names: view[name].signalled.join(', ') || t('spread.none') })}</Text>)}
      <Text c="dimmed" size="sm">{t('spread.hint')}</Text>
    </Paper>
  );
}
