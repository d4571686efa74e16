import { Alert, Button, Group, List, Stack, Text, Title } from '@mantine/core';
import { useState } from 'react';
import { useTranslation } from 'react-i18next';
import { Link, useParams } from 'react-router';
import type { Trace } from '#contract/traces';
import { useFormat } from '../shared/format.js';
import { EmptyState, Page, QueryView } from '../shared/states.js';
import { ActOnOrigin } from './act-on-origin.js';
import { OriginCard } from './origin-card.js';
import { Timeline } from './timeline.js';
import { useKept, useTrace } from './traces.queries.js';
import { WindowsTable } from './windows-table.js';

export function TracePage() {
  const { t } = useTranslation('traces');
  const id = Number(useParams()['id']);
  return (
    <Page title={t('title', { id })} actions={<Button component={Link} to={`/incidents/${id}`} variant="default" size="md">{t('back')}</Button>}>
      <QueryView query={useTrace(id)} what={t('loading')}>{(trace) => <Shown incidentId={id} trace={trace} />}</QueryView>
    </Page>
  );
}

const FIRST = 3;
/** Below this share no place is named as the likely one. */
const STANDS_OUT = 0.4;

/** The likeliest places first, then when the cans passed each step, then everything on one timeline. */
function Shown({ incidentId, trace }: { incidentId: number; trace: Trace }) {
  const { t } = useTranslation('traces');
  const format = useFormat();
  const [all, setAll] = useState(false);
  const [acting, setActing] = useState<number>();
  const chosen = acting === undefined ? undefined : trace.origins[acting];
  const best = trace.origins[0];
  return (
    <Stack gap="xl">
      <Alert color="gray">{t('caution')}{trace.caution ? <Text pt="xs">{trace.caution}</Text> : null}</Alert>
      <section>
        <Title order={2} size="h4" pb="xs">{t('origins')}</Title>
        <Stack gap="md">
          {best && best.share < STANDS_OUT ? <Text role="status">{t('undecided', { percent: Math.round(best.share * 100) })}</Text> : null}
          {trace.origins.slice(0, all ? undefined : FIRST).map((origin, place) => <OriginCard key={[origin.machine.id, origin.unit?.id, origin.lane?.id, origin.pattern].join(' ')} origin={origin} place={place} trace={trace} incidentId={incidentId} onAct={() => setActing(place)} />)}
          <Group><Button variant="default" size="md" onClick={() => setAll(!all)}>{all ? t('fewer') : t('more')}</Button><Text c="dimmed">{t('others', { percent: Math.round(trace.others * 100) })}</Text></Group>
        </Stack>
      </section>
      <WindowsTable trace={trace} />
      <Timeline incidentId={incidentId} trace={trace} />
      <KeptTraces incidentId={incidentId} />
      <Text c="dimmed">{t('as', { at: format.dateTime(trace.asOf), from: format.dateTime(trace.recordsFrom), until: format.dateTime(trace.recordsUntil) })}</Text>
      {chosen !== undefined && acting !== undefined ? <ActOnOrigin incidentId={incidentId} origin={chosen} place={acting} onClose={() => setActing(undefined)} /> : null}
    </Stack>
  );
}

function KeptTraces({ incidentId }: { incidentId: number }) {
  const { t } = useTranslation('traces');
  const format = useFormat();
  return (
    <section>
      <Title order={2} size="h4" pb="xs">{t('act.keptTitle')}</Title>
      <QueryView query={useKept(incidentId)} what={t('act.keptTitle')} isEmpty={({ traces }) => traces.length === 0} empty={<EmptyState title={t('act.noneKept')} text={t('act.hint')} />}>
        {({ traces }) => <List spacing="xs">{traces.map((kept) => <List.Item key={kept.id}>{t('act.kept', { at: format.dateTime(kept.keptAt), who: kept.actor, where: kept.origin ?? t('act.whole'), comment: kept.comment })} <Text span c="dimmed">{t('act.software', { software: kept.software })}</Text></List.Item>)}</List>}
      </QueryView>
    </section>
  );
}
