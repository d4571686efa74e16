import { Alert, Button, Grid, Stack, Text } from '@mantine/core';
import { type ReactNode, useState } from 'react';
import { useTranslation } from 'react-i18next';
import { Link, useParams } from 'react-router';
import type { Trace, TraceOrigin } from '#contract/traces';
import { useFormat } from '../shared/format.js';
import { Page, QueryView } from '../shared/states.js';
import { WeldPositionsOfSpan } from '../shared/weld-positions.js';
import { ActOnOrigin } from './act-on-origin.js';
import { BesideRanking } from './beside-ranking.js';
import { KeptTraces } from './kept-traces.js';
import { LotsTable } from './lots-table.js';
import { Ranking } from './ranking.js';
import { Timeline } from './timeline.js';
import { subjectPath, type TraceSubject } from './trace-subject.js';
import { useTrace } from './traces.queries.js';
import { WindowsTable } from './windows-table.js';

const [FIRST_ASKED, ALL] = [10, 500];

export function TracePage() {
  return <TraceOf subject={{ kind: 'incident', id: Number(useParams()['id']) }} />;
}

/** A ranking that goes with the records: the likeliest places and what helped before, when the cans passed, everything on one timeline. */
export function TraceOf({ subject, defect, head }: { subject: TraceSubject; defect?: string | undefined; head?: (trace: Trace) => ReactNode }) {
  const { t } = useTranslation('traces');
  const [take, setTake] = useState(FIRST_ASKED);
  // As it was seen: the ranking goes on behind the dialog.
  const [acting, setActing] = useState<{ origin: TraceOrigin; place: number }>();
  const query = useTrace(subject, { take, defect });
  return (
    <Page title={t(`title.${subject.kind}`, { id: subject.id })} actions={<Button component={Link} to={subjectPath(subject)} variant="default" size="md">{t(`back.${subject.kind}`)}</Button>}>
      <QueryView query={query} what={t('loading')}>{(trace) => (
          <Stack gap="xl">
            <Alert color="gray">{t('caution')}{trace.caution ? <Text pt="xs">{trace.caution}</Text> : null}</Alert>
            {head?.(trace)}
            <Grid gap="xl">
              <Grid.Col span={{ base: 12, lg: 8 }}><Ranking trace={trace} subject={subject} onAct={(origin, place) => setActing({ origin, place })} onAll={() => setTake(ALL)} /></Grid.Col>
              <Grid.Col span={{ base: 12, lg: 4 }}><BesideRanking subject={subject} /></Grid.Col>
            </Grid>
            <WindowsTable trace={trace} />
            {trace.windows.filter(({ stepKind }) => stepKind === 'body-maker').map((welded) => <WeldPositionsOfSpan key={welded.stepId} machines={welded.machines} from={welded.from} until={welded.until} />)}
            <LotsTable trace={trace} />
            <Timeline subject={subject} trace={trace} />
            <KeptTraces subject={subject} />
            <TraceFoot trace={trace} />
            {acting ? <ActOnOrigin subject={subject} defect={defect} trace={trace} acting={acting} onClose={() => setActing(undefined)} /> : null}
          </Stack>
      )}</QueryView>
    </Page>
  );
}

/** When and from what it was computed. */
export function TraceFoot({ trace }: { trace: Trace }) {
  const { t } = useTranslation('traces');
  const format = useFormat();
  const { t: weights } = useTranslation('originWeights');
  const used = trace.weights ? weights('used.plant', { version: trace.weights.version, defect: trace.defect?.name ?? '', author: trace.weights.author, at: format.dateTime(trace.weights.at) }) : weights('used.trade');
  return <Text c="dimmed">{t('as', { at: format.dateTime(trace.asOf), from: format.dateTime(trace.recordsFrom), until: format.dateTime(trace.recordsUntil) })} {used}</Text>;
}
